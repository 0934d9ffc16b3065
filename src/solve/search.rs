//! The search as a whole: several starts side by side, round after round, until nothing better turns up.
//!
//! Read `search` first: it calls the phases in their order, and below it they stand one after another.
//!
//! The number of starts does not depend on the threads, each start has its own random stream, and rounds are gathered
//! in the order of the starts: the same seed and rounds give the same plan on any number of threads.

use super::again::{Upset, covered_for_certain, lay_again};
use super::anneal::{Best, anneal};
use super::asked::{Asked, Ended, Grounds, Outcome, Progress, Watch};
use super::clock::Clock;
use super::cover::too_short;
use super::optimality::Optimality;
use super::perturbation::perturb;
use super::problem::Problem;
use super::rng::SearchRng;
use super::schedule::{self, cooling, covered, is_large, is_small};
use super::start::lay_given;
use super::starts::{
    Start, first_plans, in_sequence, jointed, leader, needs_joints, share, worst_gives_way,
};
use super::state::State;
use super::threads::on_threads;
use super::{shortage, taken_up, written};
use crate::job::Job;
use crate::plan::Plan;
use crate::solve::tuning::search::{CEILING, HINTS, PATIENCE, PERTURBATIONS};
use rand::SeedableRng;
use rayon::prelude::*;

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
/// What of the plan holds for this job is where every start begins, and cooling begins less hot than when there is no
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

/// The same, from a plan under way where there is one.
pub(super) fn search(
    job: &Job,
    problem: &Problem,
    from: Option<&State>,
    asked: &Asked,
    watch: &dyn Watch,
) -> Outcome {
    let until = asked.until(asked.rounds.is_none().then_some(CEILING));
    let clock = Clock::new(until, watch);
    let mut search = Search::begin(problem, from, asked, &clock);
    let best = |search: &Search<'_, '_>| written::plan(job, &search.best.laid(problem));
    watch.plan(&|| best(&search));
    let ended = loop {
        if let Some(ended) = search.ended() {
            break ended;
        }
        search.better_each_start();
        search.close_open_courses();
        search.prove();
        search.share();
        watch.progress(&search.progress());
        watch.plan(&|| best(&search));
    };
    search.conclude(job, ended)
}

/// How a start betters its plan in a round.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Strategy {
    /// By cooling.
    Anneal,
    /// By cooling and by iterated local search in turn; the first round cools.
    Alternate,
    /// By iterated local search alone: boards were put in sequence, and no cooling must throw that over.
    Perturb,
}

/// The search under way.
struct Search<'s, 'p> {
    problem: &'p Problem,
    asked: &'s Asked,
    clock: &'s Clock<'s>,
    starts: Vec<Start<'p>>,
    /// Whether joints play a part.
    jointed: bool,
    strategy: Strategy,
    best: Best,
    optimality: Optimality<'p>,
    /// How certain it is that a course must stay open, once that was asked.
    grounds: Option<Grounds>,
    /// Rounds done.
    round: u64,
    /// 1 where the long first cooling is left out, because boards are in sequence or there was an earlier plan; else 0.
    /// Added to `round`.
    settled: u64,
    /// Rounds since something better turned up.
    since: u64,
}

impl<'s, 'p> Search<'s, 'p> {
    /// First plans, and sequences of whole boards where they help.
    fn begin(
        problem: &'p Problem,
        from: Option<&State<'p>>,
        asked: &'s Asked,
        clock: &'s Clock<'s>,
    ) -> Search<'s, 'p> {
        let mut starts = first_plans(problem, asked.seed, from, clock);
        let jointed = jointed(problem, &starts);
        let optimality = Optimality::new(problem, needs_joints(problem, &starts));
        let large = is_large(problem);
        let open_to_sequences =
            jointed && !large && !is_small(problem) && from.is_none() && !problem.is_again();
        let sequenced =
            open_to_sequences && in_sequence(problem, &mut starts, asked.seed, &|| clock.stop());
        Search {
            problem,
            asked,
            clock,
            jointed,
            strategy: match (sequenced, jointed && !large) {
                (true, _) => Strategy::Perturb,
                (false, true) => Strategy::Alternate,
                (false, false) => Strategy::Anneal,
            },
            best: leader(&starts).best.clone(),
            starts,
            optimality,
            grounds: None,
            round: 0,
            settled: u64::from(from.is_some() || sequenced),
            since: 0,
        }
    }

    /// Why the search is at its end, where it is.
    fn ended(&self) -> Option<Ended> {
        let (asked, problem) = (self.asked, self.problem);
        if problem.woods.is_empty() || problem.rows.is_empty() {
            return Some(Ended::Stalled);
        }
        if asked.rounds.is_some_and(|rounds| self.round >= rounds) {
            return Some(Ended::Rounds);
        }
        if self.clock.watch.stop() {
            return Some(Ended::Stopped);
        }
        if self.clock.is_out_of_time() {
            return Some(Ended::Seconds);
        }
        if self.optimality.is_closed(&self.best) {
            return Some(Ended::Proven);
        }
        let unlimited = asked.rounds.is_none() && asked.seconds.is_none();
        (unlimited && self.since >= patience(&self.best)).then_some(Ended::Stalled)
    }

