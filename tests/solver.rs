//! What the search writes, judged by the checker, on random jobs of every kind.

use crate::common;

use common::{AtOnce, Size, boat, bought, corruptions, first_plan, many, random_job};
use proptest::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering::Relaxed};
use twinstrake::check::check;
use twinstrake::hull::Toward;
use twinstrake::invented::full_length;
use twinstrake::job::Job;
use twinstrake::solve::{Asked, BoundReason, Ended, Joined, Progress, Quiet, Remedy, Watch, lay};
use twinstrake::units::{Colour, Length};

fn asked(seed: u64, rounds: u64) -> Asked {
    Asked {
        seed,
        rounds: Some(rounds),
        ..Asked::default()
    }
}

/// The same where it need not be decided whether a course must stay open.
fn trial(seed: u64, rounds: u64) -> Asked {
    Asked {
        trial: true,
        ..asked(seed, rounds)
    }
}

/// The checker has nothing to say against the plan, and reckons the same cost term by term. Every other plan is a first
/// one: a round takes by far the most of the time.
fn holds(seed: u64, size: Size) -> Result<(), TestCaseError> {
    let job = random_job(seed, size);
    let outcome = lay(&job, &asked(seed, seed % 2), &Quiet);
    let verdict = check(&job, &outcome.plan);
    let breaches: Vec<String> = verdict.breaches.iter().map(ToString::to_string).collect();
    prop_assert!(breaches.is_empty(), "seed {seed}: {breaches:#?}");
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-6 * a.abs().max(1.0);
    let (mine, theirs) = (outcome.cost, verdict.cost);
    prop_assert!(
        near(mine.seam, theirs.seam)
            && near(mine.matching, theirs.matching)
            && near(mine.joint, theirs.joint)
            && near(mine.drift, theirs.drift)
            && near(mine.thrift, theirs.thrift),
        "seed {seed}: search {mine:?}, checker {theirs:?}"
    );
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(many(3) as u32))]

    #[test]
    fn every_plan_for_a_small_job_passes_the_checker_at_the_same_cost(seed in any::<u64>()) {
        holds(seed, Size::Small)?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(many(2) as u32))]

    #[test]
    fn every_plan_for_a_medium_job_passes_the_checker_at_the_same_cost(seed in any::<u64>()) {
        holds(seed, Size::Medium)?;
    }
}

#[test]
fn an_empty_rack_leaves_every_course_open_and_says_what_to_mill() {
    // Two mirrored courses of 3 m with 25 mm at each end: 3050 mm a piece, so two pairs of 3050 mm.
    let job = boat()
        .panel("side", Toward::Keel)
        .courses(2, 0.0, 3000.0)
        .build();
    let outcome = lay(&job, &asked(1, 1), &Quiet);
    let shortage = outcome.shortage.expect("nothing can be covered");
    assert_eq!(shortage.open.len(), 2);
    let remedy = &shortage.remedies[0];
    assert_eq!(
        (remedy.pairs, remedy.strips, remedy.length.mm()),
        (2, 0, 3050.0)
    );
}

#[test]
fn stopped_before_it_has_begun_it_comes_back_with_a_first_plan() {
    let job = random_job(3, Size::Medium);
    let outcome = lay(&job, &Asked::default(), &AtOnce);
    assert_eq!((outcome.ended, outcome.rounds), (Ended::Stopped, 0));
    assert!(outcome.plan.uncovered.len() < job.hull.courses.len() / 2);
    assert!(check(&job, &outcome.plan).is_good());
}

/// Stops the search once every course is covered.
#[derive(Default)]
struct UntilCovered(AtomicBool);

impl Watch for UntilCovered {
    fn progress(&self, at: &Progress) {
        self.0.store(at.uncovered == Length::ZERO, Relaxed);
    }
    fn stop(&self) -> bool {
        self.0.load(Relaxed)
    }
}

/// Remedies that are followed.
const ENOUGH: usize = 2;

