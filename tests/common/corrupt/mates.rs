//! Rule 2: one side that is not the other's mirror image.

use twinstrake::hull::{Kind, Side};
use twinstrake::stock::StripId;

use super::super::builder::mm;
use super::hands::{HAIR, Spoiled};

pub(super) fn joint_on_one_side(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|s, p| s.kind(p) == Kind::Mirrored && s.joint_behind(p))?;
    let piece = s.plan.pieces[row].clone();
    s.move_joint(piece.course, piece.number, Some(piece.side), mm(HAIR));
    Some(())
}

pub(super) fn cut_out_of_register(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(Spoiled::in_one_board)?;
    let piece = s.row(row);
    piece.cut_from = piece.cut_from + mm(HAIR);
    piece.cut_to = piece.cut_to + mm(HAIR);
    Some(())
}

pub(super) fn turn_one_mate(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(Spoiled::in_one_board)?;
    s.turn(row);
    Some(())
}

pub(super) fn name_another_mate(s: &mut Spoiled) -> Option<()> {
    let strips = s.job.stock.strips.len();
    let row = s.draw(|_, p| p.mate.is_some())?;
    let mate = s.row(row).mate?;
    s.row(row).mate = Some(StripId((mate.0 + 1) % strips));
    (strips > 1).then_some(())
}

pub(super) fn name_no_mate(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|_, p| p.mate.is_some())?;
    s.row(row).mate = None;
    Some(())
}

pub(super) fn mate_on_the_centre(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|_, p| p.side == Side::Centre)?;
    s.row(row).mate = Some(StripId(0));
    Some(())
}

pub(super) fn own_mate(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|_, p| p.mate.is_some())?;
    let piece = s.plan.pieces[row].clone();
    let mate = s.mate_of(&piece)?;
    s.row(mate).strip = piece.strip;
    s.row(row).mate = Some(piece.strip);
    Some(())
}
