//! That random jobs and the plain planner's plans reach every corner of the model: a test over them is worth no more.

use crate::common;

use common::naive::{Habit, plan};
use common::{Size, random_job};
use twinstrake::hull::{End, Kind};
use twinstrake::job::Job;
use twinstrake::plan::{Edges, Piece, Plan, Want};

/// In how many of so many jobs something is found.
fn often(found: impl Fn(&Job, &Plan) -> bool) -> usize {
    let jobs = (0..60).map(|seed| {
        let job = random_job(seed, Size::Medium);
        let plan = plan(&job, Habit::ManyJoints);
        found(&job, &plan)
    });
    jobs.filter(|found| *found).count()
}

#[test]
fn the_same_seed_gives_the_same_job() {
    for size in [Size::Tiny, Size::Small, Size::Medium] {
        assert_eq!(random_job(7, size), random_job(7, size));
        assert_ne!(random_job(7, size), random_job(8, size));
    }
}

#[test]
fn random_jobs_are_as_large_as_they_say() {
    for (size, most) in [(Size::Tiny, 4), (Size::Small, 12), (Size::Medium, 36)] {
        for seed in 0..50 {
            let courses = random_job(seed, size).hull.courses.len();
            assert!((1..=most).contains(&courses));
        }
    }
}

#[test]
fn random_boats_reach_every_corner_of_the_model() {
    assert!(often(|job, _| job.hull.panels.len() == 3) > 5);
    assert!(often(|job, _| job.hull.courses.iter().any(|c| c.kind == Kind::Centre)) > 5);
    assert!(often(|job, _| job.hull.courses.iter().any(|c| c.stern_end == End::Free)) > 5);
    assert!(often(|job, _| job.hull.courses.iter().any(|c| c.length != c.to - c.from)) > 5);
    assert!(often(|job, _| job.hull.keep_clear.iter().any(|z| z.courses.is_some())) > 5);
    assert!(often(|job, _| job.hull.keep_clear.iter().any(|z| z.courses.is_none())) > 5);
    assert!(often(|job, _| !job.hull.show.is_empty()) > 5);
    assert!(often(|job, _| job.rules.edges != Edges::Square) > 5);
}

#[test]
fn random_racks_reach_every_corner_of_the_model() {
    let any = |job: &Job, found: fn(&twinstrake::stock::Strip) -> bool| {
        job.stock.strips.iter().any(found)
    };
    assert!(often(|job, _| any(job, |s| s.origin.is_none())) > 5);
    assert!(often(|job, _| any(job, |s| s.sister.is_some())) > 5);
    assert!(often(|job, _| any(job, |s| s.cull)) > 5);
    assert!(often(|job, _| any(job, |s| s.defects.iter().any(|d| d.from == d.to))) > 5);
    assert!(often(|job, _| any(job, |s| s.defects.iter().any(|d| d.from < d.to))) > 5);
}

#[test]
fn random_wishes_reach_every_corner_of_the_model() {
    let want = |job: &Job, found: fn(&Want) -> bool| job.wants.iter().any(found);
    assert!(often(|job, _| want(job, |want| want.wood.is_some())) > 5);
    assert!(often(|job, _| want(job, |want| !want.boards.is_empty())) > 5);
    assert!(often(|job, _| want(job, |want| !want.strips.is_empty())) > 5);
    assert!(often(|job, _| want(job, |want| want.keep)) > 5);
    assert!(often(|job, _| want(job, |want| want.courses.is_none())) > 2);
    assert!(often(|job, _| want(job, |want| want.accent.is_some())) > 5);
    assert!(often(|job, _| job.wants.len() > 1) > 5);
    assert!(often(|job, _| job.hull.panels.iter().any(|panel| panel.drift.is_some())) > 5);
    // And they are met: something lies where it is wanted, and beside an accent.
    let lies = |job: &Job, plan: &Plan, want: &Want| {
        let here = |piece: &Piece| want.covers(job.hull.course(piece.course));
        plan.pieces.iter().any(here)
    };
    assert!(often(|job, plan| job.wants.iter().any(|want| lies(job, plan, want))) > 5);
    let accents = |job: &Job| {
        job.wants
            .iter()
            .filter(|want| want.accent.is_some())
            .cloned()
            .collect::<Vec<_>>()
    };
    assert!(often(|job, plan| accents(job).iter().any(|want| lies(job, plan, want))) > 5);
    let ported = |seed| {
        random_job(seed, Size::Small)
            .wants
            .iter()
            .any(|want| want.port.is_some())
    };
    assert!((0..200).filter(|seed| ported(*seed)).count() > 2);
}

#[test]
fn plans_of_random_jobs_reach_every_corner_of_the_model() {
    assert!(often(|_, plan| plan.uncovered.is_empty()) > 5);
    assert!(often(|_, plan| !plan.uncovered.is_empty()) > 5);
    assert!(often(|_, plan| plan.pieces.iter().any(|piece| piece.number == 3)) > 5);
    let foster = |job: &Job, plan: &Plan| {
        plan.pieces.iter().any(|piece| {
            let mate = piece.mate;
            mate.is_some_and(|mate| job.stock.seq_apart(piece.strip, mate).is_none())
        })
    };
    assert!(often(foster) > 5);
    let fed_twice = |_: &Job, plan: &Plan| {
        let mut strips: Vec<_> = plan.pieces.iter().map(|piece| piece.strip).collect();
        let all = strips.len();
        strips.sort();
        strips.dedup();
        strips.len() < all
    };
    assert!(often(fed_twice) > 5);
}
