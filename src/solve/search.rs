//! The search as a whole: several starts side by side, round after round, until nothing better turns up.
//!
//! The number of starts does not depend on the threads, each start has its own random stream, and rounds are gathered in the order of the
//! starts: the same seed and rounds give the same plan on any number of threads.

use super::again::{Upset, covered_for_certain, lay_again};
use super::anneal::{Best, Cooling, anneal};
use super::asked::{Asked, Ended, Grounds, Outcome, Progress, Watch};
use super::moves::OperatorWeights;
use super::optimality::Optimality;
use super::perturbation::perturb;
use super::problem::Problem;
use super::rng::SearchRng;
use super::schedule::{self, cooling, covered, is_large, is_small};
use super::start::lay_given;
use super::starts::{Start, first_plans, in_sequence, jointed, leader, share, worst_gives_way};
use super::state::State;
use super::threads::on_threads;
use super::too_short::is_too_short;
use super::{shortage, taken_up, written};
use crate::job::Job;
use crate::plan::Plan;
use crate::solve::tuning::search::{CEILING, HINTS, PATIENCE, PERTURBATIONS};
use crate::units::Length;
use rand::SeedableRng;
use rayon::prelude::*;
use std::time::Instant;

/// Lays the job: the best plan that could be found, and what is known about it. Where there is an earlier plan, with as
/// little upset as can be.
pub fn lay(job: &Job, asked: &Asked, watch: &dyn Watch) -> Outcome {
    if job.earlier.is_some() {
        return lay_again(job, Upset::Least, asked, watch);
    }
    on_threads(asked.threads, || {
        lay_problem(job, &Problem::new(job), asked, watch)
    })
}

/// The same, going on from a plan found earlier: for this job, or for one with other rules or less wood.
///
/// What of the plan holds for this job is where every start begins, and nothing is thrown over as hotly as when there is no
/// plan yet. Where all of it holds, what comes out is never worse.
pub fn lay_from(job: &Job, plan: &Plan, asked: &Asked, watch: &dyn Watch) -> Outcome {
    on_threads(asked.threads, || {
        let problem = Problem::new(job);
        let state = taken_up::state(&problem, &plan.pieces);
        search(job, &problem, Some(&state), asked, watch)
    })
}

/// The same as [`lay`] for a problem that is set already.
pub fn lay_problem(job: &Job, problem: &Problem, asked: &Asked, watch: &dyn Watch) -> Outcome {
    search(job, problem, None, asked, watch)
}

fn search(
    job: &Job,
    problem: &Problem,
    from: Option<&State>,
    asked: &Asked,
    watch: &dyn Watch,
) -> Outcome {
    let until = asked.until(asked.rounds.is_none().then_some(CEILING));
    let mut optimality = Optimality::new(problem);
    let out_of_time = || until.is_some_and(|until| Instant::now() >= until);
    let stop = || watch.stop() || out_of_time();

    let mut starts = first_plans(problem, asked.seed, from, &|| watch.stop());
    let jointed = jointed(problem, &starts);
    // Where whole boards were put in order first, that settles which boards go where.
    let sequenced = jointed
        && !is_large(problem)
        && !is_small(problem)
        && from.is_none()
        && !problem.is_again()
        && in_sequence(problem, &mut starts, asked.seed, &stop);
    let mut best = leader(&starts).best.clone();
    let first = schedule::first(optimality.gives_hints());
    let (mut round, mut since) = (0, 0);
    // How certain it is that a course must stay open, once that was asked.
    let mut grounds: Option<Grounds> = None;
    // The long first cooling settles which boards go where; a plan found earlier has that settled.
    let settled = u64::from(from.is_some() || sequenced);
    let mut ended = loop {
        if problem.woods.is_empty() || problem.rows.is_empty() {
            break Ended::Stalled;
        }
        if asked.rounds.is_some_and(|rounds| round >= rounds) {
            break Ended::Rounds;
        }
        if watch.stop() {
            break Ended::Stopped;
        }
        if out_of_time() {
            break Ended::Seconds;
        }
        if optimality.is_closed(&best) {
            break Ended::Proven;
        }
        if asked.rounds.is_none() && asked.seconds.is_none() && since >= patience(&best) {
            break Ended::Stalled;
        }
        starts.par_iter_mut().enumerate().for_each(|(i, start)| {
            let perturbs = jointed && !is_large(problem) && covered(&start.best);
            let round = round + settled;
            let Start { state, rng, best } = start;
            let found =
                if perturbs && (sequenced || round > 0 && (i as u64 + round).is_multiple_of(2)) {
                    let times = PERTURBATIONS * problem.rows.len() as u64;
                    perturb(state, times, rng, &stop)
                } else {
                    let cooling = cooling(problem, jointed, i, round, first, best);
                    anneal(state, &cooling, rng, &stop)
                };
            start.keep_better(found);
        });
        round += 1;
        since += 1;
        let found = leader(&starts);
        if found.best.beats(&best) {
            best = found.best.clone();
            since = 0;
        }
        if closed_for_certain(problem, asked.trial, &mut best, &mut grounds, &stop) {
            since = 0;
            starts.iter_mut().for_each(|start| start.take_over(&best));
        }
        if let Some(found) = with_proof(problem, &mut optimality, &best, asked.seed, &stop) {
            best = found;
            since = 0;
        }
        if optimality.rises() {
            since = 0;
        }
        match sequenced {
            true => worst_gives_way(&mut starts),
            false => share(problem, &mut starts, &best, round),
        }
        watch.progress(&progress(problem, &best, round, asked, optimality.bound));
    };
    // Asked already, unless there was no round at all.
    closed_for_certain(problem, asked.trial, &mut best, &mut grounds, &stop);
    optimality.advance(&best, covered(&best), &stop);
    if optimality.is_closed(&best) {
        ended = Ended::Proven;
    }
    let state = best.laid(problem);
    let plan = written::plan(job, &state);
    Outcome {
        shortage: grounds.and_then(|grounds| shortage::on(&state, grounds, &|| watch.stop())),
        cost: state.terms(),
        plan,
        rounds: round,
        bound: optimality.bound,
        bound_reason: optimality.reason,
        ended,
    }
}

