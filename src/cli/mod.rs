//! The commands: what was typed, what it means, and what is said back.
//!
//! One file a command. A command reads a job, has others do the work, writes, and says in plain words how it went; it
//! decides nothing about wood itself. Every text that a person reads is in `say`. Start with `lay`.

mod again;
mod apart;
mod args;
mod bar;
mod begin;
mod bench;
mod card;
mod check;
mod colours;
mod courses;
mod faces;
mod fit;
mod hull;
mod labels;
mod laid;
mod lay;
mod log;
mod mill;
mod need;
mod opened;
mod pick;
mod pictures;
mod pin;
mod planned;
mod say;
mod sheets;
mod shown;
mod sort;
mod spares;
mod standing;
mod status;
mod stock;
mod stop;
mod swap;
mod tags;
mod trying;
mod why;

pub use status::Status;

use args::{Command, Typed};
use clap::Parser;
use std::panic;
use twinstrake::disk;
use twinstrake::untrusted::clean;

/// Does what was typed on the command line, and says how it went.
pub fn run() -> Status {
    let typed = match Typed::try_parse() {
        Ok(typed) => typed,
        Err(told) => {
            // What was mistyped is told back: without anything in it that a terminal would obey.
            let words = std::env::args_os().map(|word| clean(&word.to_string_lossy()));
            let told = Typed::try_parse_from(words).err().unwrap_or(told);
            // Help and version come this way as well. Whoever has closed the pipe does not want to read it.
            let _ = told.print();
            return match told.exit_code() {
                0 => Status::Good,
                _ => Status::BadInput,
            };
        }
    };
    disk::when_waiting(say::waiting);
    // A panic has said its own words on stderr by then; the mend is ours.
    panic::catch_unwind(|| match &typed.command {
        Command::Bench(bench) => bench::run(bench),
        Command::Begin(begin) => begin::run(begin),
        Command::Lay(lay) => lay::run(lay),
        Command::Check(check) => check::run(check),
        Command::Pictures(pictures) => pictures::run(pictures),
        Command::Hull(hull) => hull::run(hull),
        Command::Courses(courses) => courses::run(courses),
        Command::Need(need) => need::run(need),
        Command::Fit(fit) => fit::run(fit),
        Command::Mill(mill) => mill::run(mill),
        Command::Tags(tags) => tags::run(tags),
        Command::Card(card) => card::run(card),
        Command::Colours(colours) => colours::run(colours),
        Command::Sort(sort) => sort::run(sort),
        Command::MeasureOne(_) => Ok(colours::measure_one()),
        Command::ReadOne(_) => Ok(bench::read_one()),
        Command::Labels(labels) => labels::run(labels),
        Command::Sheets(sheets) => sheets::run(sheets),
        Command::Pick(pick) => pick::run(pick),
        Command::Swap(swap) => swap::run(swap),
        Command::Why(why) => why::run(why),
        Command::Log(log) => log::run(log),
        Command::Spares(spares) => spares::run(spares),
        Command::Status(standing) => standing::run(standing),
    })
    .map(|ended| ended.unwrap_or_else(|status| status))
    .unwrap_or_else(|_| {
        say::at_fault(&say::bug(
            "the program met something that it was sure could not be",
        ))
    })
}
