//! Two parts exchange their strips.

use super::pick;
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::swapped;
use rand::RngExt;

/// One part is drawn; the other is one whose wood would look well in its place, or any.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let (row, at) = pick::part(state, rng)?;
    let part = state.timber(row)[at];
    let mut turn = rng.random_bool(0.5);
    let (other_row, other_at) = if rng.random_bool(0.7) {
        let (strip, side) = pick::alike(state, row, &part, rng)?;
        let pieces = state.rack().pieces(strip);
        if pieces == 0 {
            return None;
        }
        let other_row = state
            .rack()
            .serves(strip)
            .nth(rng.random_range(0..pieces))?;
        let other_at = pick::part_of(state, other_row, strip)?;
        let wood = state.timber(other_row)[other_at].wood;
        turn = wood[1] != NONE && wood[side] != strip;
        (other_row, other_at)
    } else {
        pick::part(state, rng)?
    };
    if other_row == row {
        return None;
    }
    let other = state.timber(other_row)[other_at];
    if (part.wood[1] == NONE) != (other.wood[1] == NONE) {
        return None;
    }
    draft.lift(row, |i| i == at);
    draft.lift(other_row, |i| i == other_at);
    let coming = if turn {
        swapped(other.wood)
    } else {
        other.wood
    };
    let going = if rng.random_bool(0.5) {
        swapped(part.wood)
    } else {
        part.wood
    };
    (draft.put(row, &part, coming) && draft.put(other_row, &other, going)).then(|| draft.finish())
}
