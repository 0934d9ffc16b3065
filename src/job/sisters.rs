//! Sisters that are named must name each other, and must have shared a saw cut.

use super::complaint::Complaint;
use super::found::Found;
use super::nearest::nearest;
use super::rack::{Rack, StripRow};
use std::collections::BTreeMap;

/// How many unknown sisters the nearest name is looked for: few are told, and in a big rack each look takes its time.
const HINTS: usize = 20;

/// Leaves a complaint for every named sister that can't be one.
pub(super) fn complain(rack: &Rack, found: &mut Found) {
    let rows: BTreeMap<&str, &StripRow> = rack
        .rows
        .iter()
        .map(|row| (row.name.as_str(), row))
        .collect();
    let mut unknown = 0;
    for row in rack.rows.iter().filter(|row| !row.sister.is_empty()) {
        let complaint =
            |wrong: String, mend: String| row.complaint("sister", &row.sister, wrong, mend);
        let Some(sister) = rows.get(row.sister.as_str()) else {
            // A row that is there but could not be read has its own complaint.
            if !rack.named.contains_key(&row.sister) && !rack.nameless {
                unknown += 1;
                let near = (unknown <= HINTS)
                    .then(|| nearest(&row.sister, rows.keys().copied()))
                    .flatten();
                let mend = match near {
                    Some(like) => format!("Did you mean \"{like}\"? Leave it empty to go by seq."),
                    None => {
                        "Write the name of a strip in the rack, or leave it empty to go by seq."
                            .into()
                    }
                };
                found.complain(complaint("is not a strip in the rack".into(), mend));
            }
            continue;
        };
        if sister.name == row.name {
            found.complain(complaint(
                "is the strip itself".into(),
                "Name the slice that shared its saw cut, or leave it empty to go by seq.".into(),
            ));
            continue;
        }
        if sister.sister != row.name {
            found.complain(does_not_name_back(row, sister));
        }
        if !row.origin_read || !sister.origin_read {
            continue;
        }
        match (&row.origin, &sister.origin) {
            (Some((board, seq)), Some((board_of_sister, seq_of_sister))) => {
                if board != board_of_sister {
                    found.complain(complaint(
                        format!("comes from another board, \"{board_of_sister}\", where this strip is from \
                            \"{board}\""),
                        "Sisters are slices of one board: mend the board, or the sister.".into(),
                    ));
                } else if seq.abs_diff(*seq_of_sister) != 1 && row.name < sister.name {
                    found.warn(complaint(
                        format!(
                            "is {} slices away in seq, where sisters are neighbours",
                            seq.abs_diff(*seq_of_sister)
                        ),
                        "Look at the seq of both.".into(),
                    ));
                }
            }
            (None, _) => found.complain(complaint(
                "is named by a stray, whose board is not known".into(),
                "Give board and seq, or leave sister empty.".into(),
            )),
            (_, None) => found.complain(complaint(
                "is a stray, whose board is not known".into(),
                "Give its board and seq, or leave sister empty.".into(),
            )),
        }
    }
}

fn does_not_name_back(row: &StripRow, sister: &StripRow) -> Complaint {
    let wrong = if sister.sister.is_empty() {
        format!(
            "does not name {} back: its own sister, in {}, is empty",
            row.name,
            sister.seen_from(row)
        )
    } else {
        format!(
            "does not name {} back: in {} it names {}",
            row.name,
            sister.seen_from(row),
            sister.sister
        )
    };
    row.complaint(
        "sister",
        &row.sister,
        wrong,
        format!(
            "Let {} and {} name each other, or leave both empty to go by seq.",
            row.name, sister.name
        ),
    )
}
