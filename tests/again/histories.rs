//! Random boats, of which some pieces are laid in the order of laying, some strips break and some are lost, over and
//! over.

use super::asked;
use super::common::naive::{Habit, plan as naive};
use super::common::{Size, many, random_job};
use proptest::prelude::*;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use twinstrake::check::check;
use twinstrake::check::tolerance::costs_agree;
use twinstrake::hull::{CourseId, Side};
use twinstrake::job::Job;
use twinstrake::plan::Piece;
use twinstrake::solve::{Asked, Quiet, Upset, lay, lay_again};
use twinstrake::stock::{Defect, merged};
use twinstrake::units::U;

fn place(piece: &Piece) -> (CourseId, Side, u32) {
    (piece.course, piece.side, piece.number)
}

/// Lays some pieces as planned: mostly the next ones, now and then any.
fn lay_some(job: &mut Job, plan: &[Piece], rng: &mut Pcg64) {
    for _ in 0..rng.random_range(0..4) {
        let mut open = plan
            .iter()
            .filter(|piece| !job.laid.iter().any(|laid| place(laid) == place(piece)));
        let next = if rng.random_bool(0.8) {
            0
        } else {
            rng.random_range(0..6)
        };
        if let Some(piece) = open.nth(next) {
            job.laid.push(piece.clone());
        }
    }
}

/// Breaks a strip somewhere, or loses it, as the log would: never where it is laid.
fn hurt(job: &mut Job, rng: &mut Pcg64) {
    let at = rng.random_range(0..job.stock.strips.len());
    let laid = job.laid.iter().filter(|piece| piece.strip.0 == at);
    let mut cuts: Vec<(U, U)> = laid.map(|piece| (piece.cut_from, piece.cut_to)).collect();
    cuts.sort();
    let strip = &mut job.stock.strips[at];
    if rng.random_bool(0.5) {
        let place = U::at(strip.length * rng.random::<f64>());
        if cuts.iter().all(|(from, to)| place <= *from || *to <= place) {
            strip.defects.push(Defect {
                from: place,
                to: place,
            });
        }
    } else {
        let mut from = U::ORIGIN;
        for (cut_from, cut_to) in cuts
            .into_iter()
            .chain([(U::at(strip.length), U::at(strip.length))])
        {
            if from < cut_from {
                strip.defects.push(Defect { from, to: cut_from });
            }
            from = cut_to;
        }
    }
    strip.defects = merged(strip.defects.clone());
}

