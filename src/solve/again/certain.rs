//! Courses that stayed open, decided: either there is a way after all, or it is said how certain it is that there is none.

use super::Upset;
use super::settle::give_back;
use super::want::is_too_short;
use crate::solve::asked::Grounds;
use crate::solve::cover::{Decided, decide, decide_all};
use crate::solve::state::State;

/// Closes every course where that can be decided, with all other courses in their places if possible; else how certain it is that
/// something must stay open. `first` is the earlier plan as far as it holds.
pub(super) fn closed_for_certain<'p>(
    state: &mut State<'p>,
    first: &State<'p>,
    upset: Upset,
) -> Option<Grounds> {
    let problem = state.problem;
    if is_too_short(problem) {
        return Some(Grounds::Lengths);
    }
    let open: Vec<usize> = (0..problem.rows.len())
        .filter(|&row| first.timber(row).is_empty())
        .collect();
    match (decide(first, &open), upset) {
        (Decided::Covered(change), _) => {
            *state = first.clone();
            state.make(*change);
            return None;
        }
        (Decided::Impossible, Upset::ReplacedOnly) => return Some(Grounds::AllTriedInPlace),
        (Decided::Unknown, Upset::ReplacedOnly) => return Some(Grounds::NotFound),
        (_, Upset::Least) => {}
    }
    match decide_all(problem) {
        Decided::Covered(change) => {
            *state = State::bare(problem);
            state.make(*change);
            give_back(state, first);
            None
        }
        Decided::Impossible => Some(Grounds::AllTried),
        Decided::Unknown => Some(Grounds::NotFound),
    }
}
