//! Whatever the prices, no plan costs less than the bound by the metre says.

use super::by_metre::ByMetre;
use crate::job::Job;
use crate::solve::jobs;
use crate::solve::problem::Problem;
use crate::solve::{Asked, Quiet, lay};
use crate::units::Length;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Holds a first plan against bounds at prices that go up and down at random; `false` where it leaves a course open.
fn hold(job: &Job, seed: u64, dice: &mut Pcg64Mcg) -> bool {
    let asked = Asked {
        seed,
        rounds: Some(0),
        trial: true,
        ..Asked::default()
    };
    let outcome = lay(job, &asked, &Quiet);
    if !outcome.plan.uncovered.is_empty() {
        return false;
    }
    let cost = outcome.cost.total();
    let problem = Problem::new(job);
    let (Some(mut prover), Some(mut fresh)) = (ByMetre::new(&problem), ByMetre::new(&problem))
    else {
        panic!("too large a job");
    };
    for round in 0..100 {
        let spread = f64::from(round) * 0.02 + 0.05;
        // Paths that remember are many where prices are far off.
        let rungs = usize::from(round < 10);
        let value = prover.value_at(rungs, || dice.random_range(-1.0..1.0) * spread);
        assert!(
            value <= cost * (1.0 + 1e-9),
            "job {seed}: {value} above {cost}"
        );
    }
    let bound = fresh.prove(&|| false);
    assert!(
        bound > 0.0 && bound <= cost * (1.0 + 1e-9),
        "job {seed}: {bound} above {cost}"
    );
    true
}

#[test]
fn no_plan_costs_less_than_the_bound_at_any_prices() {
    let mut dice = Pcg64Mcg::seed_from_u64(7);
    let mut held = 0;
    for seed in 0..24 {
        let mut job = jobs::short_stock(3 + seed as u32 % 3, seed);
        match seed % 3 {
            // Strips of all boards a little longer, so that some courses have no joint.
            0 => job
                .stock
                .strips
                .iter_mut()
                .for_each(|strip| strip.length = Length::from_mm(strip.length.mm() + 1700.0)),
            // Mates from two boards are cheap.
            1 => job.weights.foster = 3.0,
            _ => job.rules.joints.clear_courses = 1,
        }
        held += usize::from(hold(&job, seed, &mut dice));
    }
    assert!(held >= 8, "only {held} plans were held");
}
