//! `lay`: from a job to a plan on the disk.

use super::args::Lay;
use super::bar::Bar;
use super::say::{self, Drawn};
use super::shown;
use super::status::Status;
use super::stop::Stop;
use crate::check::tolerance::costs_agree;
use crate::check::{Verdict, check};
use crate::job::{self, Reading};
use crate::out::{self, Made};
use crate::solve::{self, Asked, Outcome};

pub(super) fn run(typed: &Lay) -> Status {
    let stop = Stop::on_ctrl_c();
    let reading = match job::read(&typed.dir) {
        Ok(reading) => reading,
        Err(complaints) => {
            say::err(&say::complaints(&complaints));
            say::err(&say::nothing_written(complaints.len()));
            return Status::BadInput;
        }
    };
    say::err(&say::warnings(&reading.warnings));
    if let Err(fault) = out::can_write(&typed.dir) {
        say::err(&say::fault(&fault));
        return Status::Fault;
    }

    let job = &reading.job;
    let asked = Asked {
        seed: typed.seed,
        rounds: typed.rounds,
        seconds: typed.seconds,
        threads: typed.threads.map(usize::from),
    };
    let bar = Bar::new(asked.rounds, typed.quiet, stop);
    let outcome = solve::lay(job, &asked, &bar);
    bar.done();

    let verdict = check(job, &outcome.plan);
    if let Some(slip) = slip(&outcome, &verdict) {
        say::err(&slip);
        return Status::Fault;
    }
    let drawn = Drawn {
        dir: &typed.dir,
        job,
        outcome: &outcome,
        verdict: &verdict,
    };
    if let Err(fault) = write(typed, &reading, &drawn) {
        say::err(&say::fault(&fault));
        return Status::Fault;
    }
    say_how_it_went(&drawn, typed.quiet)
}

/// What the planner got wrong, by the checker's reckoning: a bug, and nothing is written then.
fn slip(outcome: &Outcome, verdict: &Verdict) -> Option<String> {
    if !verdict.is_good() {
        let breaches: Vec<String> = verdict.breaches.iter().map(ToString::to_string).collect();
        let what = format!(
            "the plan that was found breaks a rule:\n  {}\nNothing was written",
            breaches.join("\n  ")
        );
        return Some(say::bug(&what));
    }
    let (ours, theirs) = (outcome.cost, verdict.cost);
    let terms = [
        ("seams", ours.seam, theirs.seam),
        ("mates", ours.matching, theirs.matching),
        ("joints", ours.joint, theirs.joint),
        ("strips cut", ours.thrift, theirs.thrift),
        ("moved", ours.moved, theirs.moved),
    ];
    let (name, ours, theirs) = terms
        .into_iter()
        .find(|(_, ours, theirs)| !costs_agree(*ours, *theirs))?;
    Some(say::bug(&format!(
        "the search reckons {ours} for the cost of {name} and the checker {theirs}. Nothing was written"
    )))
}

fn write(typed: &Lay, reading: &Reading, drawn: &Drawn<'_>) -> Result<(), out::Fault> {
    let (job, outcome) = (drawn.job, drawn.outcome);
    let made = Made {
        digests: &reading.digests,
        seed: typed.seed,
        rounds: outcome.rounds,
        seconds: typed.seconds,
        ended: outcome.ended.name(),
        cost: drawn.verdict.cost,
        bound: outcome.bound,
        bound_reason: &outcome.bound_reason,
    };
    let shown = shown::found(drawn, &reading.digests)?;
    out::write(&typed.dir, job, &outcome.plan, &made, shown)
}

fn say_how_it_went(drawn: &Drawn<'_>, quiet: bool) -> Status {
    let shortage = say::shortage(drawn.job, drawn.outcome);
    let said = if quiet {
        shortage.unwrap_or_default()
    } else {
        say::summary(drawn, shortage.as_deref())
    };
    match say::out(&said) {
        Ok(()) if drawn.outcome.plan.uncovered.is_empty() => Status::Good,
        Ok(()) => Status::Wanting,
        Err(error) => {
            say::err(&format!(
                "The plan is written, but its summary could not be printed: {error}.\n"
            ));
            Status::Fault
        }
    }
}
