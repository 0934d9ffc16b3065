//! The order in which pieces are laid.

use super::Piece;
use crate::hull::{Hull, LayOrder, Side};

/// Sorts pieces into the order of laying: panel by panel as boat.toml lists them, and in each panel from the start
/// line outwards by the panel's [`LayOrder`]; in a course from the bow aft. Stretches of one band are laid from the bow
/// aft, side by side.
///
/// Laid alternately, the side that goes first changes with every course, so that neither side pulls the boat off its
/// forms. A centre course goes with the side that is laid first.
pub fn in_laying_order(hull: &Hull, pieces: &mut [Piece]) {
    pieces.sort_by_key(|piece| {
        let course = hull.course(piece.course);
        let second = match (hull.panel(course.panel).lay, piece.side) {
            (_, Side::Centre) => false,
            (LayOrder::Alternate, side) => (side == Side::Starboard) == (course.number % 2 == 1),
            (LayOrder::PortFirst, side) => side == Side::Starboard,
            (LayOrder::StarboardFirst, side) => side == Side::Port,
        };
        let pass = match hull.panel(course.panel).lay {
            LayOrder::Alternate => false,
            LayOrder::PortFirst | LayOrder::StarboardFirst => second,
        };
        (
            course.panel,
            pass,
            course.number,
            second,
            course.stretch,
            piece.number,
        )
    });
}
