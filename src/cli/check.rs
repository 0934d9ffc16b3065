//! `check`: the plan on the disk, judged.

use super::again;
use super::args::Check;
use super::opened;
use super::say;
use super::status::{Ended, Status};
use twinstrake::check;
use twinstrake::out;

pub fn run(typed: &Check) -> Ended {
    let (mut reading, plan) = opened::job_and_plan(&typed.dir)?;
    let told = out::told(&typed.dir);
    let earlier_of = told.as_ref().ok().and_then(Option::as_ref);
    again::judge_against_earlier(&typed.dir, earlier_of, &mut reading);
    let verdict = check::check(&reading.job, &plan);
    match told {
        Ok(Some(told)) => say::err(&say::beside(&reading, &plan, &verdict, &told)),
        Ok(None) => {}
        Err(why) => say::err(&say::not_understood(&why)),
    }
    let status = Status::good_if(verdict.is_good() && plan.uncovered.is_empty());
    let said = say::verdict(&reading.job, &plan, &verdict);
    Ok(say::last(&said, status, "The verdict could not be printed"))
}
