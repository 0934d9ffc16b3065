//! Two runs of courses exchange their timber, course for course: the way a whole board's worth moves to another part
//! of the boat.

use super::pick;
use super::relay::relay;
use crate::solve::draft::Draft;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::tuning::moves::LONGEST_SWAPPED;
use rand::RngExt;

/// Two runs are drawn, in one panel or in two, and brought to one length; now and then one is laid in the opposite
/// order.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let mut one = pick::run(draft.state, LONGEST_SWAPPED, rng)?;
    let mut other = pick::run(draft.state, LONGEST_SWAPPED, rng)?;
    let length = one.len().min(other.len());
    one.truncate(length);
    other.truncate(length);
    let mirrored = |row: usize| draft.problem().rows[row].mirrored;
    if one.iter().any(|row| other.contains(row)) || mirrored(one[0]) != mirrored(other[0]) {
        return None;
    }
    let rows: Vec<usize> = one.into_iter().chain(other).collect();
    let timber: Vec<_> = rows
        .iter()
        .map(|&row| draft.state.timber(row).clone())
        .collect();
    let turned = [rng.random_bool(0.3), rng.random_bool(0.3)];
    rows.iter().for_each(|&row| draft.strip(row));
    for (i, &row) in rows.iter().enumerate() {
        let (run, at) = (i / length, i % length);
        let at = if turned[run] { length - 1 - at } else { at };
        if !relay(
            &mut draft,
            row,
            &timber[(1 - run) * length + at],
            false,
            rng,
        ) {
            return None;
        }
    }
    Some(draft.finish())
}
