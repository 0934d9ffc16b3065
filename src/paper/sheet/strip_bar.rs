//! A strip drawn from its marked end to its plain end: its pieces, its defects, and where it is cut.

use crate::draw::scene::{Hatch, Ink, Item, Line, Outline, Rect, Set, Shape, Text, Weight};
use crate::draw::typeface::{CAPITAL, measured};
use crate::job::Job;
use crate::paper::facts;
use crate::paper::{BLACK, GREY, WHITE};
use crate::plan::Piece;
use crate::stock::Strip;
use crate::units::U;

/// Height of the strip. Unit: mm of paper.
pub const HIGH: f64 = 6.0;

/// The filling of a piece: light enough for black words on a copy.
const PIECE: Ink = Ink([232; 3]);
/// The filling of what is not to be used.
const SPARED: Ink = Ink([168; 3]);

/// The strip with its upper edge at `top`, as long as the paper's part for each mm of it.
pub fn strip_bar(job: &Job, strip: &Strip, pieces: &[&Piece], top: f64, per_mm: f64) -> Vec<Item> {
    let x = |u: U| u.mm() * per_mm;
    let bottom = top + HIGH;
    let whole = Rect::between(0.0, top, strip.length.mm() * per_mm, bottom);
    let edge = Line::whole(GREY, 0.2);
    let mut items = vec![Shape::outlined(whole.outline(), WHITE, edge)];
    // Ends that are not used, and what is kept clear beside defects.
    for barred in job.rules.allow.barred(strip.length, &strip.defects, &[]) {
        let area = Rect::between(x(barred.from), top, x(barred.to), bottom);
        items.push(Shape::filled(area.outline(), SPARED));
    }
    for defect in &strip.defects {
        // A check right across has no length, but must be seen.
        let (from, to) = (x(defect.from), x(defect.to).max(x(defect.from) + 0.8));
        let area = Rect::between(from, top, to, bottom);
        items.push(Item::Hatch(Hatch {
            area,
            spacing: 1.0,
            line: Line::whole(BLACK, 0.2),
        }));
    }
    // What the saw took: a cut that was made.
    for kerf in &strip.kerfs {
        let at = Outline::Straight((x(kerf.from), top - 0.8), (x(kerf.from), bottom + 0.8));
        items.push(Shape::drawn(at, Line::whole(BLACK, 0.5)));
    }
    for piece in pieces {
        let area = Rect::between(x(piece.cut_from), top, x(piece.cut_to), bottom);
        items.push(Shape::outlined(
            area.outline(),
            PIECE,
            Line::whole(BLACK, 0.4),
        ));
        let words = facts::side_and_place(job, piece);
        let size = 3.4;
        if measured(&words, size, Weight::Bold) + 2.0 <= area.w {
            let at = (area.x + area.w / 2.0, top + (HIGH + size * CAPITAL) / 2.0);
            items.push(
                Text::new(words, at, size, BLACK)
                    .set(Set::Middle)
                    .bold()
                    .into(),
            );
        }
    }
    // The mark across the marked end.
    let mark = Outline::Closed(vec![(0.0, top), (1.6, top), (0.0, bottom)]);
    items.push(Shape::filled(mark, BLACK));
    items
}
