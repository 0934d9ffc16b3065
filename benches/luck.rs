//! How far plans lie apart that differ by their seed alone: the same job laid with several seeds, each held against the
//! best of them, or against a plan known from elsewhere.
//!
//!     cargo bench --bench luck -- KIND [JOB] [FIRST SEED] [SEEDS] [SECONDS] [ROUNDS] [BEST KNOWN]
//!
//! Which kinds there are: `benches/kinds`. Seconds of 0: as it comes. Rounds of 0: no limit.

mod kinds;

use std::time::Instant;
use twinstrake::check::check;
use twinstrake::invented;
use twinstrake::solve::{Asked, Quiet, lay};

fn main() {
    let typed: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    let kind = typed.first().map_or("canoe", String::as_str);
    let number = |at: usize, or: f64| typed.get(at).and_then(|n| n.parse().ok()).unwrap_or(or);
    let Some(job) = kinds::job(kind, number(1, 1.0) as u64) else {
        println!("{kind}: no such kind");
        return;
    };
    let first = number(2, 1.0) as u64;
    let [seconds, rounds, known] = [4, 5, 6].map(|at| Some(number(at, 0.0)).filter(|n| *n > 0.0));
    let known = known.or_else(|| (kind == "planted").then_some(invented::PLANTED));
    let mut totals = Vec::new();
    for seed in first..first + number(3, 3.0) as u64 {
        let begun = Instant::now();
        let asked = Asked {
            seed,
            seconds,
            rounds: rounds.map(|rounds| rounds as u64),
            ..Asked::default()
        };
        let found = lay(&job, &asked, &Quiet);
        let judged = check(&job, &found.plan);
        println!(
            "{kind} {seed}: {:.2}, {} rounds, {:.1} s, {}{}",
            judged.cost.total(),
            found.rounds,
            begun.elapsed().as_secs_f64(),
            found.ended.name(),
            match judged.breaches.is_empty() && found.plan.uncovered.is_empty() {
                true => "",
                false => ", NOT GOOD",
            }
        );
        totals.push(judged.cost.total());
    }
    totals.sort_by(f64::total_cmp);
    let best = totals
        .iter()
        .copied()
        .fold(known.unwrap_or(f64::INFINITY), f64::min);
    let above = |total: f64| 100.0 * (total / best - 1.0);
    println!(
        "{kind}: best {best:.2}; median {:.2} %, worst {:.2} % above it",
        above(totals[totals.len() / 2]),
        above(totals[totals.len() - 1])
    );
}
