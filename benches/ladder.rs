//! Lays measured jobs and prints a line for each: `cargo bench --bench ladder -- KIND [first seed] [how many] [seconds]
//! [rounds]`.
//!
//! With rounds the work is fixed, and the plan too: for the seconds give 0, so that the time does not end it.

mod kinds;

use std::time::Instant;
use twinstrake::check::check;
use twinstrake::solve::{Asked, Quiet, lay};

fn main() {
    let typed: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    let number = |i: usize, otherwise: f64| {
        typed
            .get(i)
            .and_then(|t| t.parse().ok())
            .unwrap_or(otherwise)
    };
    let kinds: Vec<&str> = match typed.first() {
        Some(kind) => vec![kind.as_str()],
        None => vec!["24x30", "40x50", "short", "three"],
    };
    let (first, many) = (number(1, 1.0) as u64, number(2, 3.0) as u64);
    let seconds = typed.get(3).and_then(|t| t.parse().ok());
    let seconds = seconds.filter(|seconds| *seconds > 0.0);
    let rounds = typed.get(4).and_then(|t| t.parse().ok());
    println!(
        "kind seed | open m | cost | seam match joint thrift | bound | gap % | rounds | s | ended | breaches"
    );
    for kind in kinds {
        for seed in first..first + many {
            let Some(job) = kinds::job(kind, seed) else {
                println!("{kind}: no such kind");
                continue;
            };
            let begun = Instant::now();
            let asked = Asked {
                seed,
                seconds,
                rounds,
                ..Asked::default()
            };
            let outcome = lay(&job, &asked, &Quiet);
            let took = begun.elapsed().as_secs_f64();
            let open: f64 = outcome
                .plan
                .uncovered
                .iter()
                .map(|id| job.hull.course(*id).length.metres())
                .sum();
            let total = outcome.cost.total();
            // Where joints are allowed but not needed: on plans without them.
            let bound = outcome.bound.or(outcome.bound_without_joints);
            let gap = bound.map(|b| format!("{:.3}", 100.0 * (total - b) / b));
            let breaches = check(&job, &outcome.plan).breaches.len();
            let c = outcome.cost;
            println!(
                "{kind} {seed} | {open:.1} | {total:.3} | {:.1} {:.1} {:.1} {:.1} | {} | {} | {} | {took:.2} | {} | \
                {breaches}",
                c.seam,
                c.matching,
                c.joint,
                c.thrift,
                bound.map_or("-".into(), |b| format!("{b:.3}")),
                gap.unwrap_or("-".into()),
                outcome.rounds,
                outcome.ended.name(),
            );
        }
    }
}
