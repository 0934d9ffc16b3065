//! A band that the stop line cuts in two: 2a and 2b lie one behind the other between courses 1 and 3.
#![allow(clippy::unwrap_used)]

use crate::common;

use common::{Cut, boat, complete, lay_course, lay_whole};
use twinstrake::check::check;
use twinstrake::hull::{CourseId, Side, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Plan, in_laying_order};
use twinstrake::solve::{Asked, Quiet, lay};
use twinstrake::units::{Colour, Length, S, delta_e};

fn grey(lightness: f64) -> Colour {
    Colour::lab(lightness, 0.0, 0.0)
}

/// Courses 1 and 3 run through; 2a covers the first two metres, 2b the last 1.5. Four boards of one colour each.
fn cut_band() -> Job {
    let colours = [50.0, 52.0, 55.0, 51.0];
    let mut job = boat()
        .panel("side", Toward::Keel)
        .course(0.0, 4000.0)
        .course(0.0, 2000.0)
        .called("2a")
        .course(2500.0, 4000.0)
        .called("2b")
        .course(0.0, 4000.0)
        .called("3");
    for (i, lightness) in colours.into_iter().enumerate() {
        let board = format!("b{i}");
        for seq in 1..=2 {
            let name = format!("{board}-{seq}");
            job = job.strip(&name, &board, seq, 4200.0, grey(lightness));
        }
    }
    job.weights(|weights| {
        (weights.board, weights.foster, weights.cut) = (0.0, 0.0, 0.0);
    })
    .build()
}

fn laid(job: &Job) -> Plan {
    let rows = (0..4).flat_map(|i| {
        let cut = Cut::pair(job, &format!("b{i}-1"), &format!("b{i}-2"), 50.0);
        lay_whole(job, i, cut)
    });
    complete(job, rows.collect())
}

#[test]
fn a_cut_band_is_met_from_both_sides_by_both_of_its_stretches() {
    let job = cut_band();
    let verdict = check(&job, &laid(&job));
    assert!(verdict.is_good(), "{:?}", verdict.breaches);
    // By hand, in metres: 1 meets 2a over 2 and 2b over 1.5; so does 3; 2a and 2b don't meet; two sides.
    let step = |a: f64, b: f64| delta_e(grey(a), grey(b));
    let one_side = 2.0 * step(50.0, 52.0)
        + 1.5 * step(50.0, 55.0)
        + 2.0 * step(52.0, 51.0)
        + 1.5 * step(55.0, 51.0);
    assert!(
        (verdict.cost.seam - 2.0 * one_side).abs() < 1e-9,
        "{}",
        verdict.cost.seam
    );
    let pairs: Vec<String> = verdict
        .seams
        .iter()
        .filter(|seam| seam.side == Side::Port)
        .map(|seam| {
            format!(
                "{}-{}",
                job.hull.course(seam.upper).name(),
                job.hull.course(seam.lower).name()
            )
        })
        .collect();
    assert_eq!(pairs, ["1-2a", "1-2b", "2a-3", "2b-3"]);
}

#[test]
fn the_planner_lays_a_cut_band_and_its_cost_is_the_checkers() {
    let job = cut_band();
    let asked = Asked {
        seed: 1,
        rounds: Some(3),
        seconds: None,
        threads: Some(1),
        ..Asked::default()
    };
    let outcome = lay(&job, &asked, &Quiet);
    let verdict = check(&job, &outcome.plan);
    assert!(verdict.is_good() && outcome.plan.uncovered.is_empty());
    assert!((verdict.cost.seam - outcome.cost.seam).abs() < 1e-9);
    // With joints allowed the planner may do better than the plan laid by hand, never worse.
    assert!(verdict.cost.total() <= check(&job, &laid(&job)).cost.total() + 1e-9);
}

#[test]
fn stretches_are_laid_after_the_band_before_them_and_from_the_bow_aft() {
    let job = cut_band();
    let mut pieces = laid(&job).pieces;
    pieces.reverse();
    in_laying_order(&job.hull, &mut pieces);
    let names: Vec<String> = pieces
        .iter()
        .map(|piece| {
            format!(
                "{} {}",
                job.hull.course(piece.course).name(),
                piece.side.name()
            )
        })
        .collect();
    assert_eq!(
        names,
        [
            "1 port",
            "1 starboard",
            "2a starboard",
            "2b starboard",
            "2a port",
            "2b port",
            "3 port",
            "3 starboard"
        ]
    );
}

#[test]
fn joints_of_two_stretches_of_one_band_keep_clear_of_each_other() {
    let mut job = cut_band();
    // 2a ends at 2000 and 2b begins at 2500; joints 700 mm from those ends are 1900 mm apart.
    for (clear, breaches) in [(1900.0, 0), (1901.0, 2)] {
        job.rules.joints.clear = Length::from_mm(clear);
        let row = |course: usize, first: usize, at: f64| {
            let cut = |i: usize| Cut::pair(&job, &format!("b{i}-1"), &format!("b{i}-2"), 50.0);
            let cuts = [cut(first), cut(first + 1)];
            lay_course(&job, CourseId(course), &[S::from_mm(at)], &cuts)
        };
        let rows = [row(1, 0, 1300.0), row(2, 2, 700.0)].concat();
        let verdict = check(&job, &complete(&job, rows));
        assert_eq!(verdict.breaches.len(), breaches, "{:?}", verdict.breaches);
        assert!(verdict.breaches.iter().all(|breach| breach.rule() == 6));
    }
}
