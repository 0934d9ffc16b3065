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

use super::anneal::Best;
use super::asked::{Asked, BoundReason, Ended, Outcome, Progress, Watch};
use super::clock::Clock;
use super::problem::Problem;
use super::rng::stream;
use super::search::search;
use super::state::State;
use super::threads::on_threads;
use super::timber::Timber;
use super::{shortage, taken_up, written};
use crate::job::Job;
use crate::plan::{Piece, Plan};
use crate::solve::tuning::again::{
    ATTEMPTS, CEILING_FOR_LOOKS, CHEAP, DEAR, NO_DIFFERENCE, PART_FOR_LOOKS, ROUNDS,
};
use certain::closed_for_certain;
pub(super) use certain::covered_for_certain;
use mend::mend;
use rayon::prelude::*;
use settle::{give_back, settle};
pub use spares::{Care, Chance, Effect, Loss, Stakes};
use std::time::{Duration, Instant};

/// How much of the earlier plan may change.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Upset {
    /// As little as is worth its price in labels.
    #[default]
    Least,
    /// Nothing but the courses that lost wood: everything else keeps its place.
    ReplacedOnly,
}

/// Plans again from the job's earlier plan: first what is near it, then, for as long as that gains, all that a first
/// plan is searched for.
pub fn lay_again(job: &Job, upset: Upset, asked: &Asked, watch: &dyn Watch) -> Outcome {
    on_threads(asked.threads, || again(job, upset, asked, watch))
}

fn again(job: &Job, upset: Upset, asked: &Asked, watch: &dyn Watch) -> Outcome {
    let problem = Problem::new(job);
    let began = Instant::now();
    let clock = Clock::new(asked.until(None), watch);
    let rounds = asked.rounds.unwrap_or(ROUNDS).min(ROUNDS);

    let first = taken_up::state(&problem, earlier(job));
    let mut state = nearest(job, &problem, upset, asked.seed, rounds, &clock);
    let found_otherwise = !state.is_covered();
    let grounds = match state.is_covered() {
        true => None,
        false => closed_for_certain(&mut state, &first, upset, &clock),
    };
    if grounds.is_none() && found_otherwise && upset == Upset::Least {
        let mut rng = stream(asked.seed, ATTEMPTS);
        settle(&mut state, &first, 1, rounds, &mut rng, &clock);
    }
    watch.progress(&Progress {
        round: 0,
        of: asked.rounds,
        uncovered: state.open(),
        cost: state.cost(),
        bound: None,
    });
    watch.plan(&|| written::plan(job, &state));
    let mut front = vec![Best::of(&state)];
    let (mut done, mut ended) = (rounds, None);
    let goes_on =
        upset == Upset::Least && state.is_covered() && asked.rounds != Some(0) && !clock.stop();
    if goes_on {
        let dear = leaning(&problem, DEAR);
        front.push(Best::of(&nearest(
            job, &dear, upset, asked.seed, rounds, &clock,
        )));
        if !asked.trial {
            front.push(best_looking(job, &problem, &state, asked, watch, began));
        }
        let ahead = |best: &Best| {
            let mut laid = best.laid(&problem);
            give_back(&mut laid, &first, &|| clock.is_over());
            laid
        };
        for other in front.iter().map(ahead).collect::<Vec<State>>() {
            if other.worth() < state.worth() - 1e-9 {
                state = other;
            }
        }
        let left = asked
            .seconds
            .map(|seconds| (seconds - began.elapsed().as_secs_f64()).max(0.0));
        let left = Asked {
            seconds: left,
            ..*asked
        };
        let found = search(job, &problem, Some(&state), &left, watch);
        (done, ended) = (found.rounds, Some(found.ended));
        // The usual ceiling is none of this clock's: where that ended the search, the end is due as well.
        let due = (found.ended == Ended::Seconds).then(Instant::now);
        let end = Clock::new(due, watch);
        let mut found = taken_up::state(&problem, &found.plan.pieces);
        give_back(&mut found, &first, &|| end.is_over());
        if found.worth() < state.worth() - 1e-9 {
            state = found;
        }
    }
    let ended = match (watch.stop(), clock.is_out_of_time(), ended) {
        (true, ..) => Ended::Stopped,
        (_, true, _) => Ended::Seconds,
        (.., Some(ended)) => ended,
        _ if asked.rounds.is_some() => Ended::Rounds,
        _ => Ended::Stalled,
    };
    Outcome {
        shortage: grounds.and_then(|grounds| shortage::on(&state, grounds, &|| clock.is_over())),
        cost: state.terms(),
        plan: written::plan(job, &state),
        rounds: done,
        bound: None,
        bound_without_joints: None,
        bound_reason: BoundReason::WoodIsLaid,
        ended,
        others: others(job, &problem, &state, &front),
    }
}

