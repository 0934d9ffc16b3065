//! Rule 3: wood that is not there.

use twinstrake::stock::{Defect, StripId};
use twinstrake::units::U;

use super::super::builder::mm;
use super::hands::{HAIR, Spoiled};

pub(super) fn use_twice(s: &mut Spoiled) -> Option<()> {
    let (one, other) = s.two_strips()?;
    let used = s.plan.pieces[one].clone();
    cut_from(s, other, used.strip, used.cut_to - mm(HAIR));
    Some(())
}

pub(super) fn no_room_for_the_saw(s: &mut Spoiled) -> Option<()> {
    let saw = s.job.rules.allow.saw;
    if saw < mm(2.0 * HAIR) {
        return None;
    }
    let (one, other) = s.two_strips()?;
    let strip = s.plan.pieces[one].strip;
    let pieces = s.plan.pieces.iter();
    let last = pieces
        .filter(|p| p.strip == strip)
        .map(|p| p.cut_to)
        .max()?;
    cut_from(s, other, strip, last + saw - mm(HAIR));
    Some(())
}

pub(super) fn beyond_the_marked_end(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.row(row);
    let length = piece.cut_to - piece.cut_from;
    piece.cut_from = U::from_mm(-HAIR);
    piece.cut_to = piece.cut_from + length;
    Some(())
}

pub(super) fn beyond_the_plain_end(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let (strip, to) = (s.plan.pieces[row].strip, s.plan.pieces[row].cut_to);
    s.job.stock.strips[strip.0].length = to.from_origin() - mm(HAIR);
    Some(())
}

pub(super) fn in_the_marked_end(s: &mut Spoiled) -> Option<()> {
    let trim = s.job.rules.allow.end_trim;
    let row = s.any_row()?;
    let piece = s.row(row);
    let length = piece.cut_to - piece.cut_from;
    piece.cut_from = U::ORIGIN + trim - mm(HAIR);
    piece.cut_to = piece.cut_from + length;
    (trim > mm(HAIR)).then_some(())
}

pub(super) fn in_the_plain_end(s: &mut Spoiled) -> Option<()> {
    let trim = s.job.rules.allow.end_trim;
    let row = s.any_row()?;
    let (strip, to) = (s.plan.pieces[row].strip, s.plan.pieces[row].cut_to);
    s.job.stock.strips[strip.0].length = to.from_origin() + trim - mm(HAIR);
    (trim > mm(HAIR)).then_some(())
}

/// A knot beside the end of a piece that nothing else reaches.
pub(super) fn too_near_a_knot(s: &mut Spoiled) -> Option<()> {
    let clear = s.job.rules.allow.defect;
    let row = s.any_row()?;
    let strip = s.plan.pieces[row].strip;
    let pieces = s.plan.pieces.iter().filter(|p| p.strip == strip);
    let from = pieces.map(|p| p.cut_to).max()? + clear - mm(HAIR);
    let to = from + mm(20.0);
    let wood = &mut s.job.stock.strips[strip.0];
    wood.length = wood.length.max(to.from_origin());
    wood.defects.push(Defect { from, to });
    (clear > mm(HAIR)).then_some(())
}

pub(super) fn from_a_cull(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let strip = s.plan.pieces[row].strip;
    s.job.stock.strips[strip.0].cull = true;
    Some(())
}

pub(super) fn back_to_front(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.row(row);
    (piece.from, piece.to) = (piece.to, piece.from);
    (piece.cut_from, piece.cut_to) = (piece.cut_to, piece.cut_from);
    Some(())
}

/// Cuts a piece from another strip, beginning here. The strip is made long enough, so that nothing else is wrong.
fn cut_from(s: &mut Spoiled, row: usize, strip: StripId, at: U) {
    let piece = s.row(row);
    let length = piece.cut_to - piece.cut_from;
    (piece.strip, piece.cut_from, piece.cut_to) = (strip, at, at + length);
    let wood = &mut s.job.stock.strips[strip.0];
    wood.length = wood.length.max((at + length).from_origin());
}
