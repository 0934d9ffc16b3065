//! The search as a whole: several starts side by side, round after round, until nothing better turns up.
//!
//! The number of starts does not depend on the threads, each start owns its dice, and rounds are gathered in the order of the
//! starts: the same seed and rounds give the same plan on any number of threads.

use super::again::{Upset, covered_for_certain, is_too_short, lay_again};
use super::anneal::{Best, Cooling, anneal};
use super::asked::{Asked, Ended, Grounds, Outcome, Progress, Watch};
use super::moves::{Dice, Mix, dice};
use super::problem::Problem;
use super::proof::Proof;
use super::sequence::Sequences;
use super::start::{Order, construct, lay_given};
use super::state::State;
use super::threads::on_threads;
use super::upheaval::upheave;
use super::{shortage, taken_up, written};
use crate::job::Job;
use crate::plan::Plan;
use crate::units::Length;
use rand::SeedableRng;
use rayon::prelude::*;
use std::time::Instant;

/// Independent starts. More cover more ground in a round, at the price of fewer rounds.
const STARTS: usize = 4;
/// Of those, the ones that go on in a large job, which needs every round: those that begin best.
const STARTS_OF_LARGE: usize = 2;
/// More courses than this make a job large.
const LARGE: usize = 100;
/// Up to so many make it small.
const SMALL: usize = 12;
/// Up to so many, one start explores.
const FEW: usize = 60;
/// Rounds without a better plan after which the search gives up.
const PATIENCE: u64 = 2;
/// How many times longer the first cooling is than those after it: it settles which boards go where.
const FIRST: f64 = 10.0;
/// The same where a proof follows, which has better hints to give than a long cooling.
const FIRST_BEFORE_PROOF: f64 = 0.25;
/// Large moves tidied up for each course that a start makes in a round, where it makes such.
const UPHEAVALS: u64 = 12;
/// Sequences of boards that are laid and cooled a little, of which the best become starts.
const SEQUENCES: usize = 8;
/// The ceiling where the user names neither rounds nor seconds. Unit: seconds.
const CEILING: f64 = 10.0;

/// The part of the time that the search gets where a bound comes after it.
const SEARCHING: f64 = 0.85;

/// How often in a row the proof and the plans that it hints at may improve on each other.
const HINTS: u64 = 6;

struct Start<'a> {
    state: State<'a>,
    dice: Dice,
    best: Best,
}

impl Start<'_> {
    /// Goes on from a plan that was found elsewhere.
    fn take_over(&mut self, best: &Best) {
        self.best = best.clone();
        best.restore(&mut self.state);
    }
}

