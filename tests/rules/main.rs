//! The ten hard rules: good plans pass, and every way of spoiling one is caught.

use crate::common;

mod edges;
mod nonsense;
mod spoiled;
mod words;

use common::naive::{Habit, plan};
use common::{Size, random_job};
use twinstrake::check::check;

#[test]
fn every_plan_of_the_plain_planner_keeps_every_rule() {
    let (mut joints, mut laid, mut open) = (0, 0, 0);
    for seed in 0..150 {
        for size in [Size::Tiny, Size::Small, Size::Medium] {
            let job = random_job(seed, size);
            for habit in [Habit::FewJoints, Habit::ManyJoints] {
                let plan = plan(&job, habit);
                let verdict = check(&job, &plan);
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
    // That it is not only said of plans without joints, or of empty ones.
    assert!(
        joints > 1000 && laid > 3000 && open > 200,
        "{joints} {laid} {open}"
    );
}