#[test]
fn a_remedy_when_followed_covers_the_boat() {
    let mut followed = 0;
    for seed in 0..20 {
        if followed >= ENOUGH {
            break;
        }
        let job = random_job(seed, Size::Small);
        let Some(shortage) = lay(&job, &trial(seed, 0), &Quiet).shortage else {
            continue;
        };
        for joined in [Joined::OnePiece, Joined::Scarfed] {
            let remedies: Vec<&Remedy> = shortage
                .remedies
                .iter()
                .filter(|r| r.joined == joined)
                .collect();
            if remedies.is_empty() {
                continue;
            }
            let with_it = bought(&job, &remedies);
            // On so tight a boat the search needs luck; that the wood is enough is shown by one plan.
            let until = UntilCovered::default();
            let mut tries = (0..12).map(|k| lay(&with_it, &trial(seed + k, 4), &until));
            assert!(
                tries.any(|outcome| outcome.plan.uncovered.is_empty()),
                "seed {seed}: {remedies:?} does not close {:?}",
                shortage.open
            );
            followed += 1;
        }
    }
    assert!(
        followed >= ENOUGH,
        "only {followed} remedies were tried: the test tells nothing"
    );
}

#[test]
fn a_course_that_takes_three_pieces_is_laid_from_short_stock() {
    // 4600 mm and two allowances of 25 mm from strips of 2100 mm: two of them are 450 mm short, three do with two
    // joints.
    let boat = boat().panel("side", Toward::Keel).course(0.0, 4600.0);
    let boat = (0..24).fold(boat, |boat, i| {
        boat.board(&format!("b{i:02}"), 2, 2100.0, 5)
    });
    let outcome = lay(&boat.build(), &asked(1, 1), &Quiet);
    assert!(outcome.plan.uncovered.is_empty());
    assert_eq!(outcome.plan.pieces.len(), 6);
}

const RULES: [u8; 10] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

#[test]
fn every_way_of_spoiling_a_plan_of_the_search_is_caught() {
    let mut spoiled = std::collections::BTreeMap::new();
    for seed in 0..40 {
        let job = random_job(seed, Size::Small);
        if spoiled.len() == RULES.len() && seed >= 15 {
            break;
        }
        let plan = first_plan(&job, seed);
        assert!(check(&job, &plan).breaches.is_empty(), "seed {seed}");
        for bad in corruptions(&job, &plan, seed) {
            let caught = check(&bad.job, &bad.plan)
                .breaches
                .iter()
                .any(|breach| breach.rule() == bad.rule);
            assert!(
                caught,
                "seed {seed}: {} is not caught by rule {}",
                bad.what, bad.rule
            );
            *spoiled.entry(bad.rule).or_insert(0) += 1;
        }
    }
    assert_eq!(spoiled.keys().copied().collect::<Vec<u8>>(), RULES);
}

/// Bounds that are held against plans.
const ENOUGH_BOUNDS: usize = 6;

/// Holds every bound found for some random jobs against every plan found for them; how many bounds that were.
fn bounds_held(seeds: std::ops::Range<u64>, change: impl Fn(&mut Job)) -> usize {
    let mut bounds = 0;
    for seed in seeds {
        if bounds >= ENOUGH_BOUNDS {
            break;
        }
        let mut job = random_job(seed, Size::Small);
        change(&mut job);
        // Every plan found on the way is a plan: the first construction is not the best, and costs no less than the
        // bound.
        let first = lay(&job, &trial(seed, 0), &Quiet);
        let later = lay(&job, &trial(seed + 1, 1), &Quiet);
        for outcome in [&first, &later]
            .into_iter()
            .filter(|outcome| outcome.plan.uncovered.is_empty())
        {
            let cost = check(&job, &outcome.plan).cost.total();
            for bound in [first.bound, later.bound].into_iter().flatten() {
                assert!(
                    bound <= cost + 1e-6 * cost,
                    "seed {seed}: a bound of {bound} above a plan of {cost}"
                );
                bounds += 1;
            }
        }
    }
    bounds
}

