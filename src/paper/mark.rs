//! The side mark, filled, for print in one colour: the shape alone tells the side, and the letter once more.
//!
//! Source of the shapes: IALA Maritime Buoyage System, lateral marks (port: can; starboard: cone, point up; the same in
//! both regions). The circle for the centreline is our own.

use super::{BLACK, WHITE};
use crate::draw::scene::{Group, Item, Outline, Point, Rect, Set, Shape, Text};
use crate::draw::typeface::CAPITAL;
use crate::hull::Side;

/// How wide the room for a mark is, as a part of its height.
pub const WIDE: f64 = 1.2;

/// P in a square, S in a triangle with its point up, C in a circle, its middle at the point.
pub fn mark(side: Side, (x, y): Point, height: f64) -> Item {
    let half = height / 2.0;
    let (shape, size, base) = match side {
        Side::Port => {
            let square = Rect::between(x - half, y - half, x + half, y + half);
            let size = 0.86 * height;
            (square.outline(), size, y + size * CAPITAL / 2.0)
        }
        Side::Starboard => {
            let foot = height * WIDE / 2.0;
            let cone = vec![(x, y - half), (x + foot, y + half), (x - foot, y + half)];
            // The letter stands near the foot, where the triangle is wide enough for it.
            (Outline::Closed(cone), 0.62 * height, y + 0.38 * height)
        }
        Side::Centre => {
            let size = 0.74 * height;
            let disc = Outline::Circle((x, y), half);
            (disc, size, y + size * CAPITAL / 2.0)
        }
    };
    let letter = Text::new(side.letter(), (x, base), size, WHITE)
        .set(Set::Middle)
        .bold();
    Item::Group(Group {
        kind: "mark",
        facts: vec![("side", side.name().into())],
        told: None,
        items: vec![Shape::filled(shape, BLACK), letter.into()],
    })
}
