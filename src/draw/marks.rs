//! The side mark: a letter in a shape, so that it survives pencil, grey print and eyes that don't tell red from green.
//!
//! Source of the shapes and colours: IALA Maritime Buoyage System, lateral marks (port: can; starboard: cone, point up;
//! the shapes hold in both regions); of red to port and green to starboard: COLREGS 1972, rule 21(b).

use super::ink;
use super::scene::{Group, Ink, Item, Line, Outline, Point, Rect, Set, Shape, Text};
use crate::hull::Side;

/// How wide the mark is, as a part of its height.
pub const WIDE: f64 = 1.25;

/// The letter of a side.
pub const fn letter(side: Side) -> &'static str {
    match side {
        Side::Port => "P",
        Side::Starboard => "S",
        Side::Centre => "C",
    }
}

/// The mark of a side: P in a square, S in a triangle with its point up, C in a circle.
///
/// `height` is that of the shape.
pub fn mark(side: Side, (x, y): Point, height: f64) -> Item {
    let half = height / 2.0;
    let (shape, ink, sunk) = match side {
        Side::Port => {
            let square = Rect::between(x - half, y - half, x + half, y + half);
            (square.outline(), ink::RED, 0.0)
        }
        Side::Starboard => {
            let foot = height * WIDE / 2.0;
            let cone = vec![(x, y - half), (x + foot, y + half), (x - foot, y + half)];
            // The letter sits where the triangle is wide.
            (Outline::Closed(cone), ink::GREEN, 0.16)
        }
        Side::Centre => (Outline::Circle((x, y), half), ink::PENCIL, 0.0),
    };
    let size = height * if sunk > 0.0 { 0.58 } else { 0.72 };
    let base = y + sunk * height + size * 0.36;
    let letter = Text::new(letter(side), (x, base), size, ink::PENCIL)
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
