//! A plan taken up again: the way back from `written`.
//!
//! The plan may be the one in force, come from a file, or belong to a job with other rules. What lies on a course is
//! taken up where it still holds, with what is glued in its place; where it does not, the course is left open. Ends
//! that stick out further than this job asks for are cut back.

use super::holds::holds;
use super::problem::Problem;
use super::state::State;
use super::timber::{Part, Timber};
use crate::hull::Side;
use crate::plan::{BowEnd, Piece};
use crate::units::{Length, S};

/// What some pieces lay, as far as it holds for this problem.
pub fn state<'p>(problem: &'p Problem, pieces: &[Piece]) -> State<'p> {
    let mut state = State::bare(problem);
    let mut rows: Vec<usize> = (0..problem.rows.len()).collect();
    // What is glued can't give way to anything.
    rows.sort_by_key(|&row| problem.glued[row].is_empty());
    for row in rows {
        if let Some(timber) = timber(problem, row, pieces).filter(|t| holds(&state, row, t)) {
            state.lay(row, timber);
        }
    }
    state
}

/// What the pieces lay on a course, with what is glued in its place; `None` where that makes no course. Whether it
/// holds is not asked.
pub fn timber(problem: &Problem, row: usize, pieces: &[Piece]) -> Option<Timber> {
    let length = problem.rows[row].length;
    let sides = problem.rows[row].sides();
    let here: Vec<&Piece> = { pieces.iter() }.filter(|p| p.course.0 == row).collect();
    let planned = |index: usize, side: usize| {
        let mut here = here.iter().copied();
        here.find(|piece| {
            piece.number as usize == index + 1
                && usize::from(piece.side == Side::Starboard) == side
                && piece.strip.0 < problem.woods.len()
        })
    };
    let mut timber = Timber::new();
    let mut from = Length::ZERO;
    let glued_at = |index: usize| problem.glued[row].iter().find(|glued| glued.index == index);
    for index in 0.. {
        let glued = glued_at(index);
        let next = glued_at(index + 1);
        let to = match (glued, next, planned(index, 0), planned(index + 1, 0)) {
            (Some(glued), ..) => glued.nominal.1,
            (None, Some(next), Some(_), _) => next.nominal.0,
            // The joint is the middle of the overlap, whatever the scarf's length.
            (None, None, Some(piece), Some(next)) => {
                next.from.from_origin() + (piece.to - next.from) / 2
            }
            (None, None, Some(piece), None) if piece.to < S::at(length) => {
                piece.to.from_origin() - problem.half_scarf
            }
            (None, None, Some(_), None) => length,
            (None, _, None, _) => return None,
        };
        if to <= from {
            return None;
        }
        let mut part = Part::between(problem, row, (from, to));
        if let Some(glued) = glued {
            part = part.with_ends(problem, row, glued.ends);
        }
        for side in 0..sides {
            if let Some(fixed) = glued.and_then(|glued| glued.sides[side]) {
                (part.wood[side], part.bow[side], part.cut[side]) =
                    (fixed.strip, fixed.bow, fixed.cut);
                part.glued[side] = true;
            } else {
                let piece = planned(index, side)?;
                part.wood[side] = piece.strip.0 as u32;
                part.bow[side] = piece.bow_end;
                part.cut[side] = cut(piece, &part);
            }
        }
        timber.push(part);
        from = to;
        if from >= length {
            break;
        }
    }
    Some(timber)
}

/// Where a part is cut from the strip of a piece: the wood stays where it lies on the boat, and what sticks out is cut
/// back.
fn cut(piece: &Piece, part: &Part) -> Length {
    let back = match piece.bow_end {
        BowEnd::Mark => S::at(part.from) - piece.from,
        BowEnd::Plain => piece.to - S::at(part.to),
    };
    piece.cut_from.from_origin() + back
}
