//! A pair is turned end for end, or its strips change sides.

use super::pick;
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::swapped;
use rand::RngExt;

/// Either one part changes sides and is seated again, or one is seated again as it is, in register with its neighbours
/// of now.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let (row, at) = pick::part(draft.state, rng)?;
    let part = draft.state.timber(row)[at];
    draft.lift(row, |i| i == at);
    let wood = if part.wood[1] != NONE && rng.random_bool(0.7) {
        swapped(part.wood)
    } else {
        part.wood
    };
    draft.put(row, &part, wood).then(|| draft.finish())
}
