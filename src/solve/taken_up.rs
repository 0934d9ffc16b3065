//! A plan taken up again, for a search that goes on from it: the way back from `written`.
//!
//! The plan may come from a file, or from a job with other rules. What lies on a course is taken up where it still holds;
//! where it does not, the course is left open for the search. Ends that stick out further than this job asks for are
//! cut back.

use super::problem::{NONE, Problem};
use super::state::State;
use super::timber::{Part, Timber};
use crate::hull::{CourseId, Side};
use crate::job::Job;
use crate::plan::{BowEnd, Piece, Plan};

/// The plan as a state, as far as it holds for this problem.
pub fn state<'a>(job: &Job, problem: &'a Problem, plan: &Plan) -> State<'a> {
    let mut state = State::bare(problem);
    for (id, course) in job.hull.courses() {
        let timber = timber(problem, plan, id, course.sides());
        if let Some(timber) = timber.filter(|timber| holds(&state, id.0, timber)) {
            state.lay(id.0, timber);
        }
    }
    state
}

/// What the plan lays on a course; `None` where it lays nothing, or rows that make no sense.
fn timber(problem: &Problem, plan: &Plan, id: CourseId, sides: &[Side]) -> Option<Timber> {
    let of_side = |side: Side| -> Vec<&Piece> {
        let rows = plan.pieces.iter();
        let mut pieces: Vec<&Piece> = rows
            .filter(|piece| piece.course == id && piece.side == side)
            .collect();
        pieces.sort_by_key(|piece| piece.number);
        pieces
    };
    let rows: Vec<Vec<&Piece>> = sides.iter().map(|&side| of_side(side)).collect();
    let count = rows[0].len();
    if count == 0 || rows.iter().any(|side| side.len() != count) {
        return None;
    }
    let known = |piece: &&Piece| piece.strip.0 < problem.woods.len();
    if !rows.iter().flatten().all(known) {
        return None;
    }
    let length = problem.rows[id.0].length;
    let mut from = 0;
    let mut timber = Timber::new();
    for i in 0..count {
        // The joint is the middle of the overlap, whatever the scarf's length.
        let to = match rows[0].get(i + 1) {
            Some(next) => (rows[0][i].to.nm() + next.from.nm()).div_euclid(2),
            None => length,
        };
        if to <= from {
            return None;
        }
        let mut part = Part::between(problem, id.0, from, to);
        for (side, pieces) in rows.iter().enumerate() {
            let piece = pieces[i];
            if (piece.from, piece.to) != (rows[0][i].from, rows[0][i].to) {
                return None;
            }
            part.wood[side] = piece.strip.0 as u32;
            part.bow[side] = piece.bow_end;
            // The wood stays where it lies on the boat; what sticks out is cut back.
            part.cut[side] = match piece.bow_end {
                BowEnd::Mark => piece.cut_from.nm() + (part.from - piece.from.nm()),
                BowEnd::Plain => piece.cut_from.nm() + (piece.to.nm() - part.to),
            };
        }
        timber.push(part);
        from = to;
    }
    Some(timber)
}

/// Whether timber may lie on an open course: every rule that the search keeps, and the wood still there.
fn holds(state: &State, row: usize, timber: &[Part]) -> bool {
    let problem = state.problem;
    let r = &problem.rows[row];
    let mut from = 0;
    let mut taken: Vec<(u32, i64, i64)> = Vec::new();
    for (i, part) in timber.iter().enumerate() {
        let to = match timber.get(i + 1) {
            Some(next) => next.from + problem.half_scarf,
            None => r.length,
        };
        let joint = i + 1 < timber.len();
        let allowed = |to: i64| r.allows_joint(to) && state.staggered(row, r.x(to), &[]);
        if (joint && !allowed(to)) || (timber.len() > 1 && to - from < problem.shortest) {
            return false;
        }
        let mates = part.wood[1] != NONE;
        if mates && part.wood[0] == part.wood[1] {
            return false;
        }
        let book_matched = part.book_matched(problem);
        if book_matched && (part.cut[0] != part.cut[1] || part.bow[0] != part.bow[1]) {
            return false;
        }
        for side in part.sides() {
            let (a, b) = part.span(side);
            let room = state.rack().room(problem, part.wood[side], &[], &taken);
            let ends = problem.bow_ends(row, part.wood);
            if !room.iter().any(|(c, d)| *c <= a && b <= *d) || !ends.contains(&part.bow[side]) {
                return false;
            }
            taken.push((part.wood[side], a, b));
        }
        from = to;
    }
    timber.len() <= problem.most.saturating_add(1)
}
