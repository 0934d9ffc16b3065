//! `spares`: which strips must not break.

use super::again;
use super::args::Spares;
use super::opened;
use super::say::{self, Found};
use super::status::Ended;
use super::stop::Stop;
use super::trying::Trying;
use std::time::Instant;
use twinstrake::check::check;
use twinstrake::job::Job;
use twinstrake::out::{self, Proven, Spare};
use twinstrake::solve::{Effect, Grounds, Loss, Stakes, Watch, on_threads};
use twinstrake::stock::{Defect, StripId};
use twinstrake::units::U;

pub fn run(typed: &Spares) -> Ended {
    let bar = Trying::new(false, Stop::on_ctrl_c()).until(typed.seconds);
    let (mut reading, plan) = opened::job_and_plan(&typed.dir)?;
    let verdict = check(&reading.job, &plan);
    if !verdict.is_good() {
        return Err(say::bad_input(&say::no_plan_to_lose(&typed.dir)));
    }
    reading.job.earlier = Some(plan);
    let work = || found(typed, &reading.job, verdict.looks(), &bar);
    let found = on_threads(typed.threads.map(usize::from), work);
    bar.done();
    // What is known of a few strips must not take the place of what was known of all.
    if found.is_whole() {
        let written = out::write_spares(&typed.dir, &found.rows);
        written.map_err(|fault| say::at_fault(&say::fault(&fault)))?;
    }
    Ok(say::done(&say::spares(&typed.dir, &found)))
}

/// Finds it out: first roughly, which is told at once, then in full.
fn found<'j>(typed: &Spares, job: &'j Job, looks: f64, bar: &Trying) -> Found<'j> {
    let began = Instant::now();
    let stakes = Stakes::of(job);
    let rough = stakes.roughly(typed.seed, bar);
    if rough.len() == stakes.strips() && !rough.is_empty() {
        bar.say(&say::rough_spares(&rough, began.elapsed()));
    }
    let lost = |done: usize| bar.now(say::losing(done, stakes.strips()));
    lost(0);
    let losses = stakes.in_full(rough, typed.seed, bar, &lost);
    bar.now(say::drawing_lots(typed.samples));
    let chance = stakes.chance(typed.breaks, typed.samples, typed.seed, bar);
    Found {
        job,
        rows: losses.iter().map(|loss| row(job, loss, bar)).collect(),
        losses,
        strips: stakes.strips(),
        looks,
        chance,
        breaks: typed.breaks,
        by_hand: bar.is_stopped_by_hand(),
    }
}

fn row(job: &Job, loss: &Loss, watch: &dyn Watch) -> Spare {
    let name = |strip| job.stock.strip(strip).name.clone();
    let proven = |found| match certain(job, loss.strip, found, watch) {
        Grounds::NotFound => Proven::No,
        _ => Proven::Yes,
    };
    Spare {
        strip: name(loss.strip),
        effect: loss.effect.name(),
        worse: (loss.effect != Effect::NoSpare).then_some(loss.worse),
        labels: loss.labels,
        replacement: loss.replacement.iter().copied().map(name).collect(),
        open: loss.open.iter().map(|id| job.hull.full_name(*id)).collect(),
        proven: loss.grounds.map(proven),
        search: loss.care.name(),
    }
}

/// How certain it is that a course must stay open without what is not laid of a strip.
fn certain(job: &Job, strip: StripId, found: Grounds, watch: &dyn Watch) -> Grounds {
    // Where a course stays open anyway, that one must says nothing of the strip.
    let open = |plan: &twinstrake::plan::Plan| !plan.uncovered.is_empty();
    if job.earlier.as_ref().is_some_and(open) || watch.stop() {
        return found;
    }
    let mut less = job.clone();
    let laid: Vec<Defect> = job
        .laid
        .iter()
        .filter(|piece| piece.strip == strip)
        .map(|piece| Defect {
            from: piece.cut_from,
            to: piece.cut_to,
        })
        .collect();
    let strip = &mut less.stock.strips[strip.0];
    strip.defects = Defect::all_but(&laid, U::at(strip.length));
    again::grounds(&less, found)
}
