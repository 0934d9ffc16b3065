//! Planning again after accidents, as it comes against the best that a long search finds; and what `spares` promises
//! of a loss against what `lay` makes of it.
//!
//!     cargo bench --bench accidents -- again KIND [FIRST JOB] [JOBS] [SEEDS] [SECONDS]
//!     cargo bench --bench accidents -- spares KIND [JOB] [EVERY]
//!
//! Which kinds there are: `benches/kinds`. A third of the boat is laid, then two strips are lost. The
//! best is the least that any of the runs found, the long one among them.
#![allow(clippy::expect_used)]

mod kinds;

use std::time::Instant;
use twinstrake::check::check;
use twinstrake::job::Job;
use twinstrake::plan::Plan;
use twinstrake::solve::{Asked, Effect, Outcome, Quiet, Stakes, lay};
use twinstrake::stock::{Defect, StripId};
use twinstrake::units::U;

fn main() {
    let typed: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    let word = |at: usize, or: &'static str| typed.get(at).map_or(or, String::as_str).to_owned();
    let number = |at: usize, or: u64| typed.get(at).and_then(|n| n.parse().ok()).unwrap_or(or);
    let kind = word(1, "demo");
    match word(0, "again").as_str() {
        "spares" => promises(&kind, number(2, 1), number(3, 1)),
        _ => {
            let (first, jobs) = (number(2, 1), number(3, 1).max(1));
            let mut all = Vec::new();
            for seed in first..first + jobs {
                all.extend(again(&kind, seed, number(4, 3).max(1), number(5, 20)));
            }
            println!("all: {}", spread(&all));
        }
    }
}

/// What each seed comes to by itself, in parts of the best above it.
fn again(kind: &str, seed: u64, seeds: u64, seconds: u64) -> Vec<f64> {
    let job = hurt(kind, seed, 2);
    let run = |asked: Asked| {
        let begun = Instant::now();
        let found = lay(&job, &asked, &Quiet);
        (found, begun.elapsed().as_secs_f64())
    };
    let total = |found: &Outcome| check(&job, &found.plan).cost.total();
    let long = run(Asked {
        seconds: Some(seconds as f64),
        ..Asked::default()
    });
    println!(
        "{kind} {seed}: {:.2} in a run of {:.0} s",
        total(&long.0),
        long.1
    );
    let each: Vec<(f64, f64, usize)> = (0..seeds)
        .map(|seed| {
            let (found, took) = run(Asked {
                seed,
                ..Asked::default()
            });
            (total(&found), took, check(&job, &found.plan).relabelled)
        })
        .collect();
    let best = each.iter().map(|one| one.0).fold(total(&long.0), f64::min);
    let mut above = Vec::new();
    for (total, took, relabelled) in &each {
        println!(
            "{kind} {seed}: {total:.2}, {} labels, {took:.1} s; best {best:.2}, {:.2} % above",
            2 * relabelled,
            100.0 * (total / best - 1.0)
        );
        above.push(total / best - 1.0);
    }
    above
}

/// For each so-many-th strip: the rise in cost that `spares` tells, labels and all, and the one that `lay` ends with.
fn promises(kind: &str, seed: u64, every: u64) {
    let job = hurt(kind, seed, 0);
    let plan = job.earlier.clone().unwrap_or_default();
    let base = check(&job, &plan).cost.total();
    let begun = Instant::now();
    let stakes = Stakes::of(&job);
    let rough = stakes.roughly(0, &Quiet);
    println!("roughly after {:.1} s", begun.elapsed().as_secs_f64());
    let losses = stakes.in_full(rough, 0, &Quiet, &|_| {});
    println!(
        "{} strips in {:.1} s",
        losses.len(),
        begun.elapsed().as_secs_f64()
    );
    let (mut near, mut all) = (0, 0);
    for loss in losses
        .iter()
        .step_by(every as usize)
        .filter(|loss| loss.effect != Effect::NoSpare)
    {
        let mut less = job.clone();
        lose(&mut less, loss.strip);
        let really = check(&less, &lay(&less, &Asked::default(), &Quiet).plan)
            .cost
            .total();
        let told = base + loss.worse + job.weights.relabel * (loss.labels / 2) as f64;
        near += usize::from(told <= 1.1 * really);
        all += 1;
        println!(
            "{}: told {told:.2}, really {really:.2} ({:+.1} %)",
            job.stock.strip(loss.strip).name,
            100.0 * (told / really - 1.0)
        );
    }
    println!("{near} of {all} within 10 %");
}

/// A job of which a third is laid, and so many strips are lost that the rest counts on.
fn hurt(kind: &str, seed: u64, lost: usize) -> Job {
    let mut job = kinds::job(kind, seed).expect("a kind of job");
    let asked = Asked {
        rounds: Some(4),
        seed,
        ..Asked::default()
    };
    let plan: Plan = lay(&job, &asked, &Quiet).plan;
    let laid = plan.pieces.len() / 3;
    job.laid = plan.pieces[..laid].to_vec();
    let open = &plan.pieces[laid..];
    for i in 0..lost {
        let piece = &open[(i + 1) * open.len() / (lost + 2)];
        lose(&mut job, piece.strip);
    }
    job.earlier = Some(plan);
    job
}

/// All of a strip that is not laid is gone.
fn lose(job: &mut Job, strip: StripId) {
    let laid = job.laid.iter().filter(|piece| piece.strip == strip);
    let cuts: Vec<Defect> = laid
        .map(|piece| Defect {
            from: piece.cut_from,
            to: piece.cut_to,
        })
        .collect();
    let length = U::at(job.stock.strip(strip).length);
    job.stock.strips[strip.0].defects = Defect::all_but(&cuts, length);
}

fn spread(parts: &[f64]) -> String {
    let mut sorted = parts.to_vec();
    sorted.sort_by(f64::total_cmp);
    let at = |part: f64| 100.0 * sorted[((sorted.len() - 1) as f64 * part).round() as usize];
    format!(
        "median {:.2} %, nine tenths {:.2} %, most {:.2} % above the best",
        at(0.5),
        at(0.9),
        at(1.0)
    )
}
