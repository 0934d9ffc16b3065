//! Two parts exchange one strip each: 1-2 and 3-4 become 1-4 and 3-2, or 2-3 and 1-4; a centre course's strip may be
//! one of them.

use super::pick;
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use rand::RngExt;

/// Two parts are drawn, the second mostly from the first one's board.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let (row, at) = pick::part(state, rng)?;
    let part = state.timber(row)[at];
    let (other_row, other_at) = if rng.random_bool(0.8) {
        let mates = &state.problem.mates[part.wood[0] as usize];
        if mates.is_empty() {
            return None;
        }
        let strip = mates[rng.random_range(0..mates.len())];
        pick::place_of(state, strip)?
    } else {
        pick::part(state, rng)?
    };
    let other = state.timber(other_row)[other_at];
    if other_row == row || (part.wood[1] == NONE && other.wood[1] == NONE) {
        return None;
    }
    let (a, b) = (
        rng.random_range(part.sides()),
        rng.random_range(other.sides()),
    );
    let (mut mine, mut theirs) = (part.wood, other.wood);
    std::mem::swap(&mut mine[a], &mut theirs[b]);
    if mine[0] == mine[1] || theirs[0] == theirs[1] {
        return None;
    }
    draft.lift(row, |i| i == at);
    draft.lift(other_row, |i| i == other_at);
    (draft.put(row, &part, mine) && draft.put(other_row, &other, theirs)).then(|| draft.finish())
}