#[test]
fn no_bound_is_above_what_any_plan_costs() {
    let bounds = bounds_held(0..30, |job| job.rules.joints.most = 0);
    assert!(bounds >= ENOUGH_BOUNDS, "only {bounds} bounds were tried");
}

#[test]
fn halves_of_one_strip_are_laid_side_by_side_where_that_costs_least() {
    // Two courses, and wood that is cheapest cut in two: the same strips lie on both courses at once, so their seam
    // costs nothing.
    let boat = boat().panel("side", Toward::Keel).courses(2, 0.0, 1500.0);
    let boat = boat.weights(|weights| weights.shift = 0.0);
    let mut boat = boat.rules(|rules| rules.joints.most = 1);
    for (board, l) in [("A", 40.0), ("B", 60.0), ("C", 80.0)] {
        for seq in 1..=2 {
            let colour = Colour::lab(l, 8.0, 22.0);
            boat = boat.strip(&format!("{board}-{seq:02}"), board, seq, 3300.0, colour);
        }
    }
    let job = boat.build();
    let outcome = lay(&job, &asked(1, 4), &Quiet);
    let total = check(&job, &outcome.plan).cost.total();
    // Sisters of one colour cut in two: nothing but the cut of two strips is left of the cost.
    assert!(
        (total - 2.0 * job.weights.cut).abs() < 1e-6,
        "a cost of {total}"
    );
    // Joints may be cut, but one alone costs more than this plan: what is proven of plans without joints holds for all.
    assert_eq!(outcome.bound_reason, BoundReason::Priced);
    assert_eq!(outcome.bound, outcome.bound_without_joints);
    assert!(
        outcome
            .bound
            .is_some_and(|bound| 0.4 < bound && bound <= total)
    );
}

#[test]
fn a_boat_that_needs_no_joints_is_proven_without_them_where_they_are_allowed() {
    let mut job = full_length(24, 30, 2);
    let without = lay(&job, &asked(1, 2), &Quiet);
    assert_eq!(without.ended, Ended::Proven);
    job.rules.joints.most = 2;
    let with = lay(&job, &asked(1, 2), &Quiet);
    let best = without.cost.total();
    let bound = with.bound_without_joints.expect("no course needs a joint");
    assert!(
        (bound - best).abs() < 1e-5 * best,
        "a bound of {bound} where the best plan costs {best}"
    );
    assert_eq!((with.bound, with.bound_reason), (None, BoundReason::Joints));
}

#[test]
fn a_panel_that_nobody_sees_proves_nothing_about_the_others() {
    // One board for two panels, the first at no weight at all: its seams cost nothing, whatever they are.
    let boat = boat()
        .panel("hidden", Toward::Keel)
        .look(0.0)
        .courses(3, 0.0, 3000.0);
    let boat = boat.panel("seen", Toward::Keel).courses(3, 0.0, 3000.0);
    let boat = (1..=14).fold(boat, |boat, seq| {
        let colour = Colour::lab(50.0 + f64::from(seq * seq % 11) * 2.0, 8.0, 22.0);
        boat.strip(&format!("A-{seq:02}"), "A", seq, 3100.0, colour)
    });
    let job = boat.rules(|rules| rules.joints.most = 0).build();
    let best = lay(&job, &asked(1, 4), &Quiet).cost.total();
    for rounds in 0..3 {
        let outcome = lay(&job, &asked(1, rounds), &Quiet);
        let bound = outcome.bound.expect("each course is one piece");
        assert!(
            bound <= best * (1.0 + 1e-6),
            "{rounds} rounds: a bound of {bound} above a plan of {best}"
        );
    }
}

#[test]
fn many_lengths_that_fit_one_strip_are_no_endless_sum() {
    let boat = (0..40).fold(boat(), |boat, i| {
        boat.panel(&format!("panel {i}"), Toward::Keel)
            .centre(0.0, 101.0 + f64::from(i))
    });
    let job = boat
        .board("A", 4, 6000.0, 5)
        .rules(|rules| rules.joints.most = 0)
        .build();
    assert!(lay(&job, &asked(1, 0), &Quiet).plan.uncovered.is_empty());
}
