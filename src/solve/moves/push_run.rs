//! A run of courses passes its timber on: round in a ring, or with spare pairs coming in at one end and what lay at the
//! other end left over.

use super::relay::relay;
use super::{Dice, pick};
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::state::Change;
use crate::solve::timber::{Part, Timber};
use rand::RngExt;

/// Longest run that is pushed.
const LONGEST: usize = 24;

/// A run is drawn, and the way it is pushed.
pub fn propose(mut draft: Draft, dice: &mut Dice) -> Option<Change> {
    let run = pick::run(draft.state, LONGEST, dice)?;
    let cuts = pick::changes(draft.state, &run);
    let mut timber: Vec<Timber> = run
        .iter()
        .map(|&row| draft.state.timber(row).clone())
        .collect();
    run.iter().for_each(|&row| draft.strip(row));
    if dice.random_bool(0.5) {
        let by = match cuts.is_empty() || dice.random_bool(0.3) {
            true => dice.random_range(1..timber.len()),
            false => cuts[dice.random_range(0..cuts.len())],
        };
        timber.rotate_left(by);
    } else {
        let inward = dice.random_bool(0.5);
        let (enters, leaves) = if inward {
            (0, timber.len() - 1)
        } else {
            (timber.len() - 1, 0)
        };
        let most = if dice.random_bool(0.5) {
            1
        } else {
            dice.random_range(1..=timber.len() / 2)
        };
        let spares = spares(&draft, run[enters], most, dice);
        if spares.is_empty() {
            return None;
        }
        for spare in spares.into_iter().rev() {
            timber.remove(leaves);
            timber.insert(enters, [spare].into_iter().collect());
        }
    }
    for (&row, timber) in run.iter().zip(&timber) {
        if !relay(&mut draft, row, timber, false, dice) {
            return None;
        }
    }
    Some(draft.finish())
}

/// Pairs with room for a whole course in one piece, at most so many, each beside the one before it in their board. The first would look
/// well beside the course's neighbours.
fn spares(draft: &Draft, row: usize, most: usize, dice: &mut Dice) -> Vec<Part> {
    let problem = draft.problem();
    let whole = Part::whole(problem, row);
    let Some(first) = pick::spare(draft, row, &whole, dice) else {
        return Vec::new();
    };
    let seq = |strip: u32| problem.woods[strip as usize].seq;
    // On along the board, away from the first strip over its mate.
    let downward = match first[1] {
        NONE => dice.random_range(0..2usize) == 0,
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
