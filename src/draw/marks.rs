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
    let level = y + LETTER * height * 0.36;
    let (ink, base) = match side {
        Side::Port => (ink::RED, level),
        // The letter stands on the foot of the triangle, where it is wide.
        Side::Starboard => (ink::GREEN, y + height / 2.0 - height * 0.08),
        Side::Centre => (ink::PENCIL, level),
    };
    let shape = outline(shape(side, (x, y), height, WIDE), ink);
    let letter = Text::new(side.letter(), (x, base), LETTER * height, ink::PENCIL);
    lettered(side, shape, letter)
}

/// The shape of a side; `wide` is how wide the triangle is, as a part of its height.
pub fn shape(side: Side, (x, y): Point, height: f64, wide: f64) -> Outline {
    let half = height / 2.0;
    match side {
        Side::Port => Rect::between(x - half, y - half, x + half, y + half).outline(),
        Side::Starboard => {
            let foot = height * wide / 2.0;
            Outline::Closed(vec![
                (x, y - half),
                (x + foot, y + half),
                (x - foot, y + half),
            ])
        }
        Side::Centre => Outline::Circle((x, y), half),
    }
}

/// The shape with its letter.
pub fn lettered(side: Side, shape: Item, letter: Text) -> Item {
    Item::Group(Group {
        kind: "mark",
        facts: vec![("side", side.name().into())],
        told: None,
        items: vec![shape, letter.set(Set::Middle).bold().into()],
    })
}

fn outline(shape: Outline, colour: Ink) -> Item {
    Shape::outlined(shape, ink::CHALK, Line::whole(colour, 0.3))
}
