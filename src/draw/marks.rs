//! The side mark: a letter in a shape, so that it survives pencil, grey print and eyes that don't tell red from green.
//!
//! Source of the shapes and colours: IALA Maritime Buoyage System, lateral marks (port: can; starboard: cone, point up;
//! the shapes hold in both regions); of red to port and green to starboard: COLREGS 1972, rule 21(b).

use super::ink;
use super::scene::{Group, Ink, Item, Line, Outline, Point, Rect, Set, Shape, Text};
use crate::hull::Side;

/// How wide the mark is, as a part of its height.
pub const WIDE: f64 = 1.4;
/// The letter's type, as a part of the height of the mark. Why the same in all three: none should be harder to read.
const LETTER: f64 = 0.72;

/// The mark of a side: P in a square, S in a triangle with its point up, C in a circle.
///
/// `height` is that of the shape.
pub fn mark(side: Side, (x, y): Point, height: f64) -> Item {
    let half = height / 2.0;
    let (shape, ink, base) = match side {
        Side::Port => {
            let square = Rect::between(x - half, y - half, x + half, y + half);
            (square.outline(), ink::RED, y + LETTER * height * 0.36)
        }
        Side::Starboard => {
            let foot = height * WIDE / 2.0;
            let cone = vec![(x, y - half), (x + foot, y + half), (x - foot, y + half)];
            // The letter stands on the foot of the triangle, where it is wide.
            (Outline::Closed(cone), ink::GREEN, y + half - height * 0.08)
        }
        Side::Centre => (
            Outline::Circle((x, y), half),
            ink::PENCIL,
            y + LETTER * height * 0.36,
        ),
    };
    let letter = Text::new(side.letter(), (x, base), LETTER * height, ink::PENCIL)
        .set(Set::Middle)
        .bold();
    Item::Group(Group {
        kind: "mark",
        facts: vec![("side", side.name().into())],
        told: None,
        items: vec![outline(shape, ink), letter.into()],
    })
}

fn outline(shape: Outline, colour: Ink) -> Item {
    Shape::outlined(shape, ink::CHALK, Line::whole(colour, 0.3))
}
