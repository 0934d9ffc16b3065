//! The side mark, filled, for print in one colour: the shape alone tells the side, and the letter once more.
//!
//! The shapes are those of the drawing.

use super::{BLACK, WHITE};
use crate::draw::marks::{lettered, shape};
use crate::draw::scene::{Item, Point, Shape, Text};
use crate::draw::typeface::CAPITAL;
use crate::hull::Side;

/// How wide the room for a mark is, as a part of its height.
pub const WIDE: f64 = 1.2;

/// P in a square, S in a triangle with its point up, C in a circle, its middle at the point.
pub fn mark(side: Side, (x, y): Point, height: f64) -> Item {
    let size = match side {
        Side::Port => 0.86 * height,
        Side::Starboard => 0.62 * height,
        Side::Centre => 0.74 * height,
    };
    let base = match side {
        // The letter stands near the foot, where the triangle is wide enough for it.
        Side::Starboard => 0.38 * height,
        Side::Port | Side::Centre => size * CAPITAL / 2.0,
    };
    let shape = Shape::filled(shape(side, (x, y), height, WIDE), BLACK);
    lettered(
        side,
        shape,
        Text::new(side.letter(), (x, y + base), size, WHITE),
    )
}
