//! Boats whose last courses run out and may share strips: no bound lies above a plan.

use crate::common::many;
use twinstrake::check::check;
use twinstrake::invented::{full_length_from, run_outs, with_second_panel};
use twinstrake::solve::{Asked, BoundReason, Quiet, lay};

#[test]
fn no_plan_of_a_boat_with_run_outs_costs_less_than_its_bound() {
    let jobs = many(4);
    let (mut bounds, mut near) = (0u64, 0u64);
    for seed in 0..jobs {
        let part = |i: u64| 0.58 - 0.1 * i as f64 - 0.01 * ((seed / 3) % 7) as f64;
        let parts: Vec<f64> = (0..2 + seed % 4 / 2).map(part).collect();
        let (courses, a_board) = (5 + (seed % 4) as u32, 4 + 2 * (seed % 3) as usize);
        let of = |pairs: u32| {
            let job = full_length_from(courses, pairs as usize, a_board, seed);
            run_outs(job, &parts)
        };
        let mut job = match seed % 4 {
            1 => with_second_panel(of(2 * courses)),
            _ => of(courses),
        };
        // Where figure counts for nothing, courses next to each other are best cut from one strip.
        if seed % 3 == 0 {
            job.weights.shift = 0.0;
        }
        let asked = Asked {
            seed,
            rounds: Some(2),
            ..Asked::default()
        };
        let outcome = lay(&job, &asked, &Quiet);
        assert!(outcome.plan.uncovered.is_empty(), "seed {seed}");
        assert_ne!(outcome.bound_reason, BoundReason::Joints, "seed {seed}");
        let cost = check(&job, &outcome.plan).cost.total();
        if let Some(bound) = outcome.bound {
            assert!(
                bound <= cost * (1.0 + 1e-6),
                "seed {seed}: a bound of {bound} above a plan of {cost}"
            );
            bounds += 1;
            near += u64::from(bound >= 0.97 * cost);
        }
    }
    assert!(4 * bounds >= 3 * jobs, "{bounds} bounds on {jobs} jobs");
    assert!(2 * near >= jobs, "{near} of {jobs} within three hundredths");
}
