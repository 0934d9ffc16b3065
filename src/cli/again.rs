//! Planning again, around the search: the plan before, whether it stands or another comes back, and what goes into
//! the log and into `out/earlier`.

use super::args::Lay;
use super::log::as_planned;
use super::say;
use std::path::Path;
use twinstrake::check::{Verdict, check};
use twinstrake::disk;
use twinstrake::job::{self, Job, Reading};
use twinstrake::log::{Book, Event, Script, holding, replay, whole_and_torn};
use twinstrake::out::{self, Again, Fault, Made, PlanRecord};
use twinstrake::plan::Plan;
use twinstrake::solve::{BoundReason, Ended, Grounds, Outcome};
use twinstrake::stock::Stock;
use twinstrake::why::Proof;

/// What there is before planning.
pub struct Before {
    /// The number of the plan in force.
    pub number: Option<u32>,
    /// The log as it was when it was read.
    log: Vec<u8>,
}

/// What is to be done.
pub enum Task {
    /// The plan in force is as good as it was when it was made.
    Stands(u32),
    /// What has happened since was undone: the plan that was in force then is in force again.
    Back(Box<Back>),
    /// The search has to find a plan.
    Search,
}

/// A plan that comes back, as it was.
pub struct Back {
    pub number: u32,
    pub plan: Plan,
    /// How it was made.
    pub made: Made,
    /// The number of the plan that it was made again from.
    pub earlier: Option<u32>,
    /// The judgement of it, what it moved being judged against that plan.
    pub verdict: Verdict,
}

impl Back {
    /// The plan of that number, where it is kept and keeps every rule.
    fn of(dir: &Path, job: &Job, number: u32) -> Option<Back> {
        let read = |number| job::read_earlier(dir, &out::earlier_laying_order(number), job);
        let plan = read(number)?;
        let made = out::made_earlier(dir, number).ok()?;
        let earlier = made.again.earlier;
        let then = Job {
            earlier: earlier.and_then(read),
            ..job.clone()
        };
        let verdict = check(&then, &plan);
        verdict.is_good().then_some(())?;
        Some(Back {
            number,
            plan,
            made,
            earlier,
            verdict,
        })
    }

    /// As if it had been found just now.
    pub fn outcome(&self, job: &Job) -> Outcome {
        Outcome {
            cost: check(job, &self.plan).cost,
            plan: self.plan.clone(),
            rounds: self.made.rounds,
            bound: self.made.bound,
            bound_without_joints: self.made.bound_without_joints,
            bound_reason: BoundReason::TakenUpAgain,
            ended: Ended::named(&self.made.ended).unwrap_or(Ended::Stalled),
            shortage: None,
            others: Vec::new(),
        }
    }
}

impl Before {
    /// Looks before anything is read, so that what is logged meanwhile is noticed.
    pub fn look(dir: &Path) -> Before {
        Before {
            number: out::number_in_force(dir),
            log: disk::read(&dir.join(twinstrake::log::FILE)).unwrap_or_default(),
        }
    }

    /// Where the new plan stands among the plans of this boat.
    pub fn again(&self, reading: &Reading) -> Again {
        let Some(log) = &reading.log else {
            return Again::FIRST;
        };
        Again {
            number: self.number.map_or(1, |number| number + 1),
            earlier: reading.job.earlier.as_ref().and(self.number),
            log_entries: log.entries.len() + log.settled.len(),
        }
    }

    /// Whether the log has grown since it was looked at.
    pub fn has_grown(&self, book: &Book) -> bool {
        whole_and_torn(&self.log).0 != book.bytes()
    }
}

/// Brings the log to where a new plan may be written: what was torn off it is put aside, and where there is a log in
/// force, what planning again leaves behind is taken up.
///
/// Errors: the disk can't be written to.
pub fn settle(
    dir: &Path,
    before: &Before,
    reading: &Reading,
    book: &mut Book,
) -> Result<(), Fault> {
    set_torn_aside(book)?;
    match reading.log.is_some() {
        true => keep(dir, before, reading, book),
        false => Ok(()),
    }
}

/// Puts what was torn off the log into a file of its own, and says so.
///
/// Errors: the disk can't be written to.
pub fn set_torn_aside(book: &mut Book) -> Result<(), Fault> {
    if let Some(aside) = book.set_torn_aside()? {
        say::err(&say::set_aside(&aside));
    }
    Ok(())
}

/// The plan before, where there is a log and its labels are not to be forgotten.
pub fn earlier(typed: &Lay, reading: &Reading) -> Option<Plan> {
    if reading.log.is_none() || typed.afresh {
        return None;
    }
    job::read_earlier(&typed.dir, out::LAYING_ORDER, &reading.job)
}

