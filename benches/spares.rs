//! Loses every strip of invented jobs in turn, and throws for many at once: `cargo bench --bench spares -- KIND [first
//! seed] [how many]`.
//!
//! Prints a line for each job: strips that are cut into, what their loss does, for how many of those without a spare
//! that is proven, the chance that the boat closes, and how long each of the two took. Which kinds there are:
//! `benches/kinds`.

mod kinds;

use std::time::Instant;
use twinstrake::solve::{Asked, Effect, Grounds, Quiet, Stakes, lay};

/// As `spares` does where nothing else is said.
const BREAKS: f64 = 0.03;
const SAMPLES: u32 = 1000;

fn main() {
    let typed: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    let kind = typed.first().map_or("demo", String::as_str);
    let number = |at: usize, or: u64| typed.get(at).and_then(|n| n.parse().ok()).unwrap_or(or);
    let (first, many) = (number(1, 1), number(2, 1));
    println!(
        "kind seed | strips cut | none worse no spare (proven) | s roughly, in full | chance +- | s"
    );
    for seed in first..first + many {
        let Some(mut job) = kinds::job(kind, seed) else {
            println!("{kind}: no such kind");
            return;
        };
        let asked = Asked {
            rounds: Some(2),
            seed,
            ..Asked::default()
        };
        job.earlier = Some(lay(&job, &asked, &Quiet).plan);
        let begun = Instant::now();
        let stakes = Stakes::of(&job);
        let rough = stakes.roughly(seed, &Quiet);
        let roughly = begun.elapsed().as_secs_f64();
        let losses = stakes.in_full(rough, seed, &Quiet, &|_| {});
        let lost = begun.elapsed().as_secs_f64();
        let begun = Instant::now();
        let chance = stakes.chance(BREAKS, SAMPLES, seed, &Quiet);
        let thrown = begun.elapsed().as_secs_f64();
        let of = |effect: Effect| losses.iter().filter(|loss| loss.effect == effect).count();
        let proven = losses.iter().filter_map(|loss| loss.grounds);
        println!(
            "{kind} {seed} | {} | {} {} {} ({}) | {roughly:.1} {lost:.1} | {:.3} {:.3} | {thrown:.1}",
            losses.len(),
            of(Effect::None),
            of(Effect::Worse),
            of(Effect::NoSpare),
            proven
                .filter(|grounds| *grounds != Grounds::NotFound)
                .count(),
            chance.closes,
            chance.error,
        );
    }
}
