//! Rows that no carpenter would write: the checker judges them all the same, and never calls them good.

use proptest::prelude::*;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use twinstrake::check::check;
use twinstrake::hull::{CourseId, Side};
use twinstrake::job::Job;
use twinstrake::plan::{BowEnd, Edge, Face, Piece, Plan};
use twinstrake::stock::StripId;
use twinstrake::units::{Length, S, U};

use super::common::naive::{Habit, plan};
use super::common::{Size, any_job, random_job};

/// A place anywhere: on the boat, far off it, or at the end of all numbers.
fn wild(rng: &mut Pcg64) -> Length {
    Length::from_nm(match rng.random_range(0..4) {
        0 => 0,
        1 => rng.random_range(-5_000_000_000..5_000_000_000),
        2 => rng.random(),
        _ => [i64::MIN, i64::MAX][rng.random_range(0..2)],
    })
}

fn wild_piece(rng: &mut Pcg64, job: &Job) -> Piece {
    let strip = |rng: &mut Pcg64| StripId(rng.random_range(0..job.stock.strips.len()));
    Piece {
        course: CourseId(rng.random_range(0..job.hull.courses.len())),
        side: [Side::Port, Side::Starboard, Side::Centre][rng.random_range(0..3)],
        number: [0, 1, 2, 3, u32::MAX][rng.random_range(0..5)],
        strip: strip(rng),
        mate: rng.random_bool(0.5).then(|| strip(rng)),
        from: S::at(wild(rng)),
        to: S::at(wild(rng)),
        cut_from: U::at(wild(rng)),
        cut_to: U::at(wild(rng)),
        bow_end: [BowEnd::Mark, BowEnd::Plain][rng.random_range(0..2)],
        next_edge: [Edge::A, Edge::B][rng.random_range(0..2)],
        face_out: [Face::High, Face::Low][rng.random_range(0..2)],
    }
}

/// Everything that is said must be sayable.
fn judged(job: &Job, plan: &Plan) -> usize {
    let verdict = check(job, plan);
    for breach in &verdict.breaches {
        assert!((1..=10).contains(&breach.rule()));
        assert!(
            breach
                .to_string()
                .ends_with(&format!("(rule {}).", breach.rule()))
        );
    }
    assert!(verdict.cost.total() >= 0.0);
    verdict.breaches.len()
}

proptest! {
    #[test]
    fn wild_rows_are_judged_and_never_good(seed in any::<u64>(), rows in 1usize..30) {
        let mut job = random_job(seed, Size::Small);
        let rng = &mut Pcg64::seed_from_u64(seed);
        let pieces = (0..rows).map(|_| wild_piece(rng, &job)).collect();
        let wild = Plan { pieces, uncovered: Vec::new() };
        job.earlier = Some(plan(&job, Habit::FewJoints));
        prop_assert!(judged(&job, &wild) > 0);
        job.laid = wild.pieces;
        prop_assert!(judged(&job, &job.earlier.clone().unwrap()) > 0);
    }

    #[test]
    fn one_wild_row_among_good_ones_spoils_the_plan(seed in any::<u64>()) {
        let job = random_job(seed, Size::Small);
        let mut plan = plan(&job, Habit::ManyJoints);
        let rng = &mut Pcg64::seed_from_u64(seed);
        let row = wild_piece(rng, &job);
        plan.pieces.push(row);
        prop_assert!(judged(&job, &plan) > 0);
    }

    #[test]
    fn rows_may_be_in_any_order(job in any_job(Size::Small)) {
        let mut plan = plan(&job, Habit::ManyJoints);
        let before = check(&job, &plan);
        plan.pieces.reverse();
        prop_assert_eq!(before, check(&job, &plan));
    }
}

#[test]
fn an_empty_plan_leaves_every_course_open() {
    let job = random_job(1, Size::Small);
    let sides: usize = job
        .hull
        .courses
        .iter()
        .map(|course| course.sides().len())
        .sum();
    assert_eq!(judged(&job, &Plan::default()), sides);
}
