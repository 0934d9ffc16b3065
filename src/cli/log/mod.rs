//! `log`: what has happened in the shop, told in the shop's words.

mod enter;
mod names;
mod words;

pub use enter::{Aside, Entered, NotEntered, enter};
pub use names::{Named, named};
pub use words::{Shop, events, read_colour};

use super::args::Log;
use super::opened::{self, unreadable};
use super::say;
use super::status::{Ended, Status};
use std::io::{BufRead, stdin};
use twinstrake::job;
use twinstrake::log::{Entry, Event};

/// The note of a row that says how a piece lies which a row by hand said is laid.
const AS_PLANNED: &str = "as planned";

/// The entries that say how pieces lie which a row by hand says are laid: as they were planned. `plan` is the number
/// of that plan.
pub fn as_planned(log: &job::Log, plan: Option<u32>) -> Vec<Entry> {
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

pub fn run(typed: &Log) -> Ended {
    match typed.words.as_slice() {
        [] => show(typed),
        [dash] if dash == "-" => from_stdin(typed),
        words => tell(typed, words),
    }
}

/// Each line of standard input is an entry of its own, written before the next is read. Ends at the first that can't
/// be.
fn from_stdin(typed: &Log) -> Ended {
    for line in stdin().lock().lines() {
        let line = line.map_err(|error| say::bad_input(&say::input_ends(&error)))?;
        let words: Vec<String> = line.split_whitespace().map(str::to_owned).collect();
        if words.is_empty() {
            continue;
        }
        let status = tell(typed, &words)?;
        if status != Status::Good {
            return Err(status);
        }
    }
    Ok(Status::Good)
}

fn show(typed: &Log) -> Ended {
    let reading = opened::job(&typed.job)?;
    Ok(say::done(&say::log(&reading)))
}

fn tell(typed: &Log, words: &[String]) -> Ended {
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
    let entered = entered.map_err(|not| match not {
        NotEntered::Complaints(complaints) => {
            unreadable(&complaints);
            say::bad_input(&say::nothing_logged())
        }
        NotEntered::NotSo(why) => say::bad_input(&say::not_so(&why)),
        NotEntered::Refused(why) => say::bad_input(&why),
        NotEntered::Fault(fault) => say::at_fault(&say::not_logged(&fault)),
    })?;
    if let Some(aside) = &entered.aside {
        say::err(&say::written_anew(aside));
    }
    Ok(say::done(&say::logged(&typed.job, &entered)))
}