/// A plan for a job of which the search left a course open, found by going through all ways; where it is only a trial, by their lengths
/// alone.
///
/// Errors: how certain it is that there is none.
fn for_certain(problem: &Problem, trial: bool, stop: &dyn Fn() -> bool) -> Result<Best, Grounds> {
    match trial {
        true if is_too_short(problem) => Err(Grounds::Lengths),
        true => Err(Grounds::NotFound),
        false => covered_for_certain(problem, stop).map(|state| Best::of(&state)),
    }
}

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
    let begun = Instant::now();
    let is_past = |until: Option<Instant>| until.is_some_and(|until| Instant::now() >= until);
    let mut proof = Proof::new(problem, asked.trial);
    // A bound that gives no hints comes last, and needs some of the time.
    let parts = if proof.comes_last() { SEARCHING } else { 1.0 };
    let search_until =
        until.map(|until| begun + until.saturating_duration_since(begun).mul_f64(parts));
    let out_of_time = || is_past(search_until);
    let stop = || watch.stop() || out_of_time();

    let mut starts: Vec<Start> = (0..STARTS)
        .into_par_iter()
        .map(|i| begin(problem, asked.seed, i, from, &|| watch.stop()))
        .collect();
    if is_large(problem) {
        starts.sort_by(|a, b| a.best.worth.total_cmp(&b.best.worth));
        starts.truncate(STARTS_OF_LARGE);
    }
    let jointed = jointed(problem, &starts);
    // Where whole boards were put in order first, that settles which boards go where.
    let sequenced = jointed
        && !is_large(problem)
        && problem.rows.len() > SMALL
        && from.is_none()
        && !problem.is_again();
    if sequenced {
        in_sequence(problem, &mut starts, asked.seed, &stop);
    }
    let mut best = leader(&starts).best.clone();
    let first = match proof.gives_hints() {
        true => FIRST_BEFORE_PROOF,
        false => FIRST,
    };
    let (mut round, mut since) = (0, 0);
    // How certain it is that a course must stay open, once that was asked.
    let mut grounds: Option<Grounds> = None;
    // The long first cooling settles which boards go where; a plan found earlier has that settled.
    let settled = u64::from(from.is_some() || sequenced);
    let ended = loop {
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
        if proof.is_closed(&best) {
            break Ended::Proven;
        }
        if asked.rounds.is_none() && asked.seconds.is_none() && since >= patience(&best) {
            break Ended::Stalled;
        }
        starts.par_iter_mut().enumerate().for_each(|(i, start)| {
            let upheaves = jointed && !is_large(problem) && covered(&start.best);
            let round = round + settled;
            let Start { state, dice, best } = start;
            let found =
                if upheaves && (sequenced || round > 0 && (i as u64 + round).is_multiple_of(2)) {
                    let times = UPHEAVALS * problem.rows.len() as u64;
                    upheave(state, times, dice, &stop)
                } else {
                    let cooling = cooling(problem, jointed, i, round, first, best);
                    anneal(state, &cooling, dice, &stop)
                };
            if found.worth < start.best.worth - 1e-9 {
                start.best = found;
            }
        });
        round += 1;
        since += 1;
        let found = leader(&starts);
        if found.best.worth < best.worth - 1e-9 {
            best = found.best.clone();
            since = 0;
        }
        if !covered(&best) && grounds.is_none() {
            match for_certain(problem, asked.trial, &stop) {
                Ok(found) => {
                    best = found;
                    since = 0;
                    starts.iter_mut().for_each(|start| start.take_over(&best));
                }
                Err(why) => grounds = Some(why),
            }
        }
        if let Some(found) = with_proof(problem, &mut proof, &best, asked.seed, &stop) {
            best = found;
            since = 0;
        }
        match sequenced {
            true => worst_gives_way(&mut starts),
            false => share(problem, &mut starts, &best, round),
        }
        watch.progress(&progress(problem, &best, round, asked, proof.bound));
    };
    let mut ended = ended;
    if !covered(&best) && grounds.is_none() {
        match for_certain(problem, asked.trial, &stop) {
            Ok(found) => best = found,
            Err(why) => grounds = Some(why),
        }
    }
    proof.advance(&best, covered(&best), &|| watch.stop() || is_past(until));
    if proof.is_closed(&best) {
        ended = Ended::Proven;
    }
    let state = best.laid(problem);
    let plan = written::plan(job, &state);
    Outcome {
        shortage: grounds.and_then(|grounds| shortage::on(&state, grounds, &|| watch.stop())),
        cost: state.terms(),
        plan,
        rounds: round,
        bound: proof.bound,
        bound_reason: proof.reason,
        ended,
    }
}

/// Works on the proof, and before that on the plans that it hints at for as long as they are better; the best of them, where one is better
/// than `best`.
fn with_proof(
    problem: &Problem,
    proof: &mut Proof,
    best: &Best,
    seed: u64,
    stop: &(dyn Fn() -> bool + Sync),
) -> Option<Best> {
    if !covered(best) || proof.comes_last() || !proof.is_due(best) {
        return None;
    }
    let mut better: Option<Best> = None;
    for again in 0..HINTS {
        let known = better.as_ref().unwrap_or(best);
        let Some(hint) = proof.hint(known, stop) else {
            break;
        };
        let mut dice = Dice::seed_from_u64(seed.wrapping_add(again));
        let mut state = lay_given(problem, hint, &mut dice, stop);
        let a_course = state.cost() / (problem.rows.len() as f64).max(1.0);
        let cooling = Cooling {
            tries: problem.rows.len() as u64 * 1000,
            hot: (0.02 * a_course).max(1e-3),
            cold: (0.002 * a_course).max(1e-5),
            mix: Mix::Whole,
        };
        let found = anneal(&mut state, &cooling, &mut dice, stop);
        if found.worth >= known.worth - 1e-9 {
            break;
        }
        better = Some(found);
    }
    proof.advance(better.as_ref().unwrap_or(best), true, stop);
    better
}

fn begin<'a>(
    problem: &'a Problem,
    seed: u64,
    number: usize,
    from: Option<&State<'a>>,
    stop: &dyn Fn() -> bool,
) -> Start<'a> {
    let mut dice = dice(seed, number);
    let order = match number {
        0 => Order::Outwards,
        1 => Order::LongestFirst,
        2 => Order::Packed,
        _ => Order::Shuffled,
    };
    let state = from.map_or_else(|| State::bare(problem), State::clone);
    let state = construct(state, order, &mut dice, stop);
    let best = Best::of(&state);
    Start { state, dice, best }
}

