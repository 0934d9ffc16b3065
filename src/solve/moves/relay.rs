//! What lay on one course goes on another: as it was where it fits, else cut anew from the same wood.

use crate::solve::draft::Draft;
use crate::solve::fill::fill;
use crate::solve::problem::NONE;
use crate::solve::rng::SearchRng;
use crate::solve::timber::{Part, swapped};
use crate::solve::tuning::moves::SETTLED;

/// Lays it on a course that was lifted whole; `false` where the wood does not reach, and then the draft is spoilt.
pub fn relay(
    draft: &mut Draft,
    row: usize,
    timber: &[Part],
    turn: bool,
    rng: &mut SearchRng,
) -> bool {
    if draft.carry(row, timber, turn) {
        return true;
    }
    // Without joints, cutting anew finds nothing that carrying does not.
    draft.problem().most > 0 && cut_anew(draft, row, timber.iter().map(|part| part.wood), rng)
}

/// Lays an open course with some wood, any of it either way round; `false` where the wood does not reach.
pub fn cut_anew(
    draft: &mut Draft,
    row: usize,
    wood: impl Iterator<Item = [u32; 2]>,
    rng: &mut SearchRng,
) -> bool {
    let mut ways: Vec<[u32; 2]> = Vec::new();
    for wood in wood {
        if !ways.contains(&wood) {
            ways.push(wood);
            if wood[1] != NONE {
                ways.push(swapped(wood));
            }
        }
    }
    fill(draft, row, &ways, &SETTLED, rng)
}
