//! The side mark: a letter and a shape, so that it survives a pencil, a copier, and an eye that can't tell red from
//! green.

use crate::hull::{Hull, Side};
use crate::plan::Piece;

/// The mark to pencil on a piece, in plain ASCII: the side, the course and the piece.
///
/// `[P]12.1` is port, course 12, piece 1, with the letter in a square; `/S\12.1` starboard, in a triangle; `(C)3.1` a
/// centre course, in a circle. Source of the shapes: IALA Maritime Buoyage System; the port-hand mark is a can, which
/// looks square from the side, the starboard-hand mark a cone, in both of its regions. The circle is our own.
pub fn side_mark(hull: &Hull, piece: &Piece) -> String {
    let side = match piece.side {
        Side::Port => "[P]",
        Side::Starboard => "/S\\",
        Side::Centre => "(C)",
    };
    format!(
        "{side}{}.{}",
        hull.course(piece.course).name(),
        piece.number
    )
}
