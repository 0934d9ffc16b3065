//! A choice of plans: none beats another, each keeps every rule.

#![allow(clippy::unwrap_used)]

use crate::common;

use common::{Size, boat, many, random_job};
use twinstrake::check::check;
use twinstrake::choices::{Choices, choices};
use twinstrake::hull::Toward;
use twinstrake::job::Job;
use twinstrake::plan::Plan;
use twinstrake::solve::{Asked, Quiet, lay};

fn chosen(job: &Job, many: usize, rounds: u64) -> (Plan, Choices) {
    let asked = Asked {
        seed: 1,
        rounds: Some(rounds),
        ..Asked::default()
    };
    let first = lay(job, &asked, &Quiet);
    let plan = first.plan.clone();
    (plan, choices(job, first, many, &asked, &Quiet, &|_| {}))
}

/// Looks, joints and strips cut into, counted from the rows: less is better in each.
fn counts(job: &Job, plan: &Plan) -> (f64, usize, usize) {
    let verdict = check(job, plan);
    let looks = verdict.cost.total() - verdict.cost.thrift - verdict.cost.moved;
    let mut strips: Vec<usize> = plan.pieces.iter().map(|piece| piece.strip.0).collect();
    strips.sort_unstable();
    strips.dedup();
    let laid = job.hull.courses.len() - plan.uncovered.len();
    let sides = |id| job.hull.course(id).sides().len();
    let pieces: f64 = plan
        .pieces
        .iter()
        .map(|piece| 1.0 / sides(piece.course) as f64)
        .sum();
    (looks, pieces.round() as usize - laid, strips.len())
}

/// Thirteen courses of 4 m: short boards of one colour, and long pairs of all shades. What looks best has a joint in
/// every course.
fn mixed() -> Job {
    let boat = boat().panel("side", Toward::Keel).courses(13, 0.0, 4000.0);
    let boat = boat.board("s1", 26, 2300.0, 5).board("s2", 26, 2300.0, 5);
    (0..13u64)
        .fold(boat, |boat, i| {
            let shade = (i * i * 3 + 2) % 9 + 1;
            boat.board(&format!("b{i}"), 2, 4200.0, shade as u8)
        })
        .rules(|rules| rules.joints.clear_courses = 1)
        .build()
}

#[test]
fn no_plan_offered_beats_another_and_each_keeps_every_rule() {
    let job = mixed();
    let (_, choices) = chosen(&job, 4, 1);
    let all: Vec<(f64, usize, usize)> = choices
        .all
        .iter()
        .map(|choice| counts(&job, &choice.plan))
        .collect();
    for (choice, count) in choices.all.iter().zip(&all) {
        assert!(check(&job, &choice.plan).is_good());
        assert!(choice.plan.uncovered.is_empty());
        assert_eq!(choice.standing.joints, count.1);
    }
    for (i, one) in all.iter().enumerate() {
        for other in &all[i + 1..] {
            assert!(one.0 < other.0, "not by looks: {all:?}");
            let no_worse = one.1 <= other.1 && one.2 <= other.2;
            assert!(!no_worse, "{one:?} beats {other:?}");
        }
    }
    assert!((3..=4).contains(&all.len()), "{all:?}");
}

#[test]
fn the_plan_for_the_jobs_own_weights_is_no_dearer_than_the_first_and_its_cost_is_the_checkers() {
    for seed in 0..many(6) {
        let job = random_job(seed, Size::Tiny);
        let (first, choices) = chosen(&job, 3, 0);
        let cheapest = &choices.cheapest;
        let verdict = check(&job, &cheapest.plan);
        assert!(verdict.is_good(), "seed {seed}");
        assert!((verdict.cost.total() - cheapest.cost.total()).abs() < 1e-6);
        if cheapest.plan.uncovered == first.uncovered {
            let costs = [verdict.cost.total(), check(&job, &first).cost.total()];
            assert!(costs[0] <= costs[1] + 1e-6, "seed {seed}: {costs:?}");
        }
    }
}

#[test]
fn a_dull_pair_without_a_joint_and_a_fine_one_with_a_joint_are_both_offered() {
    // Two courses of 4 m; a seam between boards costs nothing more. Board A has one pair of 4.1 m, B two pairs of 2.2 m
    // of the same colour, C one pair of 4.1 m as dark as can be. A over B with a joint: both of one colour. A over C:
    // no joint, but a seam from light to dark.
    let job = boat()
        .panel("side", Toward::Keel)
        .courses(2, 0.0, 4000.0)
        .board("A", 2, 4100.0, 7)
        .board("B", 4, 2200.0, 7)
        .board("C", 2, 4100.0, 1)
        .weights(|weights| weights.board = 0.0)
        .build();
    let (_, choices) = chosen(&job, 3, 1);
    let joints: Vec<usize> = choices.all.iter().map(|c| c.standing.joints).collect();
    assert_eq!(joints, [1, 0]);
    let whole: Vec<usize> = choices.all.iter().map(|c| c.standing.whole).collect();
    assert_eq!(whole, [2, 4]);
}
