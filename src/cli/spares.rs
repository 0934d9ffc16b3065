//! `spares`: which strips must not break.

use super::again;
use super::args::Spares;
use super::say::{self, Found};
use super::status::Status;
use crate::check::check;
use crate::job::{self, Job};
use crate::out::{self, Proven, Spare};
use crate::solve::{Chance, Effect, Loss, chance, losses};
use crate::stock::{Defect, StripId};
use crate::units::U;

pub(super) fn run(typed: &Spares) -> Status {
    let mut reading = match job::read(&typed.dir) {
        Ok(reading) => reading,
        Err(complaints) => {
            say::err(&say::complaints(&complaints));
            return Status::BadInput;
        }
    };
    say::err(&say::warnings(&reading.warnings));
    let plan = match job::read_plan(&typed.dir, &reading.job) {
        Ok(plan) => plan,
        Err(complaints) => {
            say::err(&say::complaints(&complaints));
            return Status::BadInput;
        }
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
    match say::out(&say::spares(&typed.dir, &found)) {
        Ok(()) => Status::Good,
        Err(error) => {
            say::err(&say::unsaid(&error));
            Status::Fault
        }
    }
}

fn figures(typed: &Spares, job: &Job) -> (Vec<Loss>, Chance) {
    let all = || {
        (
            losses(job, typed.seed),
            chance(job, typed.breaks, typed.samples, typed.seed),
        )
    };
    let threads = typed.threads.map_or(0, usize::from);
    match rayon::ThreadPoolBuilder::new().num_threads(threads).build() {
        Ok(pool) => pool.install(all),
        // No threads of our own to be had: the caller's will do, and the figures are the same.
        Err(_) => all(),
    }
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
        proven: (loss.effect == Effect::NoSpare).then(|| proven(job, loss.strip)),
    }
}

/// Whether no plan at all could cover every course without what is not laid of a strip.
fn proven(job: &Job, strip: StripId) -> Proven {
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
    again::proven(&less)
}
