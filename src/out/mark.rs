//! The side mark: a letter and a shape, so that it survives a pencil, a copier, and an eye that can't tell red from
//! green.

use crate::hull::Hull;
use crate::plan::Piece;

/// The mark to pencil on a piece, in plain ASCII: the side, the course and the piece.
///
/// `[P]12.1` is port, course 12, piece 1; `/S\12.1` starboard; `(C)3.1` a centre course.
pub fn side_mark(hull: &Hull, piece: &Piece) -> String {
    let course = hull.course(piece.course).name();
    format!("{}{course}.{}", piece.side.pencilled(), piece.number)
}
