//! The checker against good plans.

mod common;

use common::naive::{Habit, plan};
use common::{Size, random_job};

#[test]
fn every_plan_of_the_plain_planner_keeps_every_rule() {
    let (mut joints, mut laid, mut open) = (0, 0, 0);
    for seed in 0..200 {
        for size in [Size::Tiny, Size::Small, Size::Medium] {
            let job = random_job(seed, size);
            for habit in [Habit::FewJoints, Habit::ManyJoints] {
                let plan = plan(&job, habit);
                let verdict = twinstrake::check::check(&job, &plan);
                let said: Vec<String> = verdict.breaches.iter().map(|b| b.to_string()).collect();
                assert_eq!(
                    said,
                    Vec::<String>::new(),
                    "seed {seed}, {size:?}, {habit:?}"
                );
                joints += verdict.joints;
                open += plan.uncovered.len();
                laid += job.hull.courses.len() - plan.uncovered.len();
            }
        }
    }
    println!("{joints} {laid} {open}");
    assert!(
        joints > 500 && laid > 3000 && open > 300,
        "the jobs are not varied enough"
    );
}
