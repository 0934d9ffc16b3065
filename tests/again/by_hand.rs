//! Small boats, worked out by hand.

use super::asked;
use super::common::{Builder, boat, mm};
use twinstrake::check::check;
use twinstrake::hull::Toward;
use twinstrake::job::Job;
use twinstrake::plan::{Piece, Plan};
use twinstrake::solve::{Quiet, lay};
use twinstrake::stock::Defect;
use twinstrake::units::U;

fn lay_it(job: &Job) -> Plan {
    let outcome = lay(job, &asked(1), &Quiet);
    let verdict = check(job, &outcome.plan);
    assert!(verdict.is_good(), "{:#?}", verdict.breaches);
    outcome.plan
}

fn lose(job: &mut Job, name: &str) {
    let lost = job.stock.named(name).unwrap();
    let strip = &mut job.stock.strips[lost.0];
    strip.defects = vec![Defect {
        from: U::ORIGIN,
        to: U::at(strip.length),
    }];
}

fn names(job: &Job, plan: &Plan) -> Vec<String> {
    let name = |piece: &Piece| job.stock.strip(piece.strip).name.clone();
    let mut names: Vec<String> = plan.pieces.iter().map(name).collect();
    names.sort();
    names
}

/// A panel of so many courses, 3 m long, and no wood yet.
fn side_of(courses: usize) -> Builder {
    boat()
        .panel("side", Toward::Keel)
        .courses(courses, 0.0, 3000.0)
}

/// Three courses of 3 m from one board of eight slices: three pairs are laid, one is left.
fn one_board() -> Job {
    side_of(3).board("oak", 8, 3100.0, 5).build()
}

#[test]
fn a_lost_strip_is_replaced_by_the_spare_pair() {
    let mut job = one_board();
    let plan = lay_it(&job);
    let lost = job.stock.strip(plan.pieces[0].strip).name.clone();
    job.earlier = Some(plan.clone());
    lose(&mut job, &lost);
    let again = lay_it(&job);
    assert!(again.uncovered.is_empty());
    assert!(!names(&job, &again).contains(&lost));
}

#[test]
fn the_pairs_move_on_along_the_board_where_that_is_better() {
    // Slices 1 to 5 of a board and a spare pair of quite another colour. With slice 1 gone, 2 has no sister but 3, so
    // 4 must go to 5: two courses keep their match, and the other pair is not needed. Labels are cheap here.
    let mut job = side_of(2)
        .board("oak", 5, 3100.0, 5)
        .board("teak", 2, 3100.0, 1)
        .build();
    job.weights.relabel = 0.1;
    let plan = lay_it(&job);
    assert_eq!(names(&job, &plan), ["oak-01", "oak-02", "oak-03", "oak-04"]);
    job.earlier = Some(plan);
    lose(&mut job, "oak-01");
    let again = lay_it(&job);
    assert_eq!(
        names(&job, &again),
        ["oak-02", "oak-03", "oak-04", "oak-05"]
    );
    for piece in &again.pieces {
        assert!(job.stock.are_sisters(piece.strip, piece.mate.unwrap()));
    }
}

#[test]
fn several_pairs_follow_each_other_along_a_board() {
    // Three courses from slices 1 to 6; 7 is left. With 1 gone, 2 could go with 7 for one label, but five slices
    // apart that is 0.6 x 4 ΔE00 a metre over 3 m, and 2 shows its other face all the same. 2-3, 4-5 and 6-7 are
    // sisters all, for new labels on all six at 1 each.
    let mut job = side_of(3).board("oak", 7, 3100.0, 5).build();
    let plan = lay_it(&job);
    assert_eq!(names(&job, &plan)[5], "oak-06");
    job.earlier = Some(plan);
    lose(&mut job, "oak-01");
    let again = lay_it(&job);
    for piece in &again.pieces {
        assert!(job.stock.are_sisters(piece.strip, piece.mate.unwrap()));
    }
    assert_eq!(check(&job, &again).cost.moved, 6.0);
}

