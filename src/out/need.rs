//! out/need.csv: how much wood, as a table to take to the yard.

use super::{Fault, sheet};
use crate::job::Lines;
use crate::lines::{Boards, Need};
use crate::units::Length;

/// The bytes of the table: running lengths, pairs by length class, boards by size. Source of the columns: the formats,
/// out/need.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn need_csv(lines: &Lines, need: &Need, boards: &[Boards]) -> Result<Vec<u8>, Fault> {
    let length = |length: Length| lines.unit.exact(length);
    let row = |what: &str, size: String, count: String, unit: &str| {
        vec![what.to_owned(), size, count, unit.to_owned()]
    };
    let unit = lines.unit.name();
    let milled = length(lines.rules.width + lines.overlap);
    let mut rows = vec![
        row("width of a strip as milled", String::new(), milled, unit),
        row("strip on the boat", String::new(), length(need.net), unit),
        row(
            "strip with end allowances",
            String::new(),
            length(need.with_ends),
            unit,
        ),
    ];
    for (class, (pairs, singles)) in &need.classes {
        for (what, count) in [("pairs up to", pairs), ("single strips up to", singles)] {
            if *count > 0 {
                rows.push(row(what, length(*class), count.to_string(), "pieces"));
            }
        }
    }
    for of_size in boards {
        let size = format!(
            "{} x {}",
            length(of_size.size.length),
            length(of_size.size.width)
        );
        let counts = [
            ("boards, margin included", of_size.boards, "boards"),
            ("slices of a board", Some(of_size.slices), "strips"),
            (
                "pairs to saw, margin included",
                Some(of_size.pairs),
                "pairs",
            ),
            (
                "single strips to saw, margin included",
                Some(of_size.singles),
                "strips",
            ),
            ("joints", Some(of_size.joints), "joints"),
        ];
        for (what, count, unit) in counts {
            if let Some(count) = count {
                rows.push(row(what, size.clone(), count.to_string(), unit));
            }
        }
    }
    sheet("out/need.csv", &["what", "size", "count", "unit"], rows)
}
