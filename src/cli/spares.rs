//! `spares`: which strips must not break.

use super::again;
use super::args::Spares;
use super::opened;
use super::say::{self, Found};
use super::status::Status;
use twinstrake::check::check;
use twinstrake::job::Job;
use twinstrake::out::{self, Proven, Spare};
use twinstrake::solve::{Chance, Effect, Grounds, Loss, chance, losses, on_threads};
use twinstrake::stock::{Defect, StripId};
use twinstrake::units::U;

pub(super) fn run(typed: &Spares) -> Status {
    let (mut reading, plan) = match opened::job_and_plan(&typed.dir) {
        Ok(both) => both,
        Err(status) => return status,
    };
    let verdict = check(&reading.job, &plan);
    if !verdict.is_good() {
        say::err(&say::no_plan_to_lose(&typed.dir));
        return Status::BadInput;
    }
    reading.job.earlier = Some(plan);
    let job = &reading.job;
    let (losses, chance) = figures(typed, job);
    let rows: Vec<Spare> = losses.iter().map(|loss| row(job, loss)).collect();
    if let Err(fault) = out::write_spares(&typed.dir, &rows) {
        say::err(&say::fault(&fault));
        return Status::Fault;
    }
    let found = Found {
        job,
        losses: &losses,
        rows: &rows,
        chance,
        breaks: typed.breaks,
    };
    say::done(&say::spares(&typed.dir, &found))
}

fn figures(typed: &Spares, job: &Job) -> (Vec<Loss>, Chance) {
    let all = || {
        (
            losses(job, typed.seed),
            chance(job, typed.breaks, typed.samples, typed.seed),
        )
    };
    on_threads(typed.threads.map(usize::from), all)
}

fn row(job: &Job, loss: &Loss) -> Spare {
    let name = |strip| job.stock.strip(strip).name.clone();
    let course = |id| {
        format!(
            "{} {}",
            job.hull.panel_of(id).name,
            job.hull.course(id).name()
        )
    };
    Spare {
        strip: name(loss.strip),
        effect: loss.effect.name(),
        worse: (loss.effect != Effect::NoSpare).then_some(loss.worse),
        labels: loss.labels,
        replacement: loss.replacement.iter().copied().map(name).collect(),
        open: loss.open.iter().copied().map(course).collect(),
        proven: loss
            .grounds
            .map(|found| match certain(job, loss.strip, found) {
                Grounds::NotFound => Proven::No,
                _ => Proven::Yes,
            }),
    }
}

/// How certain it is that a course must stay open without what is not laid of a strip.
fn certain(job: &Job, strip: StripId, found: Grounds) -> Grounds {
    // Where a course stays open anyway, that one must says nothing of the strip.
    if job
        .earlier
        .as_ref()
        .is_some_and(|plan| !plan.uncovered.is_empty())
    {
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
