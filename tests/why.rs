//! Why this plan: prices against planning again by hand, and demands that clash against jobs worked out by hand.

#![allow(clippy::unwrap_used)]

use crate::common;

use common::{Builder, Size, boat, first_plan, mm, random_job};
use twinstrake::check::check;
use twinstrake::hull::{CourseId, Toward};
use twinstrake::job::Job;
use twinstrake::plan::Plan;
use twinstrake::solve::{Asked, Quiet, lay, lay_from};
use twinstrake::units::{Colour, Length, delta_e};
use twinstrake::why::{
    Clash, Demand, Gain, Minimality, MorePairs, Prices, Proof, Relaxed, Trial, clashes, prices,
    trial, with,
};

fn asked(rounds: u64) -> Asked {
    Asked {
        seed: 1,
        rounds: Some(rounds),
        ..Asked::default()
    }
}

fn priced(job: &Job, rounds: u64) -> Prices {
    let plan = lay(job, &asked(rounds), &Quiet).plan;
    prices(job, &plan, &asked(rounds), &Quiet, &|_| {})
}

fn open(job: &Job, plan: &Plan) -> Length {
    let courses = plan.uncovered.iter();
    courses.map(|id| job.hull.course(*id).length).sum()
}

/// The ease made by hand, for a job whose strips are named as the builder names them.
fn made_easier(job: &Job, relaxed: &Relaxed) -> Job {
    let mut easier = job.clone();
    match *relaxed {
        Relaxed::NoZone(zone) => {
            easier.hull.keep_clear.remove(zone);
        }
        Relaxed::NoWant(want) => {
            easier.wants.remove(want);
        }
        Relaxed::Clear(clear) => easier.rules.joints.clear = clear,
        Relaxed::OneMoreJoint => easier.rules.joints.most += 1,
        Relaxed::MorePairs(_) => return relaxed.job(job),
    }
    easier
}

#[test]
fn a_plan_there_is_keeps_every_rule_of_each_easier_job_at_the_same_cost() {
    let mut tried = 0;
    for seed in 0..20 {
        let job = random_job(seed, Size::Small);
        let plan = first_plan(&job, seed);
        let cost = check(&job, &plan).cost.total();
        for relaxed in Relaxed::all(&job) {
            let verdict = check(&relaxed.job(&job), &plan);
            assert!(verdict.is_good(), "seed {seed}, {relaxed:?}");
            let as_much = (verdict.cost.total() - cost).abs() < 1e-9;
            assert!(as_much || !relaxed.keeps_costs(&job), "seed {seed}");
            tried += 1;
        }
    }
    assert!(tried > 80, "only {tried} were tried");
}

#[test]
fn a_price_is_what_planning_again_by_hand_saves_and_no_ease_makes_a_plan_worse() {
    let (mut costs, mut nothings, mut lucky) = (0, 0, 0);
    for seed in 0..12 {
        let job = random_job(seed, Size::Tiny);
        let prices = priced(&job, 0);
        let plan = &prices.plan.plan;
        let verdict = check(&job, plan);
        assert!(verdict.is_good());
        for price in &prices.each {
            let easier = made_easier(&job, &price.relaxed);
            let again = lay_from(&easier, &price.from, &asked(0), &Quiet).plan;
            let judged = check(&easier, &again);
            assert!(judged.is_good(), "seed {seed}, {:?}", price.relaxed);
            let (was, is) = (open(&job, plan), open(&easier, &again));
            let saved = price.against - judged.cost.total();
            assert!(price.against <= verdict.cost.total() + 1e-9);
            lucky += usize::from(price.against < verdict.cost.total() - 1e-9);
            let gained = verdict.cost.total() - judged.cost.total();
            let is_worse = is > was || (is == was && gained < -1e-6);
            assert!(!is_worse || !price.relaxed.keeps_costs(&job), "seed {seed}");
            match price.gain {
                Gain::Cost(gain) => {
                    assert!((gain - saved).abs() < 1e-9, "seed {seed}: {gain} {saved}");
                    costs += 1;
                }
                Gain::Covered(length) => assert_eq!(length, was - is),
                Gain::Nothing => nothings += 1,
            }
        }
    }
    assert!(costs + nothings > 8, "{costs} and {nothings}");
    assert!(lucky < 3, "{lucky} prices are not held against the plan");
}

