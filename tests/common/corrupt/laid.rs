//! Rule 9: what is glued on, and changed all the same.

use twinstrake::plan::Piece;

use super::super::builder::mm;
use super::hands::{HAIR, Spoiled};

pub(super) fn shifted(piece: Piece) -> Option<Piece> {
    Some(Piece {
        cut_from: piece.cut_from + mm(HAIR),
        cut_to: piece.cut_to + mm(HAIR),
        ..piece
    })
}

pub(super) fn turned(piece: Piece) -> Option<Piece> {
    Some(Piece {
        bow_end: piece.bow_end.other(),
        ..piece
    })
}

pub(super) fn other_strip_laid(s: &mut Spoiled) -> Option<()> {
    let (one, other) = s.two_strips()?;
    let strip = s.plan.pieces[other].strip;
    let mut laid = s.plan.pieces[one].clone();
    laid.strip = strip;
    s.job.laid.push(laid);
    Some(())
}
