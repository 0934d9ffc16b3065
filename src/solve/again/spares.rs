//! What must not break: every strip lost in turn, and many at once by chance.

use super::certain::closed_for_certain;
use super::mend::{close_quickly, mend};
use super::{ROUNDS, Upset, earlier, nearest};
use crate::hull::CourseId;
use crate::job::Job;
use crate::solve::asked::{Grounds, Quiet};
use crate::solve::clock::Clock;
use crate::solve::cover::too_short;
use crate::solve::problem::Problem;
use crate::solve::rng::stream;
use crate::solve::state::State;
use crate::solve::taken_up;
use crate::solve::tuning::spares::NOTHING;
use crate::stock::StripId;
use rand::RngExt;
use rayon::prelude::*;
use std::collections::BTreeSet;

/// What the loss of a strip does.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Effect {
    /// Another plan is as good.
    None,
    /// Every course can be covered, but it looks worse.
    Worse,
    /// A course stays open, as far as the search could find.
    NoSpare,
}

impl Effect {
    /// The words written in files.
    pub const fn name(self) -> &'static str {
        match self {
            Effect::None => "none",
            Effect::Worse => "worse",
            Effect::NoSpare => "no spare",
        }
    }
}

/// A strip lost, and the plan that would be made then.
#[derive(Clone, PartialEq, Debug)]
pub struct Loss {
    /// The strip.
    pub strip: StripId,
    /// What it does.
    pub effect: Effect,
    /// By how much the cost rises, labels aside. Unit: ΔE00·metre. Means nothing with [`Effect::NoSpare`].
    pub worse: f64,
    /// Labels that would change.
    pub labels: usize,
    /// Strips that would come into use.
    pub replacement: Vec<StripId>,
    /// Courses that would stay open and are covered now.
    pub open: Vec<CourseId>,
    /// How certain it is that one must; `None` where none would.
    pub grounds: Option<Grounds>,
}

/// What the loss of each strip would do that the job's earlier plan, which is the plan in force here, still has to cut
/// from.
pub fn losses(job: &Job, seed: u64) -> Vec<Loss> {
    let problem = Problem::new(job);
    let now = taken_up::state(&problem, earlier(job));
    let strips: Vec<StripId> = to_be_cut(&now).into_iter().collect();
    let loss = |strip: &StripId| loss(job, &problem, &now, *strip, seed);
    strips.par_iter().map(loss).collect()
}

/// A clock that ends nothing.
fn unlimited() -> Clock<'static> {
    Clock::new(None, &Quiet)
}

/// The strips that some piece is still to be cut from.
fn to_be_cut(state: &State) -> BTreeSet<StripId> {
    let rows = 0..state.problem.rows.len();
    rows.flat_map(|row| state.timber(row).iter())
        .flat_map(|part| {
            part.loose_sides()
                .map(|side| StripId(part.wood[side] as usize))
        })
        .collect()
}

/// The problem without some strips, what is glued of them aside.
fn without(problem: &Problem, lost: &[StripId]) -> Problem {
    let mut less = problem.clone();
    for strip in lost {
        less.woods[strip.0].clear.clear();
    }
    less
}

fn loss(job: &Job, problem: &Problem, now: &State, strip: StripId, seed: u64) -> Loss {
    let less = without(problem, &[strip]);
    let first = taken_up::state(&less, earlier(job));
    let rounds = if too_short(&less).is_some() {
        0
    } else {
        ROUNDS
    };
    let mut state = nearest(job, &less, Upset::Least, seed, rounds, &unlimited());
    let grounds = (state.open() > now.open()).then(|| match now.open() {
        0 => closed_for_certain(&mut state, &first, Upset::Least, &|| false),
        // That a course must stay open says nothing of this strip where one does already.
        _ => Some(Grounds::NotFound),
    });
    let grounds = grounds.flatten();
    let looks = |state: &State| {
        let terms = state.terms();
        terms.total() - terms.moved
    };
    let worse = looks(&state) - looks(now);
    let open: Vec<CourseId> = (0..problem.rows.len())
        .filter(|&row| state.timber(row).is_empty() && !now.timber(row).is_empty())
        .map(CourseId)
        .collect();
    Loss {
        strip,
        effect: match worse {
            _ if !open.is_empty() => Effect::NoSpare,
            worse if worse < NOTHING => Effect::None,
            _ => Effect::Worse,
        },
        worse,
        labels: 2 * state.moved().saturating_sub(now.moved()),
        replacement: to_be_cut(&state)
            .difference(&to_be_cut(now))
            .copied()
            .collect(),
        open,
        grounds,
    }
}

/// The chance that every course can still be covered.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Chance {
    /// The part of the samples in which it could: no more than the true chance, since a plan may have been missed.
    pub closes: f64,
    /// Its standard error.
    pub error: f64,
    /// How many times the strips were thrown.
    pub samples: u32,
}

/// How likely the job still closes if each strip that is not laid breaks, and is lost whole, with some probability.
///
/// Drawn from the seed: the same seed gives the same figure on any number of threads.
pub fn chance(job: &Job, probability: f64, samples: u32, seed: u64) -> Chance {
    let problem = Problem::new(job);
    let now = taken_up::state(&problem, earlier(job));
    let needed = to_be_cut(&now);
    let mut at_risk: Vec<StripId> = Vec::new();
    for (i, wood) in problem.woods.iter().enumerate() {
        if !wood.clear.is_empty() {
            at_risk.push(StripId(i));
        }
    }
    let closes = |sample: &u32| {
        let mut rng = stream(seed, *sample as usize);
        let broken: Vec<StripId> = at_risk
            .iter()
            .copied()
            .filter(|_| rng.random_bool(probability))
            .collect();
        if now.open() == 0 && broken.iter().all(|strip| !needed.contains(strip)) {
            return true;
        }
        let less = without(&problem, &broken);
        if too_short(&less).is_some() {
            return false;
        }
        let mut state = taken_up::state(&less, earlier(job));
        close_quickly(&mut state, &mut rng);
        if state.open() > 0 {
            state = taken_up::state(&less, earlier(job));
            // Whether it closes is all that is asked: chains only make it cheaper.
            mend(&mut state, &|_| None, Upset::Least, &mut rng, &unlimited());
        }
        state.open() == 0
    };
    let good = (0..samples).into_par_iter().filter(closes).count();
    let part = good as f64 / f64::from(samples.max(1));
    Chance {
        closes: part,
        error: (part * (1.0 - part) / f64::from(samples.max(1))).sqrt(),
        samples,
    }
}