/// One course of 4 m from two pairs of 2.3 m, all of one colour: one joint, which must lie from 1749 to 2251 mm.
fn one_joint() -> Builder {
    let boat = boat().panel("side", Toward::Keel).course(0.0, 4000.0);
    boat.board("A", 2, 2300.0, 5).board("B", 2, 2300.0, 5)
}

#[test]
fn a_zone_that_pushes_a_joint_to_where_it_shows_twice_costs_one_joint_more() {
    // Looks count double from 2100 mm aft. Without the zone the joint lies forward of that and costs 2; with it, 4.
    let job = one_joint()
        .keep_clear("mast", 1700.0, 2120.0)
        .show(2100.0, 4000.0, 2.0)
        .build();
    let prices = priced(&job, 2);
    let zone = &prices.each[0];
    assert_eq!(zone.relaxed, Relaxed::NoZone(0));
    match zone.gain {
        Gain::Cost(gain) => assert!((gain - 2.0).abs() < 1e-6, "{gain}"),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_pair_as_long_as_the_course_saves_its_joint_and_two_strips() {
    // A joint costs 2, a strip cut into 0.25: one pair of 4050 mm in place of two of 2300 mm saves 2 + 2 * 0.25.
    let prices = priced(&one_joint().build(), 2);
    let more = prices
        .each
        .iter()
        .find(|price| {
            matches!(
                price.relaxed,
                Relaxed::MorePairs(MorePairs { pairs: 1, .. })
            )
        })
        .unwrap();
    match (more.relaxed, more.gain) {
        (Relaxed::MorePairs(more), Gain::Cost(gain)) => {
            assert_eq!(more.length, mm(4050.0));
            assert!((gain - 2.5).abs() < 1e-6, "{gain}");
        }
        other => panic!("{other:?}"),
    }
    assert_eq!(more.saved, [(CourseId(0), 1)]);
}

#[test]
fn a_want_costs_what_planning_without_any_of_it_saves() {
    // Three courses of 4 m; a light board of six slices, and two dark strips, 4 away. The line lies on course 2 and is
    // welcome to stand out by 12: each seam falls 8 short, and costs 2 for another board. 10 for each of 16 m of seam.
    // Without it all is one board, and each seam between sisters: nothing. As many strips are cut into.
    let light = Colour::shade(5);
    let dark = Colour::lab(light.l - 4.0, light.a, light.b);
    let line = |accent: f64| {
        let boat = boat().panel("side", Toward::Keel).courses(3, 0.0, 4000.0);
        let boat = boat.board("light", 6, 4100.0, 5);
        let boat = boat
            .strip("d1", "dark", 1, 4100.0, dark)
            .strip("d2", "dark", 2, 4100.0, dark);
        boat.want("line", (2, 2), |want| {
            want.boards = vec!["dark".into()];
            want.keep = true;
            want.accent = Some(accent);
        })
    };
    let step = delta_e(light, dark);
    for (accent, by_hand) in [(12.0, 16.0 * (12.0 - step + 2.0)), (1.0, 16.0 * 2.0)] {
        let job = line(accent).build();
        let prices = priced(&job, 1);
        let want = prices
            .each
            .iter()
            .find(|price| price.relaxed == Relaxed::NoWant(0))
            .unwrap();
        match want.gain {
            Gain::Cost(gain) => assert!((gain - by_hand).abs() < 1e-6, "{gain} for {by_hand}"),
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn a_want_for_two_courses_of_wood_for_one_clashes_and_is_proven_by_its_wood_alone() {
    // Walnut for one course, and plenty of spruce: the rack as a whole would do.
    let boat = boat().panel("side", Toward::Keel).courses(3, 0.0, 4000.0);
    let boat = boat
        .board("spruce", 8, 4100.0, 5)
        .board("walnut", 2, 4100.0, 2);
    let boat = boat.want("line", (1, 2), |want| want.boards = vec!["walnut".into()]);
    let job = boat.rules(|rules| rules.joints.most = 0).build();
    let sets = found(&job);
    let both = [0, 1].map(|course| Demand::Course(CourseId(course)));
    assert_eq!(
        sets[0].demands,
        [vec![Demand::Want(0)], both.to_vec()].concat(),
        "{sets:?}"
    );
    assert!(sets[0].proof.is_some(), "{sets:?}");
    are_smallest(&job, &sets);
}

fn found(job: &Job) -> Vec<Clash> {
    let plan = lay(job, &asked(0), &Quiet).plan;
    assert!(!plan.uncovered.is_empty(), "the job can be laid");
    clashes(job, &plan.uncovered, &asked(1), &Quiet, &|_| {}).sets
}

/// Nothing but these demands clash. What is known of them.
#[track_caller]
fn only(job: &Job, demands: &[Demand]) -> Option<Proof> {
    let sets = found(job);
    assert_eq!(sets.len(), 1, "{sets:?}");
    assert_eq!(sets[0].demands, demands);
    are_smallest(job, &sets);
    sets[0].proof
}

/// Each set with any one demand left out can be laid: by a search of its own, judged by the checker.
fn are_smallest(job: &Job, sets: &[Clash]) {
    for set in sets {
        assert_eq!(set.size, Minimality::Smallest);
        for i in 0..set.demands.len() {
            let mut fewer = set.demands.clone();
            let left_out = fewer.remove(i);
            let easier = with(job, &fewer);
            let is_laid = (0..3).any(|rounds| {
                let plan = lay(&easier, &asked(rounds), &Quiet).plan;
                plan.uncovered.is_empty() && check(&easier, &plan).is_good()
            });
            assert!(
                is_laid,
                "without {left_out:?}, {:?} still can't be met",
                set.demands
            );
        }
    }
}

#[test]
fn a_zone_in_the_only_place_for_the_only_joint_clashes_with_the_joint_being_the_only_one() {
    // The joint of 4 m from strips of 2.2 m lies from 1849 to 2151 mm: each piece reaches 2200 - 25 - 24 mm. The zone
    // takes 1776 to
    // 2324. With two joints, three pieces go round it.
    let boat = boat().panel("side", Toward::Keel).course(0.0, 4000.0);
    let job = boat
        .keep_clear("mast", 1800.0, 2300.0)
        .rules(|rules| rules.joints.most = 1)
        .board("A", 6, 2200.0, 5)
        .build();
    let wanted = [Demand::Zone(0), Demand::Most, Demand::Course(CourseId(0))];
    assert_eq!(only(&job, &wanted), Some(Proof::Course(CourseId(0))));
}

#[test]
fn three_joints_in_a_window_for_two_clash_and_all_three_courses_are_named() {
    // The same window of 302 mm in each of three near courses: joints 300 mm apart find room for two of them, not for
    // three. The fourth course is far shorter and in nobody's way.
    let boat = boat()
        .panel("side", Toward::Keel)
        .courses(3, 0.0, 4000.0)
        .panel("deck", Toward::Deck)
        .course(0.0, 2000.0);
    let job = (0..5)
        .fold(boat, |boat, i| boat.board(&format!("b{i}"), 4, 2200.0, 5))
        .rules(|rules| rules.joints.most = 1)
        .build();
    let courses = [0, 1, 2].map(|i| Demand::Course(CourseId(i)));
    let wanted = [vec![Demand::Clear, Demand::Most], courses.to_vec()].concat();
    let proof = Proof::TooClose(CourseId(0), CourseId(2));
    assert_eq!(only(&job, &wanted), Some(proof));
}

#[test]
fn a_check_right_across_the_only_pair_clashes_with_courses_in_one_piece() {
    // 3 m in one piece take 3050 mm; the check leaves 1500 and 1700 mm. With a joint, one strip is scarfed to itself.
    let boat = boat().panel("side", Toward::Keel).course(0.0, 3000.0);
    let job = boat
        .board("A", 2, 3200.0, 5)
        .defect(1500.0, 1500.0)
        .rules(|rules| rules.joints.most = 0)
        .build();
    let wanted = [Demand::Most, Demand::Defects, Demand::Course(CourseId(0))];
    only(&job, &wanted);
}

#[test]
fn ends_of_strips_that_are_left_clash_with_courses_that_just_fit() {
    // 3 m in one piece take 3050 mm; of 3090 mm without 25 at each end 3040 are left.
    // Without allowances, or to the very ends of the strips, it can be laid.
    let boat = boat().panel("side", Toward::Keel).course(0.0, 3000.0);
    let job = boat
        .board("A", 2, 3090.0, 5)
        .rules(|rules| {
            rules.allow.end_trim = mm(25.0);
            rules.joints.most = 0;
        })
        .build();
    let sets = found(&job);
    let course = Demand::Course(CourseId(0));
    let ends = [Demand::Allowances, Demand::EndTrim, course];
    assert!(sets.iter().any(|set| set.demands == ends), "{sets:?}");
    are_smallest(&job, &sets);
}

#[test]
fn two_zones_and_the_shortest_piece_leave_no_place_for_a_joint() {
    // 2.4 m take a joint: strips of 2.3 m. The zones, with half a scarf of 24 mm, take 600 to 1800 mm; pieces of 700 mm
    // at least leave 700 to 1700. Either zone gone, or shorter pieces, and there is a place; a second joint finds none
    // either.
    let boat = boat().panel("side", Toward::Keel).course(0.0, 2400.0);
    let job = boat
        .keep_clear("a", 624.0, 1200.0)
        .keep_clear("b", 1200.0, 1776.0)
        .board("A", 4, 2300.0, 5)
        .rules(|rules| {
            rules.joints.most = 1;
            rules.joints.shortest_piece = mm(700.0);
        })
        .build();
    let wanted = [
        Demand::Zone(0),
        Demand::Zone(1),
        Demand::ShortestPiece,
        Demand::Course(CourseId(0)),
    ];
    assert_eq!(only(&job, &wanted), Some(Proof::Course(CourseId(0))));
}

#[test]
fn one_pair_for_two_courses_clashes_by_itself() {
    let job = boat()
        .panel("side", Toward::Keel)
        .courses(2, 0.0, 3000.0)
        .board("A", 2, 3100.0, 5)
        .build();
    let wanted = [0, 1].map(|i| Demand::Course(CourseId(i)));
    // Even without allowances, 4 x 3000 mm are asked for and 2 x 3100 mm there.
    assert_eq!(only(&job, &wanted), Some(Proof::TooLittle(mm(5800.0))));
}

/// Jobs of each kind that are looked at.
const ENOUGH: u32 = 10;

#[test]
fn no_plan_is_found_for_what_is_proven_to_be_impossible() {
    let (mut proven, mut covered) = (0, 0);
    for seed in 0..150 {
        if proven >= ENOUGH && covered >= ENOUGH {
            break;
        }
        let job = random_job(seed, Size::Small);
        let proof = Proof::of(&job);
        // What is proven impossible is looked for in earnest.
        let is_covered = first_plan(&job, seed).uncovered.is_empty()
            || proof.is_some() && lay(&job, &asked(0), &Quiet).plan.uncovered.is_empty();
        match (proof, is_covered) {
            (Some(proof), true) => panic!("seed {seed}: {proof:?}, and yet it was laid"),
            (Some(_), false) => proven += 1,
            (None, true) => covered += 1,
            (None, false) => {}
        }
    }
    assert!(proven >= ENOUGH, "only {proven} were proven");
    assert!(covered >= ENOUGH, "only {covered} were covered");
}

#[test]
fn sets_found_on_random_jobs_are_smallest_and_what_a_trial_lays_passes_the_checker() {
    let mut sets = 0;
    for seed in 0..40 {
        if sets >= 3 {
            break;
        }
        let job = random_job(seed, Size::Tiny);
        match trial(&job, &asked(0), &Quiet) {
            Trial::Possible(plan) => assert!(check(&job, &plan).is_good()),
            _ => {
                let plan = lay(&job, &asked(0), &Quiet).plan;
                if plan.uncovered.is_empty() {
                    continue;
                }
                let found = clashes(&job, &plan.uncovered, &asked(0), &Quiet, &|_| {});
                are_smallest(&job, &found.sets);
                sets += found.sets.len();
            }
        }
    }
    assert!(sets >= 3, "only {sets} sets");
}
