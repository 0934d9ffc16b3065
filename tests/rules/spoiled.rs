//! One spoiled plan for each way of breaking each rule.

use std::collections::BTreeMap;

use super::common::naive::{Habit, plan};
use super::common::{Corruption, Size, corruptions, every_way, random_job};
use twinstrake::check::check;

/// How often each way must have been tried to count as tried.
const OFTEN: usize = 20;

#[test]
fn every_way_of_spoiling_a_good_plan_is_caught_under_its_rule() {
    let mut tried: BTreeMap<&str, usize> = every_way().map(|(_, what)| (what, 0)).collect();
    for seed in 0..150 {
        let size = if seed % 3 == 0 {
            Size::Medium
        } else {
            Size::Small
        };
        let job = random_job(seed, size);
        for habit in [Habit::FewJoints, Habit::ManyJoints] {
            let good = plan(&job, habit);
            assert!(check(&job, &good).is_good(), "seed {seed}");
            for Corruption {
                rule,
                what,
                job,
                plan,
            } in corruptions(&job, &good, seed)
            {
                let verdict = check(&job, &plan);
                let caught = verdict.breaches.iter().any(|breach| breach.rule() == rule);
                assert!(
                    caught,
                    "seed {seed}: {what}: not caught, but {:?}",
                    verdict.breaches
                );
                *tried.get_mut(what).unwrap() += 1;
            }
        }
    }
    let seldom: Vec<_> = tried.iter().filter(|(_, times)| **times < OFTEN).collect();
    assert!(seldom.is_empty(), "hardly tried: {seldom:?}");
}

#[test]
fn there_is_a_way_of_spoiling_every_rule() {
    for rule in 1..=10 {
        assert!(every_way().any(|(of, _)| of == rule), "rule {rule}");
    }
}

#[test]
fn what_is_laid_may_stay_as_it_lies() {
    for seed in 0..20 {
        let mut job = random_job(seed, Size::Small);
        let plan = plan(&job, Habit::ManyJoints);
        job.laid = plan.pieces.clone();
        assert!(check(&job, &plan).is_good(), "seed {seed}");
    }
}
