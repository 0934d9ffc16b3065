//! A run of courses passes its timber on: round in a ring, or with spare pairs coming in at one end and what lay at the
//! other end left over.

use super::pick;
use super::relay::relay;
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::{Part, Timber};
use crate::solve::tuning::moves::LONGEST_RUN;
use rand::RngExt;

/// A run is drawn, and the way it is pushed.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let run = pick::run(draft.state, LONGEST_RUN, rng)?;
    let cuts = pick::changes(draft.state, &run);
    let mut timber: Vec<Timber> = run
        .iter()
        .map(|&row| draft.state.timber(row).clone())
        .collect();
    run.iter().for_each(|&row| draft.strip(row));
    if rng.random_bool(0.5) {
        let by = match cuts.is_empty() || rng.random_bool(0.3) {
            true => rng.random_range(1..timber.len()),
            false => cuts[rng.random_range(0..cuts.len())],
        };
        timber.rotate_left(by);
    } else {
        let inward = rng.random_bool(0.5);
        let (enters, leaves) = if inward {
            (0, timber.len() - 1)
        } else {
            (timber.len() - 1, 0)
        };
        let most = if rng.random_bool(0.5) {
            1
        } else {
            rng.random_range(1..=timber.len() / 2)
        };
        let spares = spares(&draft, run[enters], most, rng);
        if spares.is_empty() {
            return None;
        }
        for spare in spares.into_iter().rev() {
            timber.remove(leaves);
            timber.insert(enters, [spare].into_iter().collect());
        }
    }
    for (&row, timber) in run.iter().zip(&timber) {
        if !relay(&mut draft, row, timber, false, rng) {
            return None;
        }
    }
    Some(draft.finish())
}

/// Pairs with room for a whole course in one piece, at most so many, each beside the one before it in their board. The
/// first would look well beside the course's neighbours.
fn spares(draft: &Draft, row: usize, most: usize, rng: &mut SearchRng) -> Vec<Part> {
    let problem = draft.problem();
    let whole = Part::whole(problem, row);
    let Some(first) = pick::spare(draft, row, &whole, rng) else {
        return Vec::new();
    };
    let seq = |strip: u32| problem.woods[strip as usize].seq;
    // On along the board, away from the first strip over its mate.
    let downward = match first[1] {
        NONE => rng.random_range(0..2usize) == 0,
        mate => seq(mate) < seq(first[0]),
    };
    let mut onward = pick::slices(problem, first[0]);
    if downward {
        onward.reverse();
    }
    onward.retain(|&strip| {
        let further = if downward {
            seq(strip) < seq(first[0])
        } else {
            seq(strip) > seq(first[0])
        };
        further && strip != first[1]
    });
    let mut woods = vec![first];
    woods.extend(pick::pairs(draft, row, &onward, whole.length(), most - 1));
    woods
        .into_iter()
        .map(|wood| Part { wood, ..whole })
        .collect()
}
