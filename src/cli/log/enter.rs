//! An entry: understood, held against boat and wood, and brought to the disk, all under the lock of the log.

use super::as_planned;
use super::now;
use crate::cli::{again, say};
use std::path::{Path, PathBuf};
use twinstrake::job::{self, Complaint, Reading};
use twinstrake::log::{Book, Entry, Event, Script, Standing, live, replay};
use twinstrake::out::{self, Fault};
use twinstrake::plan::Plan;
use twinstrake::untrusted::clean;

/// What goes with an entry, whatever it tells.
#[derive(Clone, Copy, Debug)]
pub struct Aside<'a> {
    /// The builder's own words.
    pub note: &'a str,
    /// What whoever sends it knows it by; what came with the same key before is not written again. Empty for none.
    pub key: &'a str,
}

/// An entry that is on the disk.
pub struct Entered {
    pub reading: Reading,
    pub plan: Option<Plan>,
    pub standing: Standing,
    /// Every entry.
    pub entries: Vec<Entry>,
    /// Where the new ones begin, those left aside that only say how older ones lie.
    pub first: usize,
    /// Where the log as it was written by hand is kept, where it had to be written anew.
    pub aside: Option<PathBuf>,
}

/// Why nothing was written.
pub enum NotEntered {
    /// The job can't be read.
    Complaints(Vec<Complaint>),
    /// What was told could not be understood, or asks for what is not there.
    NotSo(String),
    /// It contradicts the boat, the wood or the record; in words, a line each.
    Refused(String),
    /// The disk did not take it.
    Fault(Fault),
}

/// Writes what `told` makes of the job as it is under the lock.
///
/// Errors: why nothing was written.
pub fn enter(
    dir: &Path,
    aside: Aside<'_>,
    told: impl FnOnce(&Reading, Option<&Plan>) -> Result<Vec<Event>, String>,
) -> Result<Entered, NotEntered> {
    // Asked before a log is begun in a folder that is no job.
    job::read(dir).map_err(NotEntered::Complaints)?;
    let mut book = Book::open(dir).map_err(NotEntered::Fault)?;
    // Under the lock, so that nobody's entry comes between what is read and what is written.
    let reading = job::read(dir).map_err(NotEntered::Complaints)?;
    let plan = job::read_plan(dir, &reading.job).ok();
    if let Some(entered) = before(&reading, plan.as_ref(), aside.key) {
        return entered;
    }
    let events = told(&reading, plan.as_ref()).map_err(NotEntered::NotSo)?;
    write(dir, aside, &mut book, reading, plan, events)
}

/// What came with this key before. What was undone since is not so any more, and must not be acknowledged.
fn before(
    reading: &Reading,
    plan: Option<&Plan>,
    key: &str,
) -> Option<Result<Entered, NotEntered>> {
    let log = reading.log.as_ref().filter(|_| !key.is_empty())?;
    let at = log.entries.iter().position(|entry| entry.key == key)?;
    if !live(&log.entries)[at] {
        let number = at + 1;
        return Some(Err(NotEntered::NotSo(format!(
            "This was told before, as entry {number}, and has been undone since. Look at it again, and tell it anew."
        ))));
    }
    Some(Ok(Entered {
        plan: plan.cloned(),
        standing: log.standing.clone(),
        entries: log.entries[..=at].to_vec(),
        first: at,
        aside: None,
        reading: reading.clone(),
    }))
}

fn write(
    dir: &Path,
    aside: Aside<'_>,
    book: &mut Book,
    reading: Reading,
    plan: Option<Plan>,
    events: Vec<Event>,
) -> Result<Entered, NotEntered> {
    let number = plan.as_ref().and_then(|_| out::number_in_force(dir));
    let time = now();
    let entry = |event: Event| Entry {
        time: time.clone(),
        event,
        plan: number,
        note: clean(aside.note),
        key: String::new(),
    };
    let log = reading.log.as_ref();
    let mut entries: Vec<Entry> = log.map_or(Vec::new(), |log| log.entries.clone());
    let before = entries.len();
    // What was written by hand without saying how it lies is told first, as it was planned.
    entries.extend(log.iter().flat_map(|log| as_planned(log, number)));
    let first = entries.len();
    entries.extend(events.into_iter().map(entry));
    // The last alone has the key: where the power fails in between, what is missing is told anew.
    if let Some(last) = entries[first..].last_mut() {
        aside.key.clone_into(&mut last.key);
    }
    let job = &reading.job;
    let standing = replay(&job.hull, &reading.inventory, &entries)
        .map_err(|refused| NotEntered::Refused(say::refused(job, &entries, before, &refused)))?;
    let script = Script {
        hull: &job.hull,
        unit: job.unit,
    };
    let added = again::set_torn_aside(book).and_then(|()| book.add(&script, &entries, before));
    let aside = added.map_err(NotEntered::Fault)?;
    Ok(Entered {
        reading,
        plan,
        standing,
        entries,
        first,
        aside,
    })
}
