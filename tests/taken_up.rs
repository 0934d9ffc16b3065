//! A plan taken up again: the search goes on from it, and never ends with a worse one.

#![allow(clippy::unwrap_used)]

use crate::common;

use common::{AtOnce, Size, first_plan, many, random_job};
use twinstrake::check::check;
use twinstrake::job::Job;
use twinstrake::plan::Plan;
use twinstrake::solve::{Asked, Quiet, lay_from};
use twinstrake::units::Length;

/// Rows are what this is about: whether a course must stay open need not be decided.
fn asked(rounds: u64) -> Asked {
    Asked {
        seed: 3,
        rounds: Some(rounds),
        trial: true,
        ..Asked::default()
    }
}

fn open(job: &Job, plan: &Plan) -> Length {
    let courses = plan.uncovered.iter();
    courses.map(|id| job.hull.course(*id).length).sum()
}

#[test]
fn a_plan_taken_up_without_a_round_is_the_same_plan() {
    let mut jointed = 0;
    for seed in 0..many(24) {
        let job = random_job(seed, Size::Small);
        let first = first_plan(&job, seed);
        if first.uncovered.is_empty() {
            let again = lay_from(&job, &first, &asked(0), &AtOnce);
            assert_eq!(first, again.plan, "seed {seed}");
        }
        jointed += usize::from(check(&job, &first).joints > 0);
    }
    assert!(jointed >= 3, "only {jointed} plans had a joint");
}

#[test]
fn a_search_that_goes_on_from_a_plan_never_ends_with_a_worse_one() {
    for seed in 0..many(4) {
        let job = random_job(seed, Size::Small);
        let first = first_plan(&job, seed);
        let again = lay_from(&job, &first, &asked(1), &Quiet);
        let (before, after) = (check(&job, &first), check(&job, &again.plan));
        assert!(after.is_good(), "seed {seed}: {:?}", after.breaches);
        let (was, is) = (open(&job, &first), open(&job, &again.plan));
        assert!(is <= was, "seed {seed}: {is:?} open, {was:?} before");
        assert!(
            is < was || after.cost.total() <= before.cost.total() + 1e-6,
            "seed {seed}: {} after {}",
            after.cost.total(),
            before.cost.total()
        );
    }
}

#[test]
fn what_no_longer_holds_is_laid_anew() {
    // Twice the distance between joints, and a longer scarf: much of the plan can't stay.
    for seed in 0..many(4) {
        let job = random_job(seed, Size::Medium);
        let plan = first_plan(&job, seed);
        let mut other = job.clone();
        other.rules.joints.clear = job.rules.joints.clear * 2.0;
        other.rules.joints.slope = job.rules.joints.slope * 1.5;
        other.rules.allow.fitted_end = Length::ZERO;
        let again = lay_from(&other, &plan, &asked(0), &AtOnce);
        let verdict = check(&other, &again.plan);
        assert!(verdict.is_good(), "seed {seed}: {:?}", verdict.breaches);
    }
}

#[test]
fn rows_that_make_no_sense_are_not_taken_up() {
    for seed in 0..8 {
        let job = random_job(seed, Size::Small);
        let plan = first_plan(&job, seed);
        for bad in common::corruptions(&job, &plan, seed) {
            // Only what is wrong in the rows: some hands spoil the job instead.
            let again = lay_from(&job, &bad.plan, &asked(0), &AtOnce);
            let breaches = check(&job, &again.plan).breaches;
            assert!(
                breaches.is_empty(),
                "seed {seed}, {}: {breaches:?}",
                bad.what
            );
        }
    }
}
