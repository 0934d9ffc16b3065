//! A code that a telephone reads: the name of the strip and nothing else, so that it stays right whatever the plan.

use crate::draw::scene::Rect;
use fast_qr::ECL;
use fast_qr::qr::QRBuilder;

/// Blank cells on all four sides. Source: ISO/IEC 18004, quiet zone.
const QUIET: usize = 4;
/// The smallest cell that is printed. Unit: mm; four dots of a printer of 300 dots in an inch.
const LEAST: f64 = 0.33;

/// The dark cells of a code for the text, its quiet zone filling the square at this corner; `None` where a cell would
/// be too small to be read.
pub fn cells(text: &str, (x, y): (f64, f64), side: f64) -> Option<Vec<Rect>> {
    // Medium first: a label on a bench gets dirty.
    [ECL::M, ECL::L].into_iter().find_map(|level| {
        let code = QRBuilder::new(text).ecl(level).build().ok()?;
        let many = code.size + 2 * QUIET;
        let cell = side / many as f64;
        (cell >= LEAST).then(|| {
            let at = |n: usize| (n + QUIET) as f64 * cell;
            let mut runs = Vec::new();
            for row in 0..code.size {
                let dark = |column: usize| column < code.size && code[row][column].value();
                let mut column = 0;
                while column < code.size {
                    let from = column;
                    while dark(column) {
                        column += 1;
                    }
                    if column > from {
                        let (left, top) = (x + at(from), y + at(row));
                        runs.push(Rect::between(left, top, x + at(column), top + cell));
                    }
                    column += 1;
                }
            }
            runs
        })
    })
}
