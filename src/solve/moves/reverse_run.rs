//! A run of courses takes its timber in the opposite order.

use super::pick;
use super::relay::relay;
use crate::solve::draft::Draft;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::tuning::moves::LONGEST_RUN;
use rand::RngExt;

/// A run is drawn and reversed; now and then its pairs change sides as well.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let run = pick::run(draft.state, LONGEST_RUN, rng)?;
    let timber: Vec<_> = run
        .iter()
        .map(|&row| draft.state.timber(row).clone())
        .collect();
    let turn = rng.random_bool(0.1);
    run.iter().for_each(|&row| draft.strip(row));
    let all = run.iter().zip(timber.iter().rev());
    for (&row, timber) in all {
        if !relay(&mut draft, row, timber, turn, rng) {
            return None;
        }
    }
    Some(draft.finish())
}
