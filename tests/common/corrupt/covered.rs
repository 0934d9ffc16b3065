//! Rule 1: what goes missing, and what should not be there.

use twinstrake::hull::Side;

use super::hands::Spoiled;

pub(super) fn lose_a_row(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    s.plan.pieces.remove(row);
    Some(())
}

pub(super) fn lose_a_course(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let course = s.plan.pieces[row].course;
    s.plan.pieces.retain(|piece| piece.course != course);
    Some(())
}

pub(super) fn list_a_laid_course(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    s.plan.uncovered.push(s.plan.pieces[row].course);
    Some(())
}

pub(super) fn list_twice(s: &mut Spoiled) -> Option<()> {
    let open = *s.plan.uncovered.first()?;
    s.plan.uncovered.push(open);
    Some(())
}

pub(super) fn no_such_side(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let mut piece = s.row(row).clone();
    piece.side = match piece.side {
        Side::Centre => Side::Port,
        Side::Port | Side::Starboard => Side::Centre,
    };
    s.plan.pieces.push(piece);
    Some(())
}
