//! What is better even with the price of new labels, and labels that need not have been lost.

use super::TRIES;
use super::mend::restored;
use crate::solve::anneal::{Best, Cooling, anneal};
use crate::solve::moves::Dice;
use crate::solve::state::State;

/// How hot a round begins, in prices of a label. The first attempt never leaves the way down.
const HEATS: [f64; 4] = [0.01, 0.2, 0.5, 1.0];
/// A price of a label to begin with, where a label costs nothing. Unit: ΔE00·metre.
const LABEL: f64 = 1.0;

/// Tries what other changes are worth their labels; keeps the best plan met.
pub fn settle(
    state: &mut State,
    first: &State,
    attempt: usize,
    rounds: u64,
    dice: &mut Dice,
    stop: &dyn Fn() -> bool,
) {
    let problem = state.problem;
    let label = if problem.weights.relabel > 0.0 {
        problem.weights.relabel
    } else {
        LABEL
    };
    give_back(state, first);
    let mut best = Best::of(state);
    for _ in 0..rounds {
        if stop() {
            break;
        }
        let cooling = Cooling {
            tries: TRIES * problem.rows.len() as u64,
            hot: HEATS[attempt % HEATS.len()] * label,
            cold: 0.005 * label,
            jointed: problem.most > 0,
        };
        let found = anneal(state, &cooling, dice, stop);
        found.restore(state);
        give_back(state, first);
        let found = Best::of(state);
        if found.worth < best.worth - 1e-9 {
            best = found;
        }
    }
    best.restore(state);
}

/// Courses go back to what they were before, wherever that can be and is not worse.
fn give_back(state: &mut State, first: &State) {
    loop {
        let mut better = false;
        for row in 0..state.problem.rows.len() {
            let was = first.timber(row);
            if state.timber(row) == was {
                continue;
            }
            if let Some(change) = restored(state, row, was)
                && state.price(&change) <= 1e-9
            {
                better |= state.price(&change) < -1e-9;
                state.make(change);
            }
        }
        if !better {
            return;
        }
    }
}
