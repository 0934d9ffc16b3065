//! Breaks every strip that is not laid yet, one at a time, at several stages of the work, and plans again: how many
//! labels change, what it costs in looks, how long it takes, against planning all that is not laid afresh.
//!
//!     cargo bench --bench breakage -- [FOLDER] [STAGES] [PLACES] [EVERY] [lost] [afresh]
//!
//! At each stage every strip (or each so-many-th) is broken at so many places, spread over its length. Prints a line
//! for each break and the distribution at the end; with `lost` strips are lost whole instead of broken in two, with
//! `afresh` the other way is tried beside it (slow).
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::path::Path;
use std::time::Instant;
use twinstrake::check::{Verdict, check};
use twinstrake::job::{self, Job};
use twinstrake::plan::Plan;
use twinstrake::solve::{Asked, Quiet, lay};
use twinstrake::stock::{Defect, StripId, merged};
use twinstrake::units::U;

fn main() {
    let typed: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    let folder = typed.first().map_or("demo-stock", String::as_str);
    let number = |at: usize| typed.get(at).and_then(|n| n.parse::<usize>().ok());
    let (stages, places) = (number(1).unwrap_or(3), number(2).unwrap_or(1));
    let every = number(3).unwrap_or(1).max(1);
    let lost = typed.iter().any(|word| word == "lost");
    let compare = typed.iter().any(|word| word == "afresh");
    let job = job::read(Path::new(folder)).unwrap().job;
    let first = lay(
        &job,
        &Asked {
            rounds: Some(10),
            ..Asked::default()
        },
        &Quiet,
    )
    .plan;
    let base = check(&job, &first).cost.total();
    println!("plan: {base:.2}, {} pieces", first.pieces.len());

    let (mut again, mut anew) = (Figures::default(), Figures::default());
    for stage in 0..stages {
        let laid = first.pieces.len() * stage / stages;
        let strips = unlaid(&first, laid).into_iter().step_by(every);
        let all = strips.flat_map(|strip| hurts(&job, &first, laid, strip, lost, places));
        for (strip, hurt) in all {
            let begun = Instant::now();
            let outcome = lay(&hurt, &Asked::default(), &Quiet);
            let seconds = begun.elapsed().as_secs_f64();
            let verdict = check(&hurt, &outcome.plan);
            let line = again.note(&verdict, &outcome.plan, base, seconds);
            print!(
                "{laid:3} laid, {:4} breaks: {line}",
                job.stock.strip(strip).name
            );
            if compare {
                let free = Job {
                    earlier: None,
                    ..hurt.clone()
                };
                let begun = Instant::now();
                let outcome = lay(&free, &Asked::default(), &Quiet);
                let seconds = begun.elapsed().as_secs_f64();
                let verdict = check(&hurt, &outcome.plan);
                let line = anew.note(&verdict, &outcome.plan, base, seconds);
                print!("   | afresh: {line}");
            }
            println!();
        }
    }
    println!("\nplanning again: {}", again.told());
    if compare {
        println!("planning afresh: {}", anew.told());
    }
}

/// The strips that some piece is to be cut from which is not laid yet.
fn unlaid(plan: &Plan, laid: usize) -> Vec<StripId> {
    let mut strips: Vec<StripId> = plan.pieces[laid..]
        .iter()
        .map(|piece| piece.strip)
        .collect();
    strips.sort_unstable();
    strips.dedup();
    strips
}

/// The job with so many pieces laid, and the strip lost, or broken at each of so many places; never where it is laid.
fn hurts(
    job: &Job,
    plan: &Plan,
    laid: usize,
    strip: StripId,
    lost: bool,
    places: usize,
) -> Vec<(StripId, Job)> {
    let mut hurt = job.clone();
    hurt.laid = plan.pieces[..laid].to_vec();
    hurt.earlier = Some(plan.clone());
    if lost {
        hurt.stock.strips[strip.0].defects = gone(&hurt, strip);
        return vec![(strip, hurt)];
    }
    let length = job.stock.strip(strip).length;
    let break_at = |i: usize| {
        let at = U::at(length * ((i as f64 + 0.5) / places as f64));
        let mut glued = hurt.laid.iter().filter(|piece| piece.strip == strip);
        if glued.any(|piece| piece.cut_from < at && at < piece.cut_to) {
            return None;
        }
        let mut hurt = hurt.clone();
        let wood = &mut hurt.stock.strips[strip.0];
        wood.defects.push(Defect { from: at, to: at });
        wood.defects = merged(wood.defects.clone());
        Some((strip, hurt))
    };
    (0..places).filter_map(break_at).collect()
}

/// All of a strip that is not laid, as a defect.
fn gone(job: &Job, strip: StripId) -> Vec<Defect> {
    let laid = job.laid.iter().filter(|piece| piece.strip == strip);
    let cuts: Vec<Defect> = laid
        .map(|piece| Defect {
            from: piece.cut_from,
            to: piece.cut_to,
        })
        .collect();
    Defect::all_but(&cuts, U::at(job.stock.strip(strip).length))
}

#[derive(Default)]
struct Figures {
    labels: Vec<f64>,
    looks: Vec<f64>,
    seconds: Vec<f64>,
    open: usize,
    breaches: usize,
}

impl Figures {
    fn note(&mut self, verdict: &Verdict, plan: &Plan, base: f64, seconds: f64) -> String {
        let labels = 2.0 * verdict.relabelled as f64;
        let looks = verdict.cost.total() - verdict.cost.moved - base;
        self.labels.push(labels);
        self.looks.push(looks);
        self.seconds.push(seconds);
        self.open += usize::from(!plan.uncovered.is_empty());
        self.breaches += verdict.breaches.len();
        format!(
            "{labels:3.0} labels, looks {looks:+8.2}, open {}, breaches {}, {seconds:.2} s",
            plan.uncovered.len(),
            verdict.breaches.len()
        )
    }

    fn told(&self) -> String {
        format!(
            "{} breaks, {} with a course open, {} breaches\n  labels  {}\n  looks   {}\n  seconds {}",
            self.labels.len(),
            self.open,
            self.breaches,
            spread(&self.labels),
            spread(&self.looks),
            spread(&self.seconds)
        )
    }
}

fn spread(figures: &[f64]) -> String {
    let mut sorted = figures.to_vec();
    sorted.sort_by(f64::total_cmp);
    let at = |part: f64| sorted[((sorted.len() - 1) as f64 * part).round() as usize];
    let mean = sorted.iter().sum::<f64>() / sorted.len() as f64;
    format!(
        "least {:.2}, quarter {:.2}, median {:.2}, three quarters {:.2}, nine tenths {:.2}, most {:.2}, mean {mean:.2}",
        at(0.0),
        at(0.25),
        at(0.5),
        at(0.75),
        at(0.9),
        at(1.0)
    )
}