/// The best of some attempts near the earlier plan.
fn nearest<'p>(
    job: &Job,
    problem: &'p Problem,
    upset: Upset,
    seed: u64,
    rounds: u64,
    clock: &Clock,
) -> State<'p> {
    let first = taken_up::state(problem, earlier(job));
    let was = |row: usize| taken_up::timber(problem, row, earlier(job));
    let attempt = |i: usize| attempt(&first, &was, upset, seed, i, rounds, clock);
    let found: Vec<State> = (0..ATTEMPTS).into_par_iter().map(attempt).collect();
    let better = |best: State<'p>, other: State<'p>| match other.worth() < best.worth() - 1e-9 {
        true => other,
        false => best,
    };
    found.into_iter().reduce(better).unwrap_or(first)
}

/// The same problem with labels so many times as dear.
fn leaning(problem: &Problem, times: f64) -> Problem {
    let mut leaning = problem.clone();
    leaning.weights.relabel *= times;
    leaning
}

/// A plan that looks better at the price of more labels, from one that was found.
fn best_looking(
    job: &Job,
    problem: &Problem,
    from: &State,
    asked: &Asked,
    watch: &dyn Watch,
    began: Instant,
) -> Best {
    let cheap = leaning(problem, CHEAP);
    let seconds = asked
        .seconds
        .map_or(CEILING_FOR_LOOKS, |seconds| seconds * PART_FOR_LOOKS);
    let part = Deadline {
        watch,
        until: began + Duration::from_secs_f64(seconds),
        // Rounds that are asked for are done whatever the clock says, so that they repeat.
        timed: asked.rounds.is_none(),
    };
    let asked = Asked {
        rounds: asked
            .rounds
            .map(|rounds| (rounds as f64 * PART_FOR_LOOKS).ceil() as u64),
        seconds: None,
        trial: true,
        ..*asked
    };
    let state = Best::of(from).laid(&cheap);
    let found = search(job, &cheap, Some(&state), &asked, &part).plan;
    Best::of(&taken_up::state(problem, &found.pieces))
}

/// A watcher for a phase of the search: it tells nothing, and its time may be up earlier.
struct Deadline<'w> {
    watch: &'w dyn Watch,
    until: Instant,
    timed: bool,
}

impl Watch for Deadline<'_> {
    fn progress(&self, _: &Progress) {}

    fn stop(&self) -> bool {
        self.watch.stop() || self.timed && Instant::now() >= self.until
    }
}

/// Of the plans that were found, those on either side of the one that is taken: with fewer labels, and with better
/// looks.
fn others(job: &Job, problem: &Problem, taken: &State, front: &[Best]) -> Vec<Plan> {
    let looks = |state: &State| state.cost() - problem.weights.relabel * state.moved() as f64;
    let all: Vec<State> = front
        .iter()
        .map(|best| best.laid(problem))
        .filter(|state| state.open() == taken.open())
        .collect();
    let fewer = { all.iter() }
        .filter(|other| other.moved() < taken.moved())
        .min_by(|a, b| {
            a.moved()
                .cmp(&b.moved())
                .then(looks(a).total_cmp(&looks(b)))
        });
    let finer = { all.iter() }
        .filter(|other| looks(other) < looks(taken) - NO_DIFFERENCE)
        .min_by(|a, b| looks(a).total_cmp(&looks(b)));
    fewer
        .into_iter()
        .chain(finer)
        .map(|state| written::plan(job, state))
        .collect()
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
    clock: &Clock,
) -> State<'p> {
    let mut rng = stream(seed, number);
    let mut state = first.clone();
    mend(&mut state, was, upset, &mut rng, clock);
    if upset == Upset::Least {
        settle(&mut state, first, number, rounds, &mut rng, clock);
    }
    state
}