/// Where a course is open in the best plan, and it was not asked yet how certain that is: goes through all ways to lay the boat, or where it is only
/// a trial, through the lengths alone. `true` where that found a plan, which is the best now; otherwise the grounds are known.
fn closed_for_certain(
    problem: &Problem,
    trial: bool,
    best: &mut Best,
    grounds: &mut Option<Grounds>,
    stop: &dyn Fn() -> bool,
) -> bool {
    if covered(best) || grounds.is_some() {
        return false;
    }
    let found = match trial {
        true if is_too_short(problem) => Err(Grounds::Lengths),
        true => Err(Grounds::NotFound),
        false => covered_for_certain(problem, stop),
    };
    match found {
        Ok(state) => *best = Best::of(&state),
        Err(why) => *grounds = Some(why),
    }
    grounds.is_none()
}

/// Works on the proof, and before that on the plans that it hints at for as long as they are better; the best of them, where one is better
/// than `best`.
fn with_proof(
    problem: &Problem,
    optimality: &mut Optimality,
    best: &Best,
    seed: u64,
    stop: &(dyn Fn() -> bool + Sync),
) -> Option<Best> {
    if !covered(best) || !optimality.is_due(best) {
        return None;
    }
    let mut better: Option<Best> = None;
    for again in 0..HINTS {
        let known = better.as_ref().unwrap_or(best);
        let Some(hint) = optimality.hint(known, stop) else {
            break;
        };
        let mut rng = SearchRng::seed_from_u64(seed.wrapping_add(again));
        let mut state = lay_given(problem, hint, &mut rng, stop);
        let a_course = state.cost() / (problem.rows.len() as f64).max(1.0);
        let cooling = Cooling {
            tries: problem.rows.len() as u64 * 1000,
            hot: (0.02 * a_course).max(1e-3),
            cold: (0.002 * a_course).max(1e-5),
            weights: OperatorWeights::Whole,
        };
        let found = anneal(&mut state, &cooling, &mut rng, stop);
        if !found.beats(known) {
            break;
        }
        better = Some(found);
    }
    optimality.advance(better.as_ref().unwrap_or(best), true, stop);
    better
}

/// Rounds without a better plan after which the search gives up: later while a course is open.
fn patience(best: &Best) -> u64 {
    if covered(best) {
        PATIENCE
    } else {
        4 * PATIENCE
    }
}

fn progress(
    problem: &Problem,
    best: &Best,
    round: u64,
    asked: &Asked,
    bound: Option<f64>,
) -> Progress {
    let open = best
        .timber
        .iter()
        .zip(&problem.rows)
        .filter(|(timber, _)| timber.is_empty());
    Progress {
        round,
        of: asked.rounds,
        uncovered: Length::from_nm(open.map(|(_, row)| row.length).sum()),
        cost: best.cost,
        bound,
    }
}
