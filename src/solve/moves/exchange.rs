//! Two parts exchange their strips.

use super::{Dice, pick};
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::state::Change;
use crate::solve::timber::swapped;
use rand::RngExt;

/// One part is drawn; the other is one whose wood would look well in its place, or any.
pub fn propose(mut draft: Draft, dice: &mut Dice) -> Option<Change> {
    let state = draft.state;
    let (row, at) = pick::part(state, dice)?;
    let part = state.timber(row)[at];
    let mut turn = dice.random_bool(0.5);
    let (other_row, other_at) = if dice.random_bool(0.7) {
        let (strip, side) = pick::alike(state, row, &part, dice)?;
        let pieces = state.rack().pieces(strip);
        if pieces == 0 {
            return None;
        }
        let other_row = state
            .rack()
            .serves(strip)
            .nth(dice.random_range(0..pieces))?;
        let other_at = pick::part_of(state, other_row, strip)?;
        let wood = state.timber(other_row)[other_at].wood;
        turn = wood[1] != NONE && wood[side] != strip;
        (other_row, other_at)
    } else {
        pick::part(state, dice)?
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
    let going = if dice.random_bool(0.5) {
        swapped(part.wood)
    } else {
        part.wood
    };
    (draft.put(row, &part, coming) && draft.put(other_row, &other, going)).then(|| draft.finish())
}
