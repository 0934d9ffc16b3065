//! `log`: what has happened in the shop, told in the shop's words.

mod names;
mod words;

use super::again;
use super::args::Log;
use super::opened;
use super::say;
use super::status::Status;
use std::io::{BufRead, stdin};
use twinstrake::job::{self, Reading};
use twinstrake::log::{Book, Entry, Event, Script, replay};
use twinstrake::out;
use twinstrake::plan::Plan;
use twinstrake::untrusted::clean;
use words::{Shop, events};

/// The note of a row that says how a piece lies which a row by hand said is laid.
const AS_PLANNED: &str = "as planned";

/// The entries that say how pieces lie which a row by hand says are laid: as they were planned. `plan` is the number
/// of that plan.
pub(super) fn as_planned(log: &job::Log, plan: Option<u32>) -> Vec<Entry> {
    let entry = |event: &Event| Entry {
        time: now(),
        event: event.clone(),
        plan,
        note: AS_PLANNED.into(),
    };
    log.settled.iter().map(entry).collect()
}

/// The time for an entry: that of the wall clock in the shop.
fn now() -> String {
    jiff::ZonedDateTime::now()
        .strftime("%Y-%m-%d %H:%M:%S")
        .to_string()
}

pub(super) fn run(typed: &Log) -> Status {
    match typed.words.as_slice() {
        [] => show(typed),
        [dash] if dash == "-" => from_stdin(typed),
        words => tell(typed, words),
    }
}

/// Each line of standard input is an entry of its own, written before the next is read. Ends at the first that can't
/// be.
fn from_stdin(typed: &Log) -> Status {
    for line in stdin().lock().lines() {
        let line = match line {
            Ok(line) => line,
            Err(error) => {
                say::err(&say::input_ends(&error));
                return Status::BadInput;
            }
        };
        let words: Vec<String> = line.split_whitespace().map(str::to_owned).collect();
        if words.is_empty() {
            continue;
        }
        let status = tell(typed, &words);
        if status != Status::Good {
            return status;
        }
    }
    Status::Good
}

fn show(typed: &Log) -> Status {
    match opened::job(&typed.job) {
        Ok(reading) => say::done(&say::log(&reading)),
        Err(status) => status,
    }
}

fn tell(typed: &Log, words: &[String]) -> Status {
    // Asked before a log is begun in a folder that is no job.
    if let Err(complaints) = job::read(&typed.job) {
        say::err(&say::complaints(&complaints));
        say::err(&say::nothing_logged());
        return Status::BadInput;
    }
    let mut book = match Book::open(&typed.job) {
        Ok(book) => book,
        Err(fault) => {
            say::err(&say::not_logged(&fault));
            return Status::Fault;
        }
    };
    // Under the lock, so that nobody's entry comes between what is read and what is written.
    let reading = match job::read(&typed.job) {
        Ok(reading) => reading,
        Err(complaints) => {
            say::err(&say::complaints(&complaints));
            say::err(&say::nothing_logged());
            return Status::BadInput;
        }
    };
    let plan = job::read_plan(&typed.job, &reading.job).ok();
    let shop = Shop {
        reading: &reading,
        plan: plan.as_ref(),
        whole: typed.whole,
        origin: typed.board.clone().zip(typed.seq),
    };
    let events = match events(&shop, words) {
        Ok(events) => events,
        Err(why) => {
            say::err(&say::not_so(&why));
            return Status::BadInput;
        }
    };
    write(typed, &mut book, &reading, plan.as_ref(), events)
}

fn write(
    typed: &Log,
    book: &mut Book,
    reading: &Reading,
    plan: Option<&Plan>,
    events: Vec<Event>,
) -> Status {
    let number = plan.and_then(|_| out::number_in_force(&typed.job));
    let time = now();
    let entry = |event: Event| Entry {
        time: time.clone(),
        event,
        plan: number,
        note: clean(&typed.note),
    };
    let mut entries: Vec<Entry> = reading
        .log
        .iter()
        .flat_map(|log| log.entries.clone())
        .collect();
    let before = entries.len();
    // What was written by hand without saying how it lies is told first, as it was planned.
    entries.extend(reading.log.iter().flat_map(|log| as_planned(log, number)));
    let told = entries.len();
    entries.extend(events.into_iter().map(entry));
    let job = &reading.job;
    let standing = match replay(&job.hull, &reading.inventory, &entries) {
        Ok(standing) => standing,
        Err(refused) => {
            say::err(&say::refused(job, &entries, before, &refused));
            return Status::BadInput;
        }
    };
    let script = Script {
        hull: &job.hull,
        unit: job.unit,
    };
    let added = again::set_torn_aside(book).and_then(|()| book.add(&script, &entries, before));
    match added {
        Ok(None) => {}
        Ok(Some(aside)) => say::err(&say::written_anew(&aside)),
        Err(fault) => {
            say::err(&say::not_logged(&fault));
            return Status::Fault;
        }
    }
    say::done(&say::logged(&say::Logged {
        dir: &typed.job,
        job,
        plan,
        standing: &standing,
        entries: &entries,
        first: told,
    }))
}
