//! `pick`: one of the plans to choose from becomes the plan in out/.

use super::again::{self, Before};
use super::args::Pick;
use super::opened;
use super::say;
use super::shown::shown;
use super::status::Status;
use twinstrake::check::check;
use twinstrake::job::{self, Complaint};
use twinstrake::log::Book;
use twinstrake::out::{self, Fault, Made};

pub(super) fn run(typed: &Pick) -> Status {
    let number = usize::from(typed.number);
    // Held to the end: whoever logs meanwhile waits, and goes by the plan that is picked.
    let mut book = match Book::open_if_there(&typed.dir) {
        Ok(book) => book,
        Err(fault) => return failed(&fault),
    };
    let before = Before::look(&typed.dir);
    let mut reading = match opened::job(&typed.dir) {
        Ok(reading) => reading,
        Err(status) => {
            say::err(&say::nothing_picked());
            return status;
        }
    };
    if reading.log.is_some() {
        reading.job.earlier = job::read_earlier(&typed.dir, out::LAYING_ORDER, &reading.job);
    }
    let job = &reading.job;
    let plan = match job::read_choice(&typed.dir, number, job) {
        Ok(plan) => plan,
        Err(complaints) => return refused(&complaints),
    };
    let folder = out::choice_folder(number);
    let offered = match out::offered(&typed.dir, number) {
        Ok(offered) => offered,
        Err(why) => return refused(&[say::unreadable_choice(&folder.join("plan.json"), &why)]),
    };
    let changed = offered.changed(&reading.digests);
    if !changed.is_empty() {
        let complaints: Vec<Complaint> = changed.into_iter().map(say::changed_since).collect();
        return refused(&complaints);
    }
    let verdict = check(job, &plan);
    if !verdict.is_good() {
        say::err(&say::verdict(job, &plan, &verdict));
        return refused(&[say::changed_by_hand(&folder.join("laying-order.csv"))]);
    }
    let made = Made {
        digests: &reading.digests,
        seed: offered.seed,
        rounds: offered.rounds,
        seconds: offered.seconds,
        ended: &offered.ended,
        cost: verdict.cost,
        bound: offered.bound,
        bound_reason: &offered.bound_reason,
        again: before.again(&reading),
        shortage: offered.shortage.as_ref(),
    };
    let facts = say::of_the_plan(job, &plan, &verdict);
    if let Some(book) = &mut book {
        let kept = again::set_torn_aside(book).and_then(|()| match &reading.log {
            Some(_) => again::keep(&typed.dir, &before, &reading, book),
            None => Ok(()),
        });
        if let Err(fault) = kept {
            return failed(&fault);
        }
    }
    let written = shown(&typed.dir, &reading, &plan, &verdict, &facts, None)
        .and_then(|shown| out::write(&typed.dir, job, &plan, &made, shown));
    if let Err(fault) = written {
        return failed(&fault);
    }
    let said = say::picked(&typed.dir, number, job, &plan, &verdict);
    let status = Status::good_if(plan.uncovered.is_empty());
    let unsaid = "The plan is picked, but that could not be printed";
    say::last(&said, status, unsaid)
}

fn failed(fault: &Fault) -> Status {
    say::err(&say::fault(fault));
    Status::Fault
}

fn refused(complaints: &[Complaint]) -> Status {
    say::err(&say::complaints(complaints));
    say::err(&say::nothing_picked());
    Status::BadInput
}
