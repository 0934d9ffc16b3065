//! `lay`: from a job to a plan on the disk.

use super::again::{self, Before, Task};
use super::args::Lay;
use super::bar::Bar;
use super::say::{self, Drawn};
use super::status::Status;
use super::stop::Stop;
use crate::check::tolerance::costs_agree;
use crate::check::{Verdict, check};
use crate::draw;
use crate::job::{self, Job, Reading};
use crate::log::Book;
use crate::out::{self, Made};
use crate::plan::Plan;
use crate::solve::{self, Asked, Ended, Outcome, Upset};

pub(super) fn run(typed: &Lay) -> Status {
    let stop = Stop::on_ctrl_c();
    let before = Before::look(&typed.dir);
    let mut reading = match job::read(&typed.dir) {
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
    reading.job.earlier = again::earlier(typed, &reading);

    let job = &reading.job;
    let outcome = match again::task(typed, &before, &reading) {
        Task::Stands(number) => return say_it_stands(typed, number),
        Task::Back(number, plan) => {
            say::err(&say::back(number));
            taken_up(job, plan)
        }
        Task::Search => search(typed, job, stop),
    };

    let verdict = check(job, &outcome.plan);
    if let Some(slip) = slip(&outcome, &verdict) {
        say::err(&slip);
        return Status::Fault;
    }
    match write(typed, &before, &reading, &outcome, &verdict) {
        Ok(Written::Yes) => {}
        Ok(Written::LogHasGrown) => {
            say::err(&say::log_has_grown(&typed.dir));
            return Status::BadInput;
        }
        Err(fault) => {
            say::err(&say::fault(&fault));
            return Status::Fault;
        }
    }
    let drawn = Drawn {
        dir: &typed.dir,
        job,
        outcome: &outcome,
        verdict: &verdict,
    };
    say_how_it_went(&drawn, typed.quiet)
}

fn search(typed: &Lay, job: &Job, stop: Stop) -> Outcome {
    let asked = Asked {
        seed: typed.seed,
        rounds: typed.rounds,
        seconds: typed.seconds,
        threads: typed.threads.map(usize::from),
    };
    let bar = Bar::new(asked.rounds, typed.quiet, stop);
    let outcome = match typed.keep_order && job.earlier.is_some() {
        true => solve::lay_again(job, Upset::ReplacedOnly, &asked, &bar),
        false => solve::lay(job, &asked, &bar),
    };
    bar.done();
    outcome
}

/// An earlier plan taken up again, as if it had been found just now.
fn taken_up(job: &Job, plan: Plan) -> Outcome {
    Outcome {
        cost: check(job, &plan).cost,
        plan,
        rounds: 0,
        bound: None,
        bound_reason: "the plan was taken up again as it was".into(),
        ended: Ended::Stalled,
        shortage: None,
    }
}

fn say_it_stands(typed: &Lay, number: u32) -> Status {
    match say::out(&say::stands(&typed.dir, number)) {
        Ok(()) => Status::Good,
        Err(error) => {
            say::err(&say::unsaid(&error));
            Status::Fault
        }
    }
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

/// Whether the plan was written.
enum Written {
    Yes,
    /// Something was logged while the plan was made, which it does not know of.
    LogHasGrown,
}

fn write(
    typed: &Lay,
    before: &Before,
    reading: &Reading,
    outcome: &Outcome,
    verdict: &Verdict,
) -> Result<Written, out::Fault> {
    let job: &Job = &reading.job;
    let made = Made {
        digests: &reading.digests,
        seed: typed.seed,
        rounds: outcome.rounds,
        seconds: typed.seconds,
        ended: outcome.ended.name(),
        cost: verdict.cost,
        bound: outcome.bound,
        bound_reason: &outcome.bound_reason,
        again: before.again(reading),
    };
    let drawing = draw::planking(job, &outcome.plan, verdict);
    // Held until the plan is written: whoever logs meanwhile waits, and goes by the new plan.
    let mut book = Book::open_if_there(&typed.dir)?;
    if let Some(book) = &mut book {
        if let Some(torn) = book.torn() {
            say::err(&say::set_aside(torn));
        }
        if before.has_grown(book) {
            return Ok(Written::LogHasGrown);
        }
        if reading.log.is_some() {
            again::keep(&typed.dir, before, reading, book)?;
        }
    }
    out::write(&typed.dir, job, &outcome.plan, &made, &drawing)?;
    Ok(Written::Yes)
}

fn say_how_it_went(drawn: &Drawn<'_>, quiet: bool) -> Status {
    let shortage = say::shortage(drawn.job, drawn.outcome);
    let changes = drawn
        .job
        .earlier
        .as_ref()
        .map(|earlier| say::changes(drawn, earlier));
    let said = if quiet {
        shortage.unwrap_or_default()
    } else {
        changes.unwrap_or_default() + &say::summary(drawn, shortage.as_deref())
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
