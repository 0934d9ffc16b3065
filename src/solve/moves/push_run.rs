//! A run of courses passes its timber on: round in a ring, or with a spare pair coming in at one end and what lay at the
//! other end left over.

use super::{Dice, pick};
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rack::longest;
use crate::solve::state::Change;
use crate::solve::timber::{Part, Timber};
use rand::RngExt;

/// Longest run that is pushed.
const LONGEST: usize = 24;

/// A run is drawn, and the way it is pushed.
pub fn propose(mut draft: Draft, dice: &mut Dice) -> Option<Change> {
    let run = pick::run(draft.state, LONGEST, dice)?;
    let mut timber: Vec<Timber> = run
        .iter()
        .map(|&row| draft.state.timber(row).clone())
        .collect();
    run.iter().for_each(|&row| draft.strip(row));
    if dice.random_bool(0.5) {
        let by = dice.random_range(1..timber.len());
        timber.rotate_left(by);
    } else {
        let inward = dice.random_bool(0.5);
        let (enters, leaves) = if inward {
            (0, timber.len() - 1)
        } else {
            (timber.len() - 1, 0)
        };
        let spare = spare(&draft, run[enters], &timber[enters][0], dice)?;
        timber.remove(leaves);
        timber.insert(enters, [spare].into_iter().collect());
    }
    for (&row, timber) in run.iter().zip(&timber) {
        if !draft.carry(row, timber, false) {
            return None;
        }
    }
    Some(draft.finish())
}

/// The whole course in one piece, of a pair with room that would look well beside the neighbours of what lies there.
fn spare(draft: &Draft, row: usize, beside: &Part, dice: &mut Dice) -> Option<Part> {
    let problem = draft.problem();
    let (strip, side) = pick::alike(draft.state, row, beside, dice)?;
    let whole = Part::between(problem, row, 0, problem.rows[row].length);
    let enough = |wood| longest(&draft.room(wood)) >= whole.length();
    let wood = if !problem.rows[row].mirrored {
        enough([strip, NONE]).then_some([strip, NONE])?
    } else {
        let mate = problem.mates[strip as usize]
            .iter()
            .copied()
            .find(|&mate| enough([strip, mate]))?;
        if side == 0 {
            [strip, mate]
        } else {
            [mate, strip]
        }
    };
    Some(Part { wood, ..whole })
}
