//! Rule 9: what is glued on or cut, and changed all the same.

use twinstrake::plan::Piece;
use twinstrake::stock::Defect;

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

/// The strip of some piece was cut somewhere in its middle, by a saw of so many millimetres.
pub(super) fn cut_before(s: &mut Spoiled, saw: f64) -> Option<()> {
    let row = s.any_row()?;
    let piece = &s.plan.pieces[row];
    let from = piece.cut_from + (piece.cut_to - piece.cut_from) * 0.6;
    let kerf = Defect {
        from,
        to: from + mm(saw),
    };
    s.job.stock.strips[piece.strip.0].kerfs.push(kerf);
    Some(())
}
