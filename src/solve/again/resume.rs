//! The earlier plan, as far as it still holds: courses whose wood is gone are open.

use crate::hull::Side;
use crate::plan::Piece;
use crate::solve::problem::{NONE, Problem};
use crate::solve::state::State;
use crate::solve::timber::{Part, Timber, joints};

/// The earlier plan laid on the boat, with what is glued on where it is glued. What breaks a rule by now is left open.
pub fn resume<'p>(problem: &'p Problem, earlier: &[Piece]) -> State<'p> {
    let mut state = State::bare(problem);
    let mut rows: Vec<usize> = (0..problem.rows.len()).collect();
    // What is glued can't give way to anything.
    rows.sort_by_key(|&row| problem.glued[row].is_empty());
    for row in rows {
        let timber = timber(problem, row, earlier);
        if !timber.is_empty() && holds(&state, row, &timber) {
            state.lay(row, timber);
        }
    }
    state
}

/// What the earlier plan has on a course, with what is glued in its place; nothing where that makes no course.
pub(super) fn timber(problem: &Problem, row: usize, earlier: &[Piece]) -> Timber {
    let sides = problem.rows[row].sides();
    let here = |index: usize, side: usize| {
        earlier.iter().find(|piece| {
            piece.course.0 == row
                && piece.number as usize == index + 1
                && usize::from(piece.side == Side::Starboard) == side
        })
    };
    let mut timber = Timber::new();
    let mut from = 0;
    for index in 0.. {
        let glued = problem.glued[row].iter().find(|glued| glued.index == index);
        let planned = here(index, 0);
        let to = match (glued, planned) {
            (Some(glued), _) => glued.nominal.1,
            (None, Some(piece)) if piece.to.nm() >= problem.rows[row].length => {
                problem.rows[row].length
            }
            (None, Some(piece)) => piece.to.nm() - problem.half_scarf,
            (None, None) => return timber,
        };
        if to <= from {
            return Timber::new();
        }
        let mut part = Part::between(problem, row, from, to);
        for side in 0..sides {
            if let Some(fixed) = glued.and_then(|glued| glued.sides[side]) {
                (part.wood[side], part.bow[side], part.cut[side]) =
                    (fixed.strip, fixed.bow, fixed.cut);
                part.glued[side] = true;
            } else if let Some(piece) = here(index, side) {
                part.wood[side] = piece.strip.0 as u32;
                (part.bow[side], part.cut[side]) = (piece.bow_end, piece.cut_from.nm());
            } else {
                return Timber::new();
            }
        }
        if let Some(glued) = glued {
            part = part.with_ends(problem, row, glued.ends);
        }
        timber.push(part);
        from = to;
        if from >= problem.rows[row].length {
            return timber;
        }
    }
    timber
}

/// Whether timber can lie on an open course by every rule.
pub(in crate::solve) fn holds(state: &State, row: usize, timber: &[Part]) -> bool {
    let problem = state.problem;
    let r = &problem.rows[row];
    let joined = timber.len() > 1;
    let ends_there = timber
        .last()
        .is_some_and(|last| last.nominal(problem, row).1 == r.length);
    let mut besides: Vec<(u32, i64, i64)> = Vec::new();
    let parts = timber.iter().all(|part| {
        let (from, to) = part.nominal(problem, row);
        let long = !joined || to - from >= problem.shortest || part.glued.contains(&true);
        let fits = part.loose_sides().all(|side| {
            let (from, to) = part.span(side);
            let room = state
                .rack()
                .room(problem, part.wood[side], &[row], &besides);
            room.iter().any(|(a, b)| *a <= from && to <= *b)
        });
        besides.extend(part.takes());
        long && fits && paired(problem, row, part)
    });
    let joints_allowed = timber.len() <= problem.most + 1
        && timber.windows(2).all(|two| {
            let at = two[0].nominal(problem, row).1;
            let both = two[0].glued.contains(&true) && two[1].glued.contains(&true);
            both || r.allows_joint(at)
        })
        && joints(timber).all(|x| state.staggered(row, x, &[]));
    ends_there && parts && joints_allowed && problem.keeps_glued(row, timber)
}

/// Whether the two strips of a part make mates, and lie as mates do.
fn paired(problem: &Problem, row: usize, part: &Part) -> bool {
    let mirrored = problem.rows[row].mirrored;
    if (part.wood[1] != NONE) != mirrored || part.wood[0] == part.wood[1] {
        return false;
    }
    if !part.book_matched(problem) {
        return true;
    }
    let fixed = problem.glued[row]
        .iter()
        .find(|glued| part.glued.contains(&true) && glued.nominal == part.nominal(problem, row));
    let opens = fixed.is_none_or(|glued| {
        (0..2).all(|side| {
            let fixed = glued.sides[side].as_ref();
            fixed.is_none_or(|fixed| problem.opens(part.wood, side, fixed))
        })
    });
    part.cut[0] == part.cut[1]
        && part.bow[0] == part.bow[1]
        && opens
        && (part.glued.contains(&true) || problem.bow_ends(row, part.wood).contains(&part.bow[0]))
}