/// What is to be done, the job having its earlier plan already.
pub fn task(typed: &Lay, before: &Before, reading: &Reading) -> Task {
    let (Some(number), Some(_)) = (before.number, &reading.job.earlier) else {
        return Task::Search;
    };
    let asked_to_search =
        typed.rounds.is_some() || typed.seconds.is_some() || typed.choices.is_some();
    if !asked_to_search && stands(&typed.dir, reading) {
        return Task::Stands(number);
    }
    match restored(&typed.dir, number, reading).filter(|back| *back != number) {
        Some(back) => match Back::of(&typed.dir, &reading.job, back) {
            Some(back) => Task::Back(Box::new(back)),
            None => Task::Search,
        },
        None => Task::Search,
    }
}

/// Whether nothing but laying as planned has happened since the plan was made.
fn stands(dir: &Path, reading: &Reading) -> bool {
    let (Ok(Some(told)), Ok(plan)) = (out::told(dir), job::read_plan(dir, &reading.job)) else {
        return false;
    };
    let mut digests = reading.digests.iter();
    let same_files = digests.all(|digest| told.inputs.contains(digest));
    let entries = reading.entries();
    let known = &entries[..told.again.log_entries.min(entries.len())];
    let saw = reading.job.rules.allow.saw;
    let same_wood = replay(&reading.job.hull, &reading.inventory, known)
        .is_ok_and(|then| only_cut(&then.wood_and_laid(saw).0, &reading.job.stock));
    let job = Job {
        earlier: None,
        ..reading.job.clone()
    };
    same_files && same_wood && plan.uncovered.is_empty() && check(&job, &plan).is_good()
}

/// Whether nothing but cutting has happened to the wood: whether the plan goes by the cuts is for the checker to say.
fn only_cut(then: &Stock, now: &Stock) -> bool {
    let uncut = |stock: &Stock| {
        let mut stock = stock.clone();
        stock
            .strips
            .iter_mut()
            .for_each(|strip| strip.kerfs.clear());
        stock
    };
    let mut both = then.strips.iter().zip(&now.strips);
    uncut(then) == uncut(now)
        && both.all(|(then, now)| then.kerfs.iter().all(|kerf| now.kerfs.contains(kerf)))
}

/// The number of the plan that was made for just the entries that hold now, and was in force while they held. A plan
/// can be in force without having been made for what holds: while one entry after another is undone, what held at
/// some time before holds again, under the plan of what has been undone.
fn restored(dir: &Path, in_force: u32, reading: &Reading) -> Option<u32> {
    let entries = &reading.log.as_ref()?.entries;
    let now = holding(entries);
    let made_for_now = |number: u32| {
        let told = match number == in_force {
            true => out::told(dir),
            false => out::told_earlier(dir, number),
        };
        let Ok(Some(told)) = told else {
            return false;
        };
        let then = holding(&entries[..told.again.log_entries.min(entries.len())]);
        let since = || now.iter().filter(|entry| !then.contains(entry));
        told.again.number == number
            && then.iter().all(|entry| now.contains(entry))
            && since()
                .all(|entry| matches!(entries[*entry].event, Event::Laid { .. } | Event::Cut(_)))
    };
    (0..entries.len())
        .rev()
        .filter(|before| holding(&entries[..*before]) == now)
        .filter_map(|before| entries[before].plan)
        .find(|number| made_for_now(*number))
}

/// Takes up what planning again leaves behind, under the lock of the log: the plan in force is kept under its number,
/// and pieces that were said to be laid as planned are written down as they were planned.
///
/// Errors: the disk can't be written to.
fn keep(dir: &Path, before: &Before, reading: &Reading, book: &mut Book) -> Result<(), Fault> {
    if let Some(number) = before.number {
        out::keep(dir, number)?;
    }
    let Some(log) = reading.log.as_ref().filter(|log| !log.settled.is_empty()) else {
        return Ok(());
    };
    let script = Script {
        hull: &reading.job.hull,
        unit: reading.job.unit,
    };
    let mut entries = log.entries.clone();
    entries.extend(as_planned(log, before.number));
    if let Some(aside) = book.add(&script, &entries, log.entries.len())? {
        say::err(&say::written_anew(&aside));
    }
    Ok(())
}

/// What a plan moved is judged against the plan that plan.json says it was made again from, where that is kept.
pub fn judge_against_earlier(dir: &Path, told: Option<&PlanRecord>, reading: &mut Reading) {
    let earlier = told.and_then(|told| told.again.earlier);
    reading.job.earlier = earlier.and_then(|number| {
        job::read_earlier(dir, &out::earlier_laying_order(number), &reading.job)
    });
}

/// How certain it is that something must stay open: what the search says, or else a proof from a little of what the
/// job demands.
pub fn grounds(job: &Job, found: Grounds) -> Grounds {
    if found != Grounds::NotFound {
        return found;
    }
    match Proof::of(job) {
        Some(Proof::Course(_)) => Grounds::OneCourse,
        Some(Proof::TooClose(..)) => Grounds::Joints,
        Some(Proof::TooFewLong | Proof::TooLittle(_)) => Grounds::Lengths,
        None => Grounds::NotFound,
    }
}
