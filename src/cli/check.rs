//! `check`: the plan on the disk, judged.

use super::again;
use super::args::Check;
use super::say::{self, Beside};
use super::status::Status;
use crate::check;
use crate::job;
use crate::out;

pub(super) fn run(typed: &Check) -> Status {
    let mut reading = match job::read(&typed.dir) {
        Ok(reading) => reading,
        Err(complaints) => return unreadable(&complaints),
    };
    say::err(&say::warnings(&reading.warnings));
    let told = out::told(&typed.dir);
    again::judge_against_earlier(&typed.dir, &mut reading);
    let plan = match job::read_plan(&typed.dir, &reading.job) {
        Ok(plan) => plan,
        Err(complaints) => return unreadable(&complaints),
    };
    let verdict = check::check(&reading.job, &plan);
    let entries = reading.log.as_ref().map_or(0, |log| log.entries.len());
    match told {
        Ok(Some(told)) => say::err(&say::beside(&Beside {
            job: &reading.job,
            log_entries: entries,
            digests: &reading.digests,
            plan: &plan,
            verdict: &verdict,
            told: &told,
        })),
        Ok(None) => {}
        Err(why) => say::err(&say::not_understood(&why)),
    }
    if let Err(error) = say::out(&say::verdict(&reading.job, &plan, &verdict)) {
        say::err(&format!("The verdict could not be printed: {error}.\n"));
        return Status::Fault;
    }
    if verdict.is_good() && plan.uncovered.is_empty() {
        Status::Good
    } else {
        Status::Wanting
    }
}

fn unreadable(complaints: &[job::Complaint]) -> Status {
    say::err(&say::complaints(complaints));
    Status::BadInput
}