#[test]
fn dear_labels_stay_where_they_are() {
    // The same, but each label costs more than any look: only the place of the lost strip gets another.
    let mut job = side_of(2)
        .board("oak", 5, 3100.0, 5)
        .board("teak", 2, 3100.0, 1)
        .build();
    let plan = lay_it(&job);
    job.weights.relabel = 10_000.0;
    job.earlier = Some(plan.clone());
    lose(&mut job, "oak-01");
    let again = lay_it(&job);
    let same = plan.pieces.iter().filter(|was| {
        let mut now = again.pieces.iter();
        now.any(|is| {
            (is.course, is.side, is.number, is.strip)
                == (was.course, was.side, was.number, was.strip)
        })
    });
    assert_eq!(same.count(), 3);
    assert_eq!(check(&job, &again).cost.moved, 10_000.0);
}

#[test]
fn a_broken_strip_serves_as_two_remnants() {
    // One course of 3 m, one pair of 3.1 m, broken 1.5 m from its marked end: what is left of it, scarfed at the
    // break, would be too short (two scarf halves of 24 mm are lost), so with nothing else the course stays open;
    // with a spare of 1.7 m it closes.
    let tight = side_of(1).board("oak", 2, 3100.0, 5);
    let mut job = tight.build();
    job.earlier = Some(lay_it(&job));
    for strip in &mut job.stock.strips {
        strip.length = mm(3070.0);
        let at = U::at(mm(1500.0));
        strip.defects = vec![Defect { from: at, to: at }];
    }
    assert_eq!(lay_it(&job).uncovered.len(), 1);

    let mut job = side_of(1)
        .board("oak", 2, 3100.0, 5)
        .board("ash", 2, 1700.0, 5)
        .build();
    job.earlier = Some(lay_it(&job));
    for strip in job
        .stock
        .strips
        .iter_mut()
        .filter(|s| s.name.starts_with("oak"))
    {
        let at = U::at(mm(1500.0));
        strip.defects = vec![Defect { from: at, to: at }];
    }
    let again = lay_it(&job);
    assert!(again.uncovered.is_empty());
    assert_eq!(again.pieces.len(), 4, "two pieces on each side");
}

#[test]
fn a_laid_piece_gets_a_new_mate_when_its_own_breaks() {
    let mut job = one_board();
    let plan = lay_it(&job);
    job.laid = vec![plan.pieces[0].clone()];
    let mate = plan.pieces[0].mate.unwrap();
    job.earlier = Some(plan.clone());
    let mate_name = job.stock.strip(mate).name.clone();
    lose(&mut job, &mate_name);
    let again = lay_it(&job);
    assert!(again.uncovered.is_empty());
    let laid = again
        .pieces
        .iter()
        .find(|piece| piece.strip == plan.pieces[0].strip)
        .unwrap();
    assert_eq!(
        (laid.cut_from, laid.from),
        (plan.pieces[0].cut_from, plan.pieces[0].from)
    );
    assert_ne!(laid.mate, Some(mate));
}

#[test]
fn a_course_that_can_t_be_finished_keeps_what_is_laid_and_is_told_open() {
    // Port is laid, the mate is lost, and there is no other wood at all: a shortage, not a broken plan.
    let mut job = side_of(1).board("oak", 2, 3100.0, 5).build();
    let plan = lay_it(&job);
    job.laid = vec![plan.pieces[0].clone()];
    job.earlier = Some(plan.clone());
    let mate_name = job.stock.strip(plan.pieces[0].mate.unwrap()).name.clone();
    lose(&mut job, &mate_name);
    let outcome = lay(&job, &asked(1), &Quiet);
    let verdict = check(&job, &outcome.plan);
    assert!(verdict.is_good(), "{:#?}", verdict.breaches);
    assert_eq!(outcome.plan.uncovered.len(), 1);
    assert_eq!(
        outcome.plan.pieces.len(),
        1,
        "the piece that the glue holds"
    );
    assert!(outcome.shortage.is_some());
}
