//! A part is cut from other strips instead: from a pair still whole, from what is left of one, or with another mate.

use super::pick;
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::units::Length;
use rand::RngExt;

/// A part is drawn, and wood for it from the whole rack.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let problem = state.problem;
    let (row, at) = pick::part(state, rng)?;
    let part = state.timber(row)[at];
    let (strip, side) = if rng.random_bool(0.8) {
        pick::alike(state, row, &part, rng)?
    } else {
        (
            rng.random_range(0..problem.woods.len() as u32),
            rng.random_range(0..2),
        )
    };
    draft.lift(row, |i| i == at);
    let wood = if part.wood[1] == NONE {
        [strip, NONE]
    } else {
        let mate = mate(&draft, strip, part.length(), rng)?;
        if side == 0 {
            [strip, mate]
        } else {
            [mate, strip]
        }
    };
    draft.put(row, &part, wood).then(|| draft.finish())
}

/// A mate with room at the same place: mostly the nearest in the board; now and then, where there is none, a foster
/// mate.
fn mate(draft: &Draft, strip: u32, length: Length, rng: &mut SearchRng) -> Option<u32> {
    let problem = draft.problem();
    let skip = if rng.random_bool(0.9) {
        0
    } else {
        rng.random_range(0..3)
    };
    let mate = draft.mates(strip, length).nth(skip);
    if mate.is_some() {
        return mate;
    }
    // No `alike` of a strip is ruled out: the colour is what a foster mate should share.
    let list = problem.alike(strip);
    (!list.is_empty()).then(|| list[rng.random_range(0..list.len())])
}