/// Cuts some pieces as planned: never those whose wood is gone.
fn cut_some(job: &mut Job, plan: &[Piece], rng: &mut Pcg64) {
    let saw = job.rules.allow.saw;
    for _ in 0..rng.random_range(0..4) {
        let piece = &plan[rng.random_range(0..plan.len())];
        let strip = &mut job.stock.strips[piece.strip.0];
        let end = U::at(strip.length);
        let spoiled = |d: &Defect| d.from < piece.cut_to && piece.cut_from < d.to;
        if strip.defects.iter().any(spoiled) || strip.kerfs.iter().any(spoiled) {
            continue;
        }
        if piece.cut_from > U::ORIGIN {
            strip.kerfs.push(Defect {
                from: (piece.cut_from - saw).max(U::ORIGIN),
                to: piece.cut_from,
            });
        }
        if piece.cut_to < end {
            strip.kerfs.push(Defect {
                from: piece.cut_to,
                to: (piece.cut_to + saw).min(end),
            });
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: many(5) as u32, failure_persistence: None, ..ProptestConfig::default() })]

    /// Laid pieces never move, every plan passes the checker, and search and checker agree on every term of the cost.
    #[test]
    fn whatever_breaks_what_is_laid_stays_and_the_plan_is_good(seed in any::<u64>()) {
        let mut job = random_job(seed, Size::Small);
        let mut rng = Pcg64::seed_from_u64(seed);
        let mut plan = naive(&job, Habit::ManyJoints);
        for day in 0..3 {
            lay_some(&mut job, &plan.pieces, &mut rng);
            if !plan.pieces.is_empty() {
                cut_some(&mut job, &plan.pieces, &mut rng);
            }
            for _ in 0..rng.random_range(0..3) {
                hurt(&mut job, &mut rng);
            }
            job.earlier = if rng.random_bool(0.95) { Some(plan) } else { None };
            let upset = if rng.random_bool(0.3) { Upset::ReplacedOnly } else { Upset::Least };
            // What a first look leaves is searched on from only now and then: that takes longest.
            let asked = Asked { rounds: Some(u64::from(rng.random_bool(0.25))), ..asked(seed) };
            let outcome = match job.earlier {
                Some(_) => lay_again(&job, upset, &asked, &Quiet),
                None => lay(&job, &asked, &Quiet),
            };
            let verdict = check(&job, &outcome.plan);
            prop_assert!(verdict.is_good(), "seed {seed}, day {day}: {:#?}", verdict.breaches);
            for (name, ours, theirs) in [
                ("seam", outcome.cost.seam, verdict.cost.seam),
                ("match", outcome.cost.matching, verdict.cost.matching),
                ("joint", outcome.cost.joint, verdict.cost.joint),
                ("drift", outcome.cost.drift, verdict.cost.drift),
                ("thrift", outcome.cost.thrift, verdict.cost.thrift),
                ("moved", outcome.cost.moved, verdict.cost.moved),
            ] {
                prop_assert!(costs_agree(ours, theirs), "seed {seed}, day {day}, {name}: {ours} {theirs}");
            }
            plan = outcome.plan;
        }
    }
}

#[test]
fn with_the_order_kept_only_courses_that_lost_wood_change() {
    let (mut changed, mut kept) = (0, 0);
    for seed in 0..40 {
        let mut job = random_job(seed, Size::Small);
        let mut rng = Pcg64::seed_from_u64(seed);
        let plan = naive(&job, Habit::ManyJoints);
        hurt(&mut job, &mut rng);
        let hit = |piece: &Piece| {
            let defects = job.stock.strip(piece.strip).defects.iter();
            let mut inside = defects.filter(|d| d.from < piece.cut_to && piece.cut_from < d.to);
            inside.next().is_some()
        };
        let courses: Vec<CourseId> = plan
            .pieces
            .iter()
            .filter(|p| hit(p))
            .map(|p| p.course)
            .collect();
        job.earlier = Some(plan.clone());
        let again = lay_again(&job, Upset::ReplacedOnly, &asked(seed), &Quiet).plan;
        for id in (0..job.hull.courses.len()).map(CourseId) {
            let of = |pieces: &[Piece]| -> Vec<Piece> {
                pieces
                    .iter()
                    .filter(|piece| piece.course == id)
                    .cloned()
                    .collect()
            };
            let was = of(&plan.pieces);
            if was.is_empty() || courses.contains(&id) {
                changed += 1;
                continue;
            }
            kept += 1;
            assert_eq!(of(&again.pieces), was, "seed {seed}, course {id:?}");
        }
    }
    assert!(changed > 5 && kept > 50, "{changed} changed, {kept} kept");
}

/// A course of which two of three pieces are glued loses the wood of the third: while it is open its joints are there
/// all the same, and no neighbour may put one near them.
#[test]
fn joints_of_a_course_that_is_half_glued_count_while_it_is_open() {
    let seed = 13_109_226_960_041_195_114;
    let mut job = random_job(seed, Size::Small);
    let mut rng = Pcg64::seed_from_u64(seed);
    let plan = naive(&job, Habit::ManyJoints);
    lay_some(&mut job, &plan.pieces, &mut rng);
    for _ in 0..rng.random_range(0..3) {
        hurt(&mut job, &mut rng);
    }
    assert_eq!(job.laid.len(), 2, "the seed lays two pieces");
    job.earlier = Some(plan);
    let again = lay_again(&job, Upset::Least, &asked(seed), &Quiet).plan;
    assert!(check(&job, &again).is_good());
}
