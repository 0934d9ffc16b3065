//! Courses that stayed open, decided: either there is a way after all, or it is said how certain it is that there is
//! none.

use super::Upset;
use super::settle::give_back;
use crate::solve::asked::Grounds;
use crate::solve::clock::Clock;
use crate::solve::cover::{Decided, decide, decide_all, too_short};
use crate::solve::problem::Problem;
use crate::solve::state::State;

/// Closes every course where that can be decided, with all other courses in their places if possible; else how certain
/// it is that something must stay open. `first` is the earlier plan as far as it holds.
pub(super) fn closed_for_certain<'p>(
    state: &mut State<'p>,
    first: &State<'p>,
    upset: Upset,
    clock: &Clock,
) -> Option<Grounds> {
    let (problem, stop) = (state.problem, &|| clock.stop());
    if too_short(problem).is_some() {
        return Some(Grounds::Lengths);
    }
    let open: Vec<usize> = (0..problem.rows.len())
        .filter(|&row| first.timber(row).is_empty())
        .collect();
    match (decide(first, &open, stop), upset) {
        (Decided::Covered(change), _) => {
            *state = first.clone();
            state.make(*change);
            return None;
        }
        (Decided::Impossible, Upset::ReplacedOnly) => return Some(Grounds::AllTriedInPlace),
        (Decided::Unknown, Upset::ReplacedOnly) => return Some(Grounds::NotFound),
        (_, Upset::Least) => {}
    }
    match covered_for_certain(problem, stop) {
        Ok(found) => {
            *state = found;
            give_back(state, first, &|| clock.is_over());
            None
        }
        Err(grounds) => Some(grounds),
    }
}

/// A plan that covers every course, looks playing no part, nothing but what is glued being laid before.
///
/// Errors: how certain it is that there is none.
pub(in crate::solve) fn covered_for_certain<'p>(
    problem: &'p Problem,
    stop: &dyn Fn() -> bool,
) -> Result<State<'p>, Grounds> {
    if too_short(problem).is_some() {
        return Err(Grounds::Lengths);
    }
    match decide_all(problem, stop) {
        Decided::Covered(change) => {
            let mut state = State::bare(problem);
            state.make(*change);
            Ok(state)
        }
        Decided::Impossible => Err(Grounds::AllTried),
        Decided::Unknown => Err(Grounds::NotFound),
    }
}
