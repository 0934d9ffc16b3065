//! The starts: how they begin, and what they take over from each other.

use super::anneal::{Best, anneal};
use super::clock::Clock;
use super::perturbation::perturb;
use super::problem::Problem;
use super::rng::{SearchRng, stream};
use super::schedule::{cooling, explores, is_large};
use super::sequence::Sequences;
use super::start::{Order, construct};
use super::state::State;
use super::tuning::schedule::STARTS;
use crate::solve::tuning::starts::{
    BRIEFLY, FIRST_PERTURBATIONS, SEQUENCES, SHORTLIST, STARTS_OF_LARGE,
};
use rayon::prelude::*;

/// One of several plans that are bettered side by side.
pub struct Start<'a> {
    /// The plan as it is.
    pub state: State<'a>,
    /// What its choices are drawn from.
    pub rng: SearchRng,
    /// The best plan that it has found or taken over.
    pub best: Best,
}

impl Start<'_> {
    /// Goes on from a plan that was found elsewhere.
    pub fn take_over(&mut self, best: &Best) {
        self.best = best.clone();
        best.restore(&mut self.state);
    }
}

/// The first plans: from nothing, or all from one plan. Stopped, the first of them is worked on for a while longer:
/// half a plan is of little use.
pub fn first_plans<'a>(
    problem: &'a Problem,
    seed: u64,
    from: Option<&State<'a>>,
    clock: &Clock<'_>,
) -> Vec<Start<'a>> {
    let stop = |i: usize| match i {
        0 => clock.is_over(),
        _ => clock.stop(),
    };
    let mut starts: Vec<Start> = (0..STARTS)
        .into_par_iter()
        .map(|i| begin(problem, seed, i, from, &|| stop(i)))
        .collect();
    if is_large(problem) {
        keep_best(&mut starts, STARTS_OF_LARGE);
    }
    starts
}

fn begin<'a>(
    problem: &'a Problem,
    seed: u64,
    number: usize,
    from: Option<&State<'a>>,
    stop: &dyn Fn() -> bool,
) -> Start<'a> {
    let mut rng = stream(seed, number);
    let order = match number {
        0 => Order::Outwards,
        1 => Order::LongestFirst,
        2 => Order::Packed,
        _ => Order::Shuffled,
    };
    let state = from.map_or_else(|| State::bare(problem), State::clone);
    let state = construct(state, order, &mut rng, stop);
    let best = Best::of(&state);
    Start { state, rng, best }
}

/// Lays the best sequences of boards and lets those that come out better than a start take its place: many are looked
/// at briefly, the better ones of them longer. `false` where no sequence covers the boat.
pub fn in_sequence<'p>(
    problem: &'p Problem,
    starts: &mut Vec<Start<'p>>,
    seed: u64,
    stop: &(dyn Fn() -> bool + Sync),
) -> bool {
    let count = starts.len();
    let plans = Sequences::new(problem).plans(SEQUENCES, &mut stream(seed, count), stop);
    if plans.is_empty() {
        return false;
    }
    let mut plans: Vec<Start> = { plans.into_par_iter().enumerate() }
        .map(|(i, mut state)| {
            let mut rng = stream(seed, count + 1 + i);
            let best = Best::of(&state);
            let mut cooling = cooling(problem, true, 0, 1, 1.0, &best);
            cooling.tries /= BRIEFLY;
            let best = anneal(&mut state, &cooling, &mut rng, stop);
            best.restore(&mut state);
            Start { state, rng, best }
        })
        .collect();
    keep_best(&mut plans, SHORTLIST);
    plans.par_iter_mut().for_each(|start| {
        let times = FIRST_PERTURBATIONS * problem.rows.len() as u64;
        let found = perturb(&mut start.state, times, &mut start.rng, stop);
        start.best.keep_better(found);
        start.best.restore(&mut start.state);
    });
    starts.extend(plans);
    keep_best(starts, count);
    true
}

fn keep_best(starts: &mut Vec<Start>, most: usize) {
    starts.sort_by(|a, b| a.best.worth.total_cmp(&b.best.worth));
    starts.truncate(most);
}

/// Whether joints play a part: some course has one, or is open for want of one.
pub fn jointed(problem: &Problem, starts: &[Start]) -> bool {
    problem.most > 0 && !starts.iter().all(is_in_whole_pieces)
}

/// Whether joints are needed, as far as the first plans tell: each of them has one, or a course that is open.
pub fn needs_joints(problem: &Problem, starts: &[Start]) -> bool {
    problem.most > 0 && !starts.iter().any(is_in_whole_pieces)
}

fn is_in_whole_pieces(start: &Start) -> bool {
    let mut rows = 0..start.state.problem.rows.len();
    rows.all(|row| start.state.timber(row).len() == 1)
}

/// The start with the best plan.
pub fn leader<'s, 'a>(starts: &'s [Start<'a>]) -> &'s Start<'a> {
    let mut leader = &starts[0];
    for start in &starts[1..] {
        if start.best.worth < leader.best.worth {
            leader = start;
        }
    }
    leader
}

/// The starts that refine take turns: one half begins the next round from the best plan of all, the other from its own
/// best, which may be that of a start it took over from. Explorers go on from wherever they are.
pub fn share(problem: &Problem, starts: &mut [Start], best: &Best, round: u64) {
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
pub fn worst_gives_way(starts: &mut [Start]) {
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