    /// A round: every start betters its plan.
    fn better_each_start(&mut self) {
        let (problem, jointed, strategy) = (self.problem, self.jointed, self.strategy);
        let (clock, round) = (self.clock, self.round + self.settled);
        let first = schedule::first(self.optimality.gives_hints());
        self.starts
            .par_iter_mut()
            .enumerate()
            .for_each(|(i, start)| {
                let perturbs = covered(&start.best)
                    && match strategy {
                        Strategy::Anneal => false,
                        Strategy::Alternate => round > 0 && (i as u64 + round).is_multiple_of(2),
                        Strategy::Perturb => true,
                    };
                let Start { state, rng, best } = start;
                let found = if perturbs {
                    let times = PERTURBATIONS * problem.rows.len() as u64;
                    perturb(state, times, rng, &|| clock.stop())
                } else {
                    let cooling = cooling(problem, jointed, i, round, first, best);
                    anneal(state, &cooling, rng, &|| clock.stop())
                };
                best.keep_better(found);
            });
        self.round += 1;
        self.since += 1;
        let found = leader(&self.starts).best.clone();
        self.keep_better(found);
    }

    fn keep_better(&mut self, found: Best) {
        if self.best.keep_better(found) {
            self.since = 0;
        }
    }

    /// Where a course is open in the best plan, and it was not asked yet how certain that is: goes through all ways to
    /// lay the boat, or where it is only a trial, through the lengths alone. What that finds is the best plan now.
    fn close_open_courses(&mut self) {
        if covered(&self.best) || self.grounds.is_some() {
            return;
        }
        let found = match self.asked.trial {
            true if too_short(self.problem).is_some() => Err(Grounds::Lengths),
            true => Err(Grounds::NotFound),
            false => covered_for_certain(self.problem, &|| self.clock.stop()),
        };
        match found {
            Ok(state) => {
                self.best = Best::of(&state);
                self.since = 0;
                self.starts
                    .iter_mut()
                    .for_each(|start| start.take_over(&self.best));
            }
            Err(why) => self.grounds = Some(why),
        }
    }

    /// Lays the path of the Lagrangian subproblem as a plan and cools it, for as long as that gives better plans; then
    /// works on the bound.
    fn prove(&mut self) {
        if !covered(&self.best) || !self.optimality.is_due(&self.best) {
            return;
        }
        let (problem, clock) = (self.problem, self.clock);
        let stop = || clock.stop();
        for again in 0..HINTS {
            let Some(hint) = self.optimality.hint(&self.best, &stop) else {
                break;
            };
            let mut rng = SearchRng::seed_from_u64(self.asked.seed.wrapping_add(again));
            let mut state = lay_given(problem, hint, &mut rng, &stop);
            let polishing = schedule::polishing(problem, &state);
            let found = anneal(&mut state, &polishing, &mut rng, &stop);
            if !found.beats(&self.best) {
                break;
            }
            self.keep_better(found);
        }
        self.optimality.advance(&self.best, true, &stop);
        if self.optimality.rises() {
            self.since = 0;
        }
    }

    /// Restarts: starts take over plans from each other.
    fn share(&mut self) {
        match self.strategy {
            Strategy::Perturb => worst_gives_way(&mut self.starts),
            _ => share(self.problem, &mut self.starts, &self.best, self.round),
        }
    }

    /// The best plan, with what is known about it.
    fn conclude(mut self, job: &Job, ended: Ended) -> Outcome {
        // Asked already, unless there was no round at all.
        self.close_open_courses();
        let covered = covered(&self.best);
        self.optimality
            .advance(&self.best, covered, &|| self.clock.stop());
        let state = self.best.laid(self.problem);
        let clock = self.clock;
        Outcome {
            shortage: self
                .grounds
                .and_then(|grounds| shortage::on(&state, grounds, &|| clock.is_over())),
            cost: state.terms(),
            plan: written::plan(job, &state),
            rounds: self.round,
            bound: self.optimality.bound(),
            bound_without_joints: self.optimality.bound_without_joints(),
            bound_reason: self.optimality.reason(),
            ended: match self.optimality.is_closed(&self.best) {
                true => Ended::Proven,
                false => ended,
            },
            others: Vec::new(),
        }
    }

    fn progress(&self) -> Progress {
        let laid = self.best.timber.iter().zip(&self.problem.rows);
        let open = laid.filter(|(timber, _)| timber.is_empty());
        Progress {
            round: self.round,
            of: self.asked.rounds,
            uncovered: open.map(|(_, row)| row.length).sum(),
            cost: self.best.cost,
            bound: self.optimality.bound(),
        }
    }
}

/// Rounds without a better plan after which the search gives up: later while a course is open.
fn patience(best: &Best) -> u64 {
    PATIENCE[usize::from(!covered(best))]
}
