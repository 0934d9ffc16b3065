//! What must not break: every strip lost in turn, and many at once by chance.

use super::certain::closed_for_certain;
use super::mend::{close_quickly, mend};
use super::{ROUNDS, Upset, earlier, nearest};
use crate::hull::CourseId;
use crate::job::Job;
use crate::solve::asked::{Grounds, Watch};
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
use std::sync::atomic::{AtomicUsize, Ordering};

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

/// How long a plan without a strip was looked for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Care {
    /// Only until there was one way to close each course: there may be a better one.
    Short,
    /// As planning again begins.
    Full,
}

impl Care {
    /// The word written in files.
    pub const fn name(self) -> &'static str {
        match self {
            Care::Short => "short",
            Care::Full => "full",
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
    /// How long that plan was looked for.
    pub care: Care,
}

/// The strips that are not laid yet, and what there is to do without them. The job's earlier plan is the one in force
/// here.
pub struct Stakes<'j> {
    job: &'j Job,
    problem: Problem,
    needed: Vec<StripId>,
}

impl<'j> Stakes<'j> {
    /// What is at stake in this job.
    pub fn of(job: &'j Job) -> Stakes<'j> {
        let problem = Problem::new(job);
        let needed = to_be_cut(&taken_up::state(&problem, earlier(job)));
        Stakes {
            job,
            needed: needed.into_iter().collect(),
            problem,
        }
    }

    /// How many strips some piece is still to be cut from.
    pub fn strips(&self) -> usize {
        self.needed.len()
    }

    /// What the loss of each of them would do if each course that it opens were closed by the first way that turns up.
    /// Once the watcher wants it ended, the others are left out.
    pub fn roughly(&self, seed: u64, watch: &dyn Watch) -> Vec<Loss> {
        let now = self.now();
        let rough = |strip: &StripId| {
            let less = without(&self.problem, &[*strip]);
            let mut state = taken_up::state(&less, earlier(self.job));
            let stop = || watch.stop();
            close_quickly(&mut state, &mut stream(seed, 0), &stop);
            let grounds = (state.open() > now.open()).then_some(Grounds::NotFound);
            (!stop()).then(|| lost(&now, &state, *strip, grounds, Care::Short))
        };
        self.needed.par_iter().filter_map(rough).collect()
    }

    /// The same, looked into as planning again begins. `done` is told how many are, one after the other. Those that are
    /// not when the watcher wants it ended stay as they are.
    pub fn in_full(
        &self,
        rough: Vec<Loss>,
        seed: u64,
        watch: &dyn Watch,
        done: &(dyn Fn(usize) + Sync),
    ) -> Vec<Loss> {
        let (now, count) = (self.now(), AtomicUsize::new(0));
        let full = |rough: Loss| {
            let found = (!watch.stop()).then(|| self.loss(&now, rough.strip, seed, watch));
            let found = found.filter(|_| !watch.stop());
            done(1 + count.fetch_add(1, Ordering::Relaxed));
            found.unwrap_or(rough)
        };
        rough.into_par_iter().map(full).collect()
    }

    fn now(&self) -> State<'_> {
        taken_up::state(&self.problem, earlier(self.job))
    }

    fn loss(&self, now: &State, strip: StripId, seed: u64, watch: &dyn Watch) -> Loss {
        let (job, clock) = (self.job, Clock::new(None, watch));
        let less = without(&self.problem, &[strip]);
        let first = taken_up::state(&less, earlier(job));
        let rounds = if too_short(&less).is_some() {
            0
        } else {
            ROUNDS
        };
        let mut state = nearest(job, &less, Upset::Least, seed, rounds, &clock);
        let grounds = (state.open() > now.open()).then(|| match now.is_covered() {
            true => closed_for_certain(&mut state, &first, Upset::Least, &clock),
            // That a course must stay open says nothing of this strip where one does already.
            false => Some(Grounds::NotFound),
        });
        lost(now, &state, strip, grounds.flatten(), Care::Full)
    }

    /// How likely the job still closes if each strip that is not laid breaks, and is lost whole, with some probability.
    ///
    /// Drawn from the seed: the same seed gives the same figure on any number of threads. Once the watcher wants it
    /// ended, what was drawn by then counts.
    pub fn chance(&self, probability: f64, samples: u32, seed: u64, watch: &dyn Watch) -> Chance {
        let (problem, job, now) = (&self.problem, self.job, self.now());
        let (clock, stop) = (Clock::new(None, watch), || watch.stop());
        let needed = |strip: &StripId| self.needed.binary_search(strip).is_ok();
        let strips = problem.woods.iter().enumerate();
        let at_risk = strips.filter(|(_, wood)| !wood.clear.is_empty());
        let at_risk: Vec<StripId> = at_risk.map(|(i, _)| StripId(i)).collect();
        let closes = |sample: u32| {
            let mut rng = stream(seed, sample as usize);
            let broken: Vec<StripId> = at_risk
                .iter()
                .copied()
                .filter(|_| rng.random_bool(probability))
                .collect();
            if now.is_covered() && !broken.iter().any(needed) {
                return true;
            }
            let less = without(problem, &broken);
            if too_short(&less).is_some() {
                return false;
            }
            let mut state = taken_up::state(&less, earlier(job));
            close_quickly(&mut state, &mut rng, &stop);
            if !state.is_covered() {
                state = taken_up::state(&less, earlier(job));
                // Whether it closes is all that is asked: chains only make it cheaper.
                mend(&mut state, &|_| None, Upset::Least, &mut rng, &clock);
            }
            state.is_covered()
        };
        // What was begun when the end came proves nothing.
        let drawn = |sample| {
            let closes = !stop() && closes(sample);
            (!stop()).then_some(closes)
        };
        let drawn: Vec<bool> = (0..samples).into_par_iter().filter_map(drawn).collect();
        let count = |all: usize| all as f64 / drawn.len().max(1) as f64;
        let part = count(drawn.iter().filter(|closes| **closes).count());
        Chance {
            closes: part,
            error: (part * (1.0 - part) / drawn.len().max(1) as f64).sqrt(),
            samples: drawn.len(),
        }
    }
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

/// What it does that a strip is lost: a plan without it against the one in force.
fn lost(
    now: &State,
    without: &State,
    strip: StripId,
    grounds: Option<Grounds>,
    care: Care,
) -> Loss {
    let looks = |state: &State| {
        let terms = state.terms();
        terms.total() - terms.moved
    };
    let worse = looks(without) - looks(now);
    let open: Vec<CourseId> = (0..now.problem.rows.len())
        .filter(|&row| without.timber(row).is_empty() && !now.timber(row).is_empty())
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
        labels: 2 * without.moved().saturating_sub(now.moved()),
        replacement: to_be_cut(without)
            .difference(&to_be_cut(now))
            .copied()
            .collect(),
        open,
        grounds,
        care,
    }
}

/// The chance that every course can still be covered.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Chance {
    /// The part of the samples in which it could: no more than the true chance, since a plan may have been missed.
    pub closes: f64,
    /// Its standard error.
    pub error: f64,
    /// How many times it was drawn.
    pub samples: usize,
}
