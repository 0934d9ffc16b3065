//! Every text that a person reads on the terminal: calm, in the builder's words, and plain enough for a printer.
//!
//! Texts are made whole as strings and handed to [`out`] or [`err`], which take the colour out again where the terminal
//! does not want it.

mod bound;
mod changes;
mod choices;
mod clashes;
mod closing;
mod complaints;
mod cost;
mod courses;
mod eased;
mod fit;
mod lines;
mod log;
mod need;
mod paper;
mod pictures;
mod progress;
mod seams;
mod shortage;
mod spares;
mod standing;
mod summary;
mod swap;
mod tally;
mod verdict;
mod why;

pub(super) use bound::bound_reason;
pub(super) use changes::{back, because, changes, log_has_grown, no_replacement, stands, trade};
pub(super) use choices::{
    changed_by_hand, changed_since, choices, leaning, nothing_picked, picked, unreadable_choice,
};
pub(super) use complaints::{
    bug, complaints, cut_short, fault, nothing_written, unwritten, warnings,
};
pub(super) use eased::{demanding, trying};
pub(super) use fit::{how_was_it_planed, passes};
pub(super) use lines::{lines, no_forms, nothing_to_work_out};
pub(super) use log::{
    Logged, input_ends, log, logged, not_logged, not_so, nothing_logged, refused, set_aside,
    written_anew,
};
pub(super) use need::{Needed, need};
pub(super) use paper::{
    Printed, not_paper, not_printed, not_printed_before, nothing_changed, nothing_to_print,
    past_the_sheet, printed, sheets, unfit, unsound,
};
pub(super) use pictures::shown;
pub(super) use progress::{in_hand, progress};
pub(super) use shortage::shortage;
pub(super) use spares::{Found, no_plan_to_lose, spares};
pub(super) use standing::standing;
pub(super) use summary::{Drawn, facts, of_the_plan, summary};
pub(super) use swap::{
    Swapped, breaks_a_rule, earlier_breaks_a_rule, kept, neither_place_nor_wood, no_place_named,
    no_plan_before, not_in_the_rack, not_kept, pin_breaks_a_rule, swapped, took_back, unmoved,
};
pub(super) use verdict::{Beside, beside, not_understood, verdict};
pub(super) use why::{Reasons, reasons};

use super::status::Status;
use anstyle::{AnsiColor, Style};
use std::io::{self, ErrorKind, Write};

const HEAD: Style = Style::new().bold();
const CARE: Style = AnsiColor::Yellow.on_default().bold();
const BAD: Style = AnsiColor::Red.on_default().bold();

/// Prints to stdout. A closed pipe is no error: whoever reads has read enough.
///
/// Errors: stdout leads to a file, and its disk is full or broken.
pub(super) fn out(text: &str) -> io::Result<()> {
    let mut to = anstream::stdout().lock();
    match to.write_all(text.as_bytes()).and_then(|()| to.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(error),
        _ => Ok(()),
    }
}

/// Prints to stdout what a command found, as the last that it does, and says how it ended: with `status`, or, where it could not be
/// printed, with `unsaid` and a fault.
pub(super) fn last(text: &str, status: Status, unsaid: &str) -> Status {
    match out(text) {
        Ok(()) => status,
        Err(error) => {
            err(&format!("{unsaid}: {error}.\n"));
            Status::Fault
        }
    }
}

/// The same for files that were written.
pub(super) fn told(text: &str) -> Status {
    let unsaid = "The files are written, but this could not be printed";
    last(text, Status::Good, unsaid)
}

/// The same for whatever else was done.
pub(super) fn done(text: &str) -> Status {
    last(text, Status::Good, "It is done, but could not be printed")
}

/// Prints to stderr. Where even that can't be done, there is nobody left to tell.
pub(super) fn err(text: &str) {
    let _ = anstream::stderr().lock().write_all(text.as_bytes());
}

/// A text without its colours, for paper.
pub(super) fn plain(text: &str) -> String {
    anstream::adapter::strip_str(text).to_string()
}

fn styled(style: Style, text: &str) -> String {
    format!("{style}{text}{style:#}")
}

fn many(count: usize, one: &str, several: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        n => format!("{n} {several}"),
    }
}

/// `a`, `a and b`, `a, b and c`.
fn listed(all: &[String]) -> String {
    match all {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
