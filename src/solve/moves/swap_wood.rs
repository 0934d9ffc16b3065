//! Two runs of pieces exchange their wood, piece for piece, while every joint stays where it is: the way a board's
//! worth moves to another part of the boat where courses are joined.

use super::pick;
use crate::solve::draft::Draft;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::swapped;
use crate::solve::tuning::moves::LONGEST_OF_WOOD;
use rand::RngExt;

/// A run is drawn, and another whose wood would look well in its place, or any; now and then one is laid in the
/// opposite order.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let want = rng.random_range(2..=LONGEST_OF_WOOD);
    let first = pick::part(state, rng)?;
    let mut one = pick::part_run(state, first, want, rng);
    let other = if rng.random_bool(0.7) {
        let part = state.timber(first.0)[first.1];
        let (strip, _) = pick::alike(state, first.0, &part, rng)?;
        pick::place_of(state, strip)?
    } else {
        pick::part(state, rng)?
    };
    let mut other = pick::part_run(state, other, one.len(), rng);
    one.truncate(other.len());
    other.truncate(one.len());
    let mirrored = |&(row, _): &(usize, usize)| state.problem.rows[row].mirrored;
    if one.len() < 2
        || mirrored(&one[0]) != mirrored(&other[0])
        || one.iter().any(|place| other.contains(place))
    {
        return None;
    }
    if rng.random_bool(0.5) {
        other.reverse();
    }
    let turned = [rng.random_bool(0.5), rng.random_bool(0.5)];
    let places: Vec<(usize, usize)> = one.iter().chain(&other).copied().collect();
    let parts = pick::parts(state, &places);
    pick::lift_all(&mut draft, &places);
    let n = one.len();
    for (i, (&(row, _), part)) in places.iter().zip(&parts).enumerate() {
        let wood = parts[(i + n) % (2 * n)].wood;
        let wood = if turned[i / n] { swapped(wood) } else { wood };
        if !draft.put(row, part, wood) {
            return None;
        }
    }
    Some(draft.finish())
}
