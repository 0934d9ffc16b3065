//! strips.csv: what is in the rack.

use super::cell::Cell;
use super::complaint::Found;
use super::table::{Form, Need, Row, Rows, each_row};
use super::{colours, defects, sisters};
use crate::stock::natural;
use crate::stock::{BoardId, Defect, Origin, Stock, Strip, StripId};
use crate::units::{Colour, Length, Unit};
use std::collections::BTreeMap;

pub(super) const FILE: &str = "strips.csv";

const FORM: Form = Form {
    file: FILE,
    columns: &[
        ("strip", Need::Required),
        ("board", Need::Required),
        ("seq", Need::Required),
        ("length", Need::Required),
        ("width", Need::Optional),
        ("thickness", Need::Optional),
        ("colour", Need::Required),
        ("grain", Need::Optional),
        ("sister", Need::Optional),
        ("defects", Need::Optional),
        ("notes", Need::Optional),
    ],
    rows: Rows::AtLeastOne,
};

/// What a strip of this job should measure.
#[derive(Clone, Copy)]
pub(super) struct Size {
    pub(super) width: Length,
    pub(super) thickness: Length,
}

/// What strips.csv is read against; what could not be read itself is `None`.
pub(super) struct Against {
    pub(super) unit: Unit,
    pub(super) size: Option<Size>,
    /// The longest course, along the skin.
    pub(super) longest: Option<Length>,
}

/// A strip that is narrower or thinner by more than this can't be laid with the others. Unit: mm. Common practice, no
/// source: what sanding a hull takes off anyway.
const CULL_MM: f64 = 0.5;

/// A strip longer than this, or than so many of the longest course, is most likely a slip of units; a shorter one than
/// the last too. Units: metre, times, metre. Common practice, no source: no saw mill sells longer boards.
const LONG_M: f64 = 15.0;
const LONG_TIMES: f64 = 4.0;
const SHORT_M: f64 = 0.1;

/// A strip as its row says, before boards and sisters are looked up.
pub(super) struct Sheet {
    pub(super) rows: Vec<StripRow>,
    /// Every name in the file with its line, also of rows that could not be read.
    pub(super) named: BTreeMap<String, usize>,
    /// Whether a row could not be read far enough to know its name.
    pub(super) nameless: bool,
}

/// One row.
pub(super) struct StripRow {
    pub(super) line: usize,
    pub(super) name: String,
    pub(super) origin: Option<(String, u32)>,
    /// Whether board and seq could be read, also where both are empty.
    pub(super) origin_read: bool,
    /// The name under `sister`; empty where none is named.
    pub(super) sister: String,
    length: Option<Length>,
    width: Option<Length>,
    thickness: Option<Length>,
    colour: Option<Colour>,
    grain: String,
    defects: Vec<Defect>,
    notes: String,
    cull: bool,
}

/// Reads strips.csv.
pub(super) fn read(bytes: &[u8], against: &Against, found: &mut Found) -> Stock {
    let mut sheet = Sheet {
        rows: Vec::new(),
        named: BTreeMap::new(),
        nameless: false,
    };
    each_row(&FORM, bytes, against.unit, found, |row, found| {
        strip(row, against, &mut sheet, found);
    });
    complain_of_seqs(&sheet, found);
    sisters::complain(&sheet, found);
    stock(sheet.rows)
}

fn strip(row: &Row<'_>, against: &Against, sheet: &mut Sheet, found: &mut Found) {
    let cell = row.cell("strip");
    if cell.is_empty() {
        cell.complain(found, "is empty", "Give every strip a name of its own.");
        sheet.nameless = true;
    } else if let Some(first) = sheet.named.get(cell.text) {
        cell.complain(
            found,
            format!("is there twice: line {first} has a strip of this name"),
            "Give every strip a name of its own.",
        );
        return;
    } else {
        sheet.named.insert(cell.text.to_owned(), row.line);
    }
    if !row.sound {
        return;
    }
    let (origin, origin_read) = origin(row, found);
    let length = row.cell("length").positive_length(found);
    if let Some(length) = length {
        look_at_length(&row.cell("length"), length, against, found);
    }
    let mut cull = false;
    let wanted = (
        against.size.map(|s| s.width),
        against.size.map(|s| s.thickness),
    );
    let width = across(&row.cell("width"), wanted.0, &mut cull, found);
    let thickness = across(&row.cell("thickness"), wanted.1, &mut cull, found);
    sheet.rows.push(StripRow {
        line: row.line,
        name: cell.text.to_owned(),
        origin,
        origin_read,
        sister: row.cell("sister").text.to_owned(),
        length,
        width,
        thickness,
        colour: colours::read(&row.cell("colour"), found),
        grain: row.cell("grain").text.to_owned(),
        defects: defects::read(&row.cell("defects"), length, found),
        notes: row.cell("notes").text.to_owned(),
        cull,
    });
}

