//! A job and the plan that lies in its `out/`: what every command starts from that prints a plan.

use super::again;
use super::opened;
use super::say;
use super::status::Status;
use std::collections::BTreeSet;
use std::path::Path;
use twinstrake::check;
use twinstrake::draw::Misprint;
use twinstrake::job::{Job, Reading};
use twinstrake::out::{self, Fault};
use twinstrake::paper::{self, About};
use twinstrake::plan::Plan;
use twinstrake::stock::StripId;

/// A job and its plan.
pub struct Planned {
    pub reading: Reading,
    pub plan: Plan,
    /// The strips that out/spares.csv says have no spare, where it is about this plan.
    pub no_spare: BTreeSet<StripId>,
}

impl Planned {
    /// Reads both, and says on stderr what somebody should look at before printing.
    ///
    /// Errors: how the command ends; why is said already.
    pub fn read(dir: &Path) -> Result<Planned, Status> {
        let (mut reading, plan) = opened::job_and_plan(dir)?;
        printable(&reading.job)?;
        let told = out::told(dir).ok().flatten();
        again::judge_against_earlier(dir, told.as_ref(), &mut reading);
        let verdict = check::check(&reading.job, &plan);
        if !verdict.is_good() {
            say::err(&say::unsound(dir));
        }
        if let Some(told) = &told {
            say::err(&say::beside(&reading, &plan, &verdict, told));
        }
        Ok(Planned {
            no_spare: no_spare(dir, &reading.job),
            reading,
            plan,
        })
    }

    /// What is printed of the plan besides its pieces.
    ///
    /// Errors: the laying order can't be put together, which is a bug and is said already.
    pub fn about(&self, date: Option<String>, to_do: bool) -> Result<About, Status> {
        Ok(About {
            digest: out::plan_digest(&self.reading.job, &self.plan).map_err(failed)?,
            date,
            no_spare: self.no_spare.clone(),
            to_do,
            bench: self.reading.bench.clone(),
        })
    }
}

/// Errors: a name can't be printed; which is said already.
pub fn printable(job: &Job) -> Result<(), Status> {
    let unfit = paper::names_unprintable(job);
    match unfit.is_empty() {
        true => Ok(()),
        false => Err(say::bad_input(&say::unfit(&unfit))),
    }
}

/// The strips that out/spares.csv says have no spare.
pub fn no_spare(dir: &Path, job: &Job) -> BTreeSet<StripId> {
    let names = out::no_spare(dir).unwrap_or_default();
    names
        .iter()
        .filter_map(|name| job.stock.named(name))
        .collect()
}

/// Why nothing was printed.
pub enum NotMade {
    /// There is nothing to print.
    Nothing,
    /// What was printed last still holds.
    Unchanged,
    /// What is asked for can't be, in words.
    NotSo(String),
    /// The disk did not take it, or we made a mistake.
    Fault(Fault),
}

impl From<Fault> for NotMade {
    fn from(fault: Fault) -> NotMade {
        NotMade::Fault(fault)
    }
}

/// A page that could not be made, as a fault of the file that it is in.
pub fn fault(file: &'static str, misprint: &Misprint) -> Fault {
    Fault::Format {
        file,
        why: misprint.to_string(),
    }
}

/// Says what went wrong with the disk, or with us.
pub fn failed(fault: Fault) -> Status {
    say::at_fault(&say::unwritten(&fault))
}

impl NotMade {
    /// Says why nothing was printed; `nothing` where there is nothing to print.
    pub fn said(self, nothing: &str) -> Status {
        match self {
            NotMade::Nothing => {
                say::err(nothing);
                Status::Wanting
            }
            NotMade::Unchanged => said(&say::nothing_changed(), Status::Good),
            NotMade::NotSo(why) => say::bad_input(&why),
            NotMade::Fault(fault) => failed(fault),
        }
    }
}

/// Says it on stdout.
pub fn said(text: &str, status: Status) -> Status {
    say::last(text, status, "It is written, but this could not be printed")
}
