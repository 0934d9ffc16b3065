//! Whether a job can be laid at all: tried out by the search, or proven not to be.

use super::proof::Proof;
use crate::job::Job;
use crate::plan::Plan;
use crate::solve::{Asked, Progress, Watch, lay};
use crate::units::Length;
use std::sync::atomic::{AtomicBool, Ordering};

/// How a trial ended.
#[derive(Clone, PartialEq, Debug)]
pub enum Trial {
    /// This plan covers every course.
    Possible(Plan),
    /// There is no such plan.
    Impossible(Proof),
    /// None was found. That proves nothing.
    NotFound,
}

impl Trial {
    /// Whether a plan was found.
    pub const fn is_possible(&self) -> bool {
        matches!(self, Trial::Possible(_))
    }
}

/// Tries to cover every course of a job, as cheaply as a trial can: the search ends with the first plan that does.
pub fn trial(job: &Job, asked: &Asked, watch: &dyn Watch) -> Trial {
    if job.hull.courses.is_empty() {
        return Trial::Possible(Plan::default());
    }
    if let Some(proof) = Proof::of(job) {
        return Trial::Impossible(proof);
    }
    // A first plan often does, and takes next to nothing.
    for seed in 0..FIRST_PLANS {
        let first = Asked {
            seed: asked.seed.wrapping_add(seed),
            rounds: Some(0),
            trial: true,
            ..*asked
        };
        let plan = lay(job, &first, &Stopped).plan;
        if plan.uncovered.is_empty() {
            return Trial::Possible(plan);
        }
        if watch.stop() {
            return Trial::NotFound;
        }
    }
    let covered = Covered {
        watch,
        reached: AtomicBool::new(false),
    };
    let asked = Asked {
        trial: true,
        ..*asked
    };
    let plan = lay(job, &asked, &covered).plan;
    if plan.uncovered.is_empty() {
        return Trial::Possible(plan);
    }
    Trial::NotFound
}

/// First plans tried before the search is.
const FIRST_PLANS: u64 = 12;

/// Lets a search do no more than a first plan.
struct Stopped;

impl Watch for Stopped {
    fn progress(&self, _: &Progress) {}

    fn stop(&self) -> bool {
        true
    }
}

/// Stops the search once every course is covered.
struct Covered<'w> {
    watch: &'w dyn Watch,
    reached: AtomicBool,
}

impl Watch for Covered<'_> {
    fn progress(&self, at: &Progress) {
        if at.uncovered == Length::ZERO {
            self.reached.store(true, Ordering::Relaxed);
        }
    }

    fn stop(&self) -> bool {
        self.watch.stop() || self.reached.load(Ordering::Relaxed)
    }
}