/// Board and seq, and whether they could be read.
fn origin(row: &Row<'_>, found: &mut Found) -> (Option<(String, u32)>, bool) {
    let (board, seq) = (row.cell("board"), row.cell("seq"));
    match (board.is_empty(), seq.is_empty()) {
        (true, true) => (None, !board.silent && !seq.silent),
        (true, false) => {
            board.complain(
                found,
                format!("is empty, but seq is \"{}\"", seq.text),
                "Write the board, or empty both for a stray.",
            );
            (None, false)
        }
        (false, true) => {
            seq.complain(
                found,
                format!("is empty, but board is \"{}\"", board.text),
                "Write the strip's place in the board, 1, 2, 3 and so on, or empty both for a stray.",
            );
            (None, false)
        }
        (false, false) => match seq.counted(found) {
            Some(number) => (Some((board.text.to_owned(), number)), true),
            None => (None, false),
        },
    }
}

fn look_at_length(cell: &Cell<'_>, length: Length, against: &Against, found: &mut Found) {
    let unit = cell.unit;
    let mend = format!(
        "Bare numbers are in {}; write the unit behind a number in another.",
        unit.name()
    );
    if length.metres() > LONG_M {
        let wrong = format!("is {:.2} m, most likely a slip of units", length.metres());
        cell.warn(found, wrong, mend);
    } else if let Some(longest) = against.longest.filter(|l| length > *l * LONG_TIMES) {
        let wrong = format!(
            "is {:.2} m, more than {LONG_TIMES} times the longest course, {:.2} m: most likely a slip of units",
            length.metres(),
            longest.metres()
        );
        cell.warn(found, wrong, mend);
    } else if length.metres() < SHORT_M {
        let wrong = format!("is only {:.1} mm, most likely a slip of units", length.mm());
        cell.warn(found, wrong, mend);
    }
}

/// A measured width or thickness; marks a cull where it falls short.
fn across(
    cell: &Cell<'_>,
    wanted: Option<Length>,
    cull: &mut bool,
    found: &mut Found,
) -> Option<Length> {
    if cell.is_empty() {
        return None;
    }
    let measured = cell.positive_length(found)?;
    if let Some(wanted) = wanted.filter(|w| measured + Length::from_mm(CULL_MM) < *w) {
        *cull = true;
        cell.warn(
            found,
            format!(
                "is more than {CULL_MM} mm less than the {} mm of boat.toml, so nothing is cut from this strip",
                wanted.mm()
            ),
            "Measure again, or leave it out of the rack.",
        );
    }
    Some(measured)
}

fn complain_of_seqs(sheet: &Sheet, found: &mut Found) {
    let mut first: BTreeMap<(&str, u32), &StripRow> = BTreeMap::new();
    for row in &sheet.rows {
        let Some((board, seq)) = &row.origin else {
            continue;
        };
        if let Some(earlier) = first.get(&(board.as_str(), *seq)) {
            found.complaints.push(row.complaint(
                "seq",
                &seq.to_string(),
                format!(
                    "is there twice in board \"{board}\": strip {} in line {} has it",
                    earlier.name, earlier.line
                ),
                "Number the slices of a board 1, 2, 3 and so on as they came off.",
            ));
        } else {
            first.insert((board, *seq), row);
        }
    }
}

/// Sorts strips and boards by name, so that the order of rows plays no part. Called also when there are complaints:
/// what could not be read is left out then, and the result is thrown away.
fn stock(mut rows: Vec<StripRow>) -> Stock {
    rows.sort_by(|one, other| natural(&one.name, &other.name));
    let mut boards: Vec<String> = rows
        .iter()
        .filter_map(|row| row.origin.as_ref().map(|(board, _)| board.clone()))
        .collect();
    boards.sort_by(|one, other| natural(one, other));
    boards.dedup();
    let board_ids: BTreeMap<&str, BoardId> = boards
        .iter()
        .enumerate()
        .map(|(i, name)| (name.as_str(), BoardId(i)))
        .collect();
    let strip_ids: BTreeMap<String, StripId> = rows
        .iter()
        .enumerate()
        .map(|(i, row)| (row.name.clone(), StripId(i)))
        .collect();
    let strips = rows
        .into_iter()
        .filter_map(|row| {
            Some(Strip {
                origin: row.origin.and_then(|(board, seq)| {
                    let board = *board_ids.get(board.as_str())?;
                    Some(Origin { board, seq })
                }),
                length: row.length?,
                width: row.width,
                thickness: row.thickness,
                colour: row.colour?,
                grain: row.grain,
                sister: strip_ids.get(&row.sister).copied(),
                defects: row.defects,
                notes: row.notes,
                cull: row.cull,
                name: row.name,
            })
        })
        .collect();
    Stock { boards, strips }
}
