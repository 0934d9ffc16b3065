//! What the search writes, judged by the checker, on random jobs of every kind.

mod common;

use common::{Size, random_job};
use proptest::prelude::*;
use twinstrake::check::check;
use twinstrake::solve::{Asked, Quiet, lay};

fn asked(seed: u64, rounds: u64) -> Asked {
    Asked {
        seed,
        rounds: Some(rounds),
        ..Asked::default()
    }
}

/// The checker has nothing to say against the plan, and reckons the same cost term by term.
fn holds(seed: u64, size: Size) -> Result<(), TestCaseError> {
    let job = random_job(seed, size);
    let outcome = lay(&job, &asked(seed, 1), &Quiet);
    let verdict = check(&job, &outcome.plan);
    let breaches: Vec<String> = verdict.breaches.iter().map(ToString::to_string).collect();
    prop_assert!(breaches.is_empty(), "seed {seed}: {breaches:#?}");
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-6 * a.abs().max(1.0);
    let (mine, theirs) = (outcome.cost, verdict.cost);
    prop_assert!(
        near(mine.seam, theirs.seam)
            && near(mine.matching, theirs.matching)
            && near(mine.joint, theirs.joint)
            && near(mine.thrift, theirs.thrift),
        "seed {seed}: search {mine:?}, checker {theirs:?}"
    );
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_plan_for_a_small_job_passes_the_checker_at_the_same_cost(seed in any::<u64>()) {
        holds(seed, Size::Small)?;
    }

    #[test]
    fn every_plan_for_a_medium_job_passes_the_checker_at_the_same_cost(seed in any::<u64>()) {
        holds(seed, Size::Medium)?;
    }
}
