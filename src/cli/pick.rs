//! `pick`: one of the plans to choose from becomes the plan in out/.

use super::again::{self, Before};
use super::args::Pick;
use super::opened;
use super::say;
use super::shown::shown;
use super::status::{Ended, Status};
use std::path::Path;
use twinstrake::check::{Verdict, check};
use twinstrake::job::{self, Complaint, Reading};
use twinstrake::log::Book;
use twinstrake::out::{self, Fault, Made};
use twinstrake::plan::Plan;

/// One of the plans to choose from, and whether it can still be taken.
pub struct Choice {
    pub plan: Plan,
    pub verdict: Verdict,
    made: Made,
    /// Why it can't be taken; nothing where it can.
    pub against: Vec<Complaint>,
}

/// Why none was picked.
pub enum NotPicked {
    /// The job can't be read, or there is no such plan.
    Complaints(Vec<Complaint>),
    /// It breaks rules, or is not for the job as it is now.
    Against(Box<(Reading, Choice)>),
    /// The disk can't be written to, or we made a mistake.
    Fault(Fault),
}

impl From<Fault> for NotPicked {
    fn from(fault: Fault) -> NotPicked {
        NotPicked::Fault(fault)
    }
}

pub fn run(typed: &Pick) -> Ended {
    let number = usize::from(typed.number);
    let picked = pick(&typed.dir, number, opened::odd, |_, _| true);
    let (reading, choice) = picked.map_err(|not| match not {
        NotPicked::Fault(fault) => say::at_fault(&say::fault(&fault)),
        NotPicked::Complaints(complaints) => refused(&complaints),
        NotPicked::Against(both) => {
            let (reading, choice) = *both;
            if !choice.verdict.is_good() {
                say::err(&say::verdict(&reading.job, &choice.plan, &choice.verdict));
            }
            refused(&choice.against)
        }
    })?;
    let (plan, verdict) = (&choice.plan, &choice.verdict);
    let said = say::picked(&typed.dir, number, &reading.job, plan, verdict);
    let status = Status::good_if(plan.uncovered.is_empty());
    let unsaid = "The plan is picked, but that could not be printed";
    Ok(say::last(&said, status, unsaid))
}

/// Makes the plan of that number the plan in `out/`, where it is the one that is meant. `odd` is told of the job as
/// soon as it is read.
///
/// Errors: why nothing was written.
pub fn pick(
    dir: &Path,
    number: usize,
    odd: impl FnOnce(&Reading),
    is_meant: impl FnOnce(&Reading, &Choice) -> bool,
) -> Result<(Reading, Choice), NotPicked> {
    // Held to the end: whoever logs meanwhile waits, and goes by the plan that is picked.
    let mut book = Book::open_if_there(dir)?;
    let before = Before::look(dir);
    let mut reading = opened::judged(dir).map_err(NotPicked::Complaints)?;
    odd(&reading);
    if reading.log.is_some() {
        reading.job.earlier = job::read_earlier(dir, out::LAYING_ORDER, &reading.job);
    }
    let choice = choice(dir, number, &reading).map_err(NotPicked::Complaints)?;
    if !is_meant(&reading, &choice) {
        return Err(NotPicked::Complaints(vec![say::another_choice(number)]));
    }
    if !choice.against.is_empty() {
        return Err(NotPicked::Against(Box::new((reading, choice))));
    }
    let job = &reading.job;
    let made = Made {
        again: before.again(&reading),
        inputs: reading.digests.clone(),
        cost: choice.verdict.cost,
        ..choice.made.clone()
    };
    if let Some(book) = &mut book {
        again::settle(dir, &before, &reading, book)?;
    }
    let facts = say::of_the_plan(job, &choice.plan, &choice.verdict);
    let shown = shown(dir, &reading, &choice.plan, &choice.verdict, &facts, None)?;
    out::write(dir, job, &choice.plan, &made, shown)?;
    Ok((reading, choice))
}

/// The plan of that number, judged by the job as it was read.
///
/// Errors: there is none, or it can't be understood.
pub fn choice(dir: &Path, number: usize, reading: &Reading) -> Result<Choice, Vec<Complaint>> {
    let job = &reading.job;
    let plan = job::read_choice(dir, number, job)?;
    let folder = out::choice_folder(number);
    let made = out::offered(dir, number)
        .map_err(|why| vec![say::unreadable_choice(&folder.join("plan.json"), &why)])?;
    let verdict = check(job, &plan);
    let digests = reading.digests.iter();
    let changed = digests.filter(|digest| !made.inputs.contains(digest));
    let against = changed.map(|digest| say::changed_since(&digest.file));
    let mut against: Vec<Complaint> = against.collect();
    if against.is_empty() && !verdict.is_good() {
        against.push(say::changed_by_hand(&folder.join("laying-order.csv")));
    }
    Ok(Choice {
        plan,
        verdict,
        made,
        against,
    })
}

fn refused(complaints: &[Complaint]) -> Status {
    opened::unreadable(complaints);
    say::bad_input(&say::nothing_picked())
}
