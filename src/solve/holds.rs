//! Whether timber that comes from elsewhere may lie on a course: every rule that the search keeps by itself, looked
//! over once more.

use super::problem::{NONE, Problem, Span};
use super::rack::has_room;
use super::state::State;
use super::timber::{Part, joints, keeps_glued};

/// Whether timber can lie on an open course by every rule, and the wood for it is there.
pub fn holds(state: &State, row: usize, timber: &[Part]) -> bool {
    let problem = state.problem;
    let r = &problem.rows[row];
    let joined = timber.len() > 1;
    let ends_there = timber
        .last()
        .is_some_and(|last| last.nominal(problem, row).1 == r.length);
    let mut besides: Vec<(u32, Span)> = Vec::new();
    let parts = timber.iter().all(|part| {
        let (from, to) = part.nominal(problem, row);
        let long = !joined || to - from >= problem.shortest || part.glued.contains(&true);
        let fits = part.loose_sides().all(|side| {
            let room = state
                .rack()
                .room(problem, part.wood[side], &[row], &besides);
            problem.allowed.on(row, side, part.wood[side]) && has_room(&room, part.span(side))
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
        && joints(timber).all(|x| state.staggered(row, x));
    ends_there && parts && joints_allowed && keeps_glued(problem, row, timber)
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
