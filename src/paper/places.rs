//! Where on which page each label goes.

use super::PALE;
use super::label::Room;
use crate::draw::scene::{Item, Line, Outline, Rect, Shape, Stroke};
use crate::job::{Grid, Page};
use crate::plan::Rules;

/// Blank edge within a label. Unit: mm. Why: sheets shift in the printer, and makes differ by some tenths.
const INSET: f64 = 1.5;
/// What many printers leave blank along the edges of a page. Unit: mm; common practice, no source: 3 to 6.
const UNPRINTED: f64 = 5.0;

/// Labels on sheets.
pub fn on_sheet(grid: &Grid, place: usize) -> Room {
    let (column, row) = (place % grid.columns, place / grid.columns);
    let label = Rect {
        x: grid.left.mm() + column as f64 * grid.pitch_x.mm(),
        y: grid.top.mm() + row as f64 * grid.pitch_y.mm(),
        w: grid.width.mm(),
        h: grid.height.mm(),
    };
    let inner = label.inset(INSET);
    Room {
        label,
        safe: Rect::between(
            inner.x.max(UNPRINTED),
            inner.y.max(UNPRINTED),
            inner.right().min(grid.page.width.mm() - UNPRINTED),
            inner.bottom().min(grid.page.height.mm() - UNPRINTED),
        ),
    }
}

/// A label on tape, the page being the label.
pub fn on_tape(width: f64, length: f64) -> Room {
    let label = Rect {
        x: 0.0,
        y: 0.0,
        w: length,
        h: width,
    };
    // Tape printers leave a little blank along both edges.
    Room {
        label,
        safe: label.inset(INSET.min(width * 0.08)),
    }
}

/// A flag on plain paper: two faces with a spine between them that lies over the end of the strip.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Flag {
    /// Height: a little less than the strip is wide.
    pub high: f64,
    /// Width of a face.
    pub face: f64,
    /// Width of the spine: what the strip is thick.
    pub spine: f64,
}

/// Width of a face of a flag. Unit: mm.
const FACE: f64 = 62.0;
/// Between two flags.
const APART: f64 = 3.0;
/// A flag is at least so high, or nothing could be read on it. Unit: mm.
const LOWEST: f64 = 12.0;

impl Flag {
    /// The flag for strips of this boat.
    pub fn of(rules: &Rules) -> Flag {
        Flag {
            high: (rules.width.mm() - 1.0).clamp(LOWEST, 40.0),
            face: FACE,
            spine: rules.thickness.mm(),
        }
    }

    /// Its width, unfolded.
    pub fn wide(self) -> f64 {
        2.0 * self.face + self.spine
    }

    /// Flags on a page: columns and rows.
    pub fn many(self, page: Page) -> (usize, usize) {
        let fit = |room: f64, one: f64| ((room + APART) / (one + APART)).floor().max(1.0) as usize;
        (
            fit(page.width.mm() - 2.0 * UNPRINTED, self.wide()),
            fit(page.height.mm() - 2.0 * UNPRINTED, self.high),
        )
    }

    /// Where the flag at this place lies.
    pub fn area(self, page: Page, place: usize) -> Rect {
        let columns = self.many(page).0;
        let (column, row) = (place % columns, place / columns);
        Rect {
            x: UNPRINTED + column as f64 * (self.wide() + APART),
            y: UNPRINTED + row as f64 * (self.high + APART),
            w: self.wide(),
            h: self.high,
        }
    }

    /// The left and the right face of a flag.
    pub fn faces(self, area: Rect) -> [Room; 2] {
        [area.x, area.x + self.face + self.spine].map(|x| {
            let label = Rect {
                x,
                w: self.face,
                ..area
            };
            Room {
                label,
                safe: label.inset(0.8),
            }
        })
    }

    /// Where to cut and where to fold.
    pub fn lines(self, area: Rect) -> Vec<Item> {
        let fold = Line {
            ink: PALE,
            width: 0.2,
            stroke: Stroke::Broken(1.2, 1.2),
        };
        let upright = |x: f64| Outline::Straight((x, area.y), (x, area.bottom()));
        vec![
            Shape::drawn(area.outline(), Line::whole(PALE, 0.15)),
            Shape::drawn(upright(area.x + self.face), fold),
            Shape::drawn(upright(area.x + self.face + self.spine), fold),
        ]
    }
}
