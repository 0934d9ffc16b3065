//! Planning again: what is glued stays, the rest changes as little as it can.
//!
//! Begins from the earlier plan as far as it still holds (`taken_up`), opens the courses that lost wood, closes them
//! by their best replacement (`mend`), and then looks for what is better even with the price of new labels (`settle`).
//! Start with [`lay_again`].

mod certain;
mod ejection_chain;
mod mend;
mod nearby;
mod settle;
mod spares;

use super::asked::{Asked, BoundReason, Ended, Outcome, Progress, Watch};
use super::problem::Problem;
use super::rng::stream;
use super::state::State;
use super::threads::on_threads;
use super::timber::Timber;
use super::{shortage, taken_up, written};
use crate::job::Job;
use crate::plan::Piece;
use crate::solve::tuning::again::{ATTEMPTS, ROUNDS};
use crate::units::Length;
use certain::closed_for_certain;
pub(super) use certain::covered_for_certain;
use mend::mend;
use rayon::prelude::*;
use settle::settle;
pub use spares::{Chance, Effect, Loss, chance, losses};
use std::time::Instant;

/// How much of the earlier plan may change.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Upset {
    /// As little as is worth its price in labels.
    #[default]
    Least,
    /// Nothing but the courses that lost wood: everything else keeps its place.
    ReplacedOnly,
}

/// Plans again from the job's earlier plan.
pub fn lay_again(job: &Job, upset: Upset, asked: &Asked, watch: &dyn Watch) -> Outcome {
    let problem = Problem::new(job);
    let until = asked.until(None);
    let out_of_time = || until.is_some_and(|until| Instant::now() >= until);
    let stop = || watch.stop() || out_of_time();
    let rounds = asked.rounds.unwrap_or(ROUNDS);

    let first = taken_up::state(&problem, earlier(job));
    let was = |row: usize| taken_up::timber(&problem, row, earlier(job));
    let attempt = |i: usize| attempt(&first, &was, upset, asked.seed, i, rounds, &stop);
    let all = || -> Vec<State> { (0..ATTEMPTS).into_par_iter().map(attempt).collect() };
    let found = on_threads(asked.threads, all);
    let best = found.into_iter().reduce(|best, other| {
        if other.worth() < best.worth() - 1e-9 {
            other
        } else {
            best
        }
    });
    let mut state = best.unwrap_or_else(|| first.clone());
    let found_otherwise = state.open() > 0;
    let grounds = match state.open() {
        0 => None,
        _ => closed_for_certain(&mut state, &first, upset, &stop),
    };
    if grounds.is_none() && found_otherwise && upset == Upset::Least {
        let mut rng = stream(asked.seed, ATTEMPTS);
        settle(&mut state, &first, 1, rounds, &mut rng, &stop);
    }
    watch.progress(&Progress {
        round: rounds,
        of: asked.rounds,
        uncovered: Length::from_nm(state.open()),
        cost: state.cost(),
        bound: None,
    });
    let ended = match (watch.stop(), out_of_time(), asked.rounds) {
        (true, ..) => Ended::Stopped,
        (_, true, _) => Ended::Seconds,
        (.., Some(_)) => Ended::Rounds,
        (.., None) => Ended::Stalled,
    };
    Outcome {
        shortage: grounds.and_then(|grounds| shortage::on(&state, grounds, &|| watch.stop())),
        cost: state.terms(),
        plan: written::plan(job, &state),
        rounds,
        bound: None,
        bound_reason: BoundReason::WoodIsLaid,
        ended,
    }
}

/// The pieces of the plan before.
fn earlier(job: &Job) -> &[Piece] {
    job.earlier.as_ref().map_or(&[], |plan| &plan.pieces)
}

fn attempt<'p>(
    first: &State<'p>,
    was: &dyn Fn(usize) -> Option<Timber>,
    upset: Upset,
    seed: u64,
    number: usize,
    rounds: u64,
    stop: &dyn Fn() -> bool,
) -> State<'p> {
    let mut rng = stream(seed, number);
    let mut state = first.clone();
    mend(&mut state, was, upset, &mut rng, stop);
    if upset == Upset::Least {
        settle(&mut state, first, number, rounds, &mut rng, stop);
    }
    state
}