/// Lays the best sequences of boards, cools them a little, and lets those that come out better than a start take its place.
fn in_sequence<'p>(
    problem: &'p Problem,
    starts: &mut Vec<Start<'p>>,
    seed: u64,
    stop: &(dyn Fn() -> bool + Sync),
) {
    let count = starts.len();
    let plans = Sequences::new(problem).plans(SEQUENCES, &mut dice(seed, count), stop);
    let plans: Vec<Start> = { plans.into_par_iter().enumerate() }
        .map(|(i, mut state)| {
            let mut dice = dice(seed, count + 1 + i);
            let best = Best::of(&state);
            let cooling = cooling(problem, true, 0, 1, 1.0, &best);
            let best = anneal(&mut state, &cooling, &mut dice, stop);
            best.restore(&mut state);
            Start { state, dice, best }
        })
        .collect();
    starts.extend(plans);
    starts.sort_by(|a, b| a.best.worth.total_cmp(&b.best.worth));
    starts.truncate(count);
}

/// Whether joints play a part: some course has one, or is open for want of one.
fn jointed(problem: &Problem, starts: &[Start]) -> bool {
    problem.most > 0
        && starts
            .iter()
            .any(|start| (0..problem.rows.len()).any(|row| start.state.timber(row).len() != 1))
}

fn leader<'s, 'a>(starts: &'s [Start<'a>]) -> &'s Start<'a> {
    let mut leader = &starts[0];
    for start in &starts[1..] {
        if start.best.worth < leader.best.worth {
            leader = start;
        }
    }
    leader
}

/// Rounds without a better plan after which the search gives up: later while a course is open.
fn patience(best: &Best) -> u64 {
    if covered(best) {
        PATIENCE
    } else {
        4 * PATIENCE
    }
}

fn covered(best: &Best) -> bool {
    best.timber.iter().all(|timber| !timber.is_empty())
}

fn is_large(problem: &Problem) -> bool {
    problem.rows.len() > LARGE
}

/// Whether a start keeps looking elsewhere rather than refining: more of them the smaller the job.
fn explores(problem: &Problem, start: usize) -> bool {
    match problem.rows.len() {
        n if n <= SMALL => start >= STARTS / 2,
        n if n <= FEW => start + 1 == STARTS,
        _ => false,
    }
}

/// The starts that refine take turns: one half begins the next round from the best plan of all, the other from its own best, which
/// may be that of a start it took over from. Explorers go on from wherever they are.
fn share(problem: &Problem, starts: &mut [Start], best: &Best, round: u64) {
    for (i, start) in starts.iter_mut().enumerate() {
        if explores(problem, i) {
            continue;
        }
        if (i as u64 + round).is_multiple_of(2) {
            start.best = best.clone();
        }
        start.best.restore(&mut start.state);
    }
}

/// The start that is furthest behind goes on from the best; the others from their own best.
fn worst_gives_way(starts: &mut [Start]) {
    let ahead = leader(starts).best.clone();
    let worst = starts
        .iter_mut()
        .max_by(|a, b| a.best.worth.total_cmp(&b.best.worth));
    if let Some(worst) = worst {
        worst.best = ahead;
    }
    for start in starts {
        start.best.restore(&mut start.state);
    }
}

fn cooling(
    problem: &Problem,
    jointed: bool,
    start: usize,
    round: u64,
    first: f64,
    best: &Best,
) -> Cooling {
    let rows = problem.rows.len() as f64;
    let a_course = best.cost / rows.max(1.0);
    // A small job gets more tries a course: what it costs is nothing, and it should come out best.
    let extra = if problem.rows.len() <= SMALL {
        40_000
    } else {
        8_000
    };
    let tries = (rows * if jointed { 500.0 } else { 4000.0 }) as u64 + extra;
    let heat = if covered(best) {
        heat(problem, jointed, start, round as usize)
    } else {
        // To close a course, looks must count for little: the more so the longer it stays open.
        [0.4, 2.0, 10.0, 50.0][(start + round as usize) % 4]
    };
    Cooling {
        tries: match round {
            0 => (tries as f64 * first) as u64,
            _ => tries,
        },
        hot: (heat * a_course).max(1e-3),
        cold: (0.002 * a_course).max(1e-5),
        mix: Mix::of(jointed),
    }
}

/// How hot a cooling begins, in parts of what a course costs on average. Hotter: more is thrown over, and more time is needed to
/// put it together again, which a large job does not get.
fn heat(problem: &Problem, jointed: bool, start: usize, round: usize) -> f64 {
    let large = is_large(problem);
    match round {
        0 if large && jointed => 0.08,
        0 if large => 0.2,
        0 => 0.4,
        _ if large && jointed => [0.02, 0.04, 0.01][round % 3],
        _ if explores(problem, start) => [0.2, 0.4, 0.8][round % 3],
        _ => [0.05, 0.1, 0.03][round % 3],
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
