//! `log`: what has happened in the shop, told in the shop's words.

mod enter;
mod names;
mod words;

pub(super) use enter::{Aside, Entered, NotEntered, enter};
pub(super) use names::{Named, named};
pub(super) use words::{Shop, events, read_colour};

use super::args::Log;
use super::opened;
use super::say;
use super::status::Status;
use std::io::{BufRead, stdin};
use twinstrake::job;
use twinstrake::log::{Entry, Event};

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
        key: String::new(),
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
    let aside = Aside {
        note: &typed.note,
        key: "",
    };
    let entered = enter(&typed.job, aside, |reading, plan| {
        let shop = Shop {
            reading,
            plan,
            whole: typed.whole,
            origin: typed.board.clone().zip(typed.seq),
        };
        events(&shop, words)
    });
    match entered {
        Ok(entered) => {
            if let Some(aside) = &entered.aside {
                say::err(&say::written_anew(aside));
            }
            say::done(&say::logged(&entered.logged(&typed.job)))
        }
        Err(NotEntered::Complaints(complaints)) => {
            say::err(&say::complaints(&complaints));
            say::err(&say::nothing_logged());
            Status::BadInput
        }
        Err(NotEntered::NotSo(why)) => {
            say::err(&say::not_so(&why));
            Status::BadInput
        }
        Err(NotEntered::Refused(why)) => {
            say::err(&why);
            Status::BadInput
        }
        Err(NotEntered::Fault(fault)) => {
            say::err(&say::not_logged(&fault));
            Status::Fault
        }
    }
}
