//! Every text that a person reads on the terminal: calm, in the builder's words, and plain enough for a printer.
//!
//! Texts are made whole as strings and handed to [`out`] or [`err`], which take the colour out again where the terminal
//! does not want it.

mod bench;
mod bound;
mod changes;
mod choices;
mod clashes;
mod closing;
mod colours;
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
mod rack;
mod seams;
mod shortage;
mod sorting;
mod spares;
mod standing;
mod summary;
mod swap;
mod tally;
mod verdict;
mod why;

pub use bench::{Open, bench_fell_over, bench_is_closed, bench_is_open, entry, no_chance, no_port};
pub use bound::bound_reason;
pub use changes::{
    back, because, changes, differences, it_stands, job_has_changed, log_has_grown, no_replacement,
    stands, trade,
};
pub use choices::{
    another_choice, changed_by_hand, changed_since, choice_rows, choices, leaning, nothing_picked,
    picked, unreadable_choice,
};
pub use colours::{
    Measured, card, measured, no_photo_measured, no_photograph, not_measured, quality,
};
pub use complaints::{bug, complaints, cut_short, fault, nothing_written, unwritten, warnings};
pub use cost::terms;
pub use eased::{demanding, trying};
pub use fit::{how_was_it_planed, passes};
pub use lines::{lines, no_forms, nothing_to_work_out};
pub use log::{
    colour_told, input_ends, log, logged, not_logged, not_so, nothing_logged, refused, set_aside,
    written_anew,
};
pub use need::{Needed, need};
pub use paper::{
    not_paper, not_printed_before, nothing_changed, nothing_to_print, past_the_sheet, printed,
    sheets, taken_off, unfit, unsound,
};
pub use pictures::{hull, narrower, no_shape, shown};
pub use progress::{in_hand, progress};
pub use rack::{begun, job_is_there, milled, no_such_board, nothing_to_tag, tagged};
pub use seams::{NO_SEAM, WORST_SEAMS, worst_seam_rows};
pub use shortage::shortage;
pub use sorting::{culled, promised, sorted, stacked};
pub use spares::{Found, drawing_lots, losing, no_plan_to_lose, rough_spares, spares};
pub use standing::{standing, standing_rows};
pub use summary::{Drawn, facts, of_the_plan, summary};
pub use swap::{
    Swapped, breaks_a_rule, earlier_breaks_a_rule, kept, neither_place_nor_wood, no_place_named,
    no_plan_before, no_room_for_pins, not_in_the_rack, not_kept, pin_breaks_a_rule, swapped,
    took_back, unmoved,
};
pub use verdict::{beside, not_understood, verdict};
pub use why::reasons;

use super::status::Status;
use anstyle::{AnsiColor, Style};
use std::io::{self, ErrorKind, Write};
use std::path::Path;
use twinstrake::untrusted::{is_hidden, shown as shown_path};

/// How words stand out. In a text each is a code point that is no character: no text from outside can pass for one of
/// ours.
#[derive(Clone, Copy)]
enum Emphasis {
    Head = 0xfdd0,
    Care = 0xfdd1,
    Bad = 0xfdd2,
    /// A code for a telephone.
    Code = 0xfdd4,
}
use Emphasis::{Bad as BAD, Care as CARE, Code as CODE, Head as HEAD};

/// The end of words that stand out.
const AS_USUAL: char = '\u{fdd3}';

impl Emphasis {
    const ALL: [Emphasis; 4] = [HEAD, CARE, BAD, CODE];

    fn mark(self) -> char {
        char::from_u32(self as u32).unwrap_or(AS_USUAL)
    }

    fn style(self) -> Style {
        match self {
            HEAD => Style::new().bold(),
            CARE => AnsiColor::Yellow.on_default().bold(),
            BAD => AnsiColor::Red.on_default().bold(),
            CODE => AnsiColor::Black.on(AnsiColor::BrightWhite),
        }
    }
}

/// A text as it goes to the terminal: ours in its colours, and nothing in it that a terminal would obey.
fn safe(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match Emphasis::ALL.into_iter().find(|one| one.mark() == c) {
            Some(emphasis) => safe += &emphasis.style().render().to_string(),
            None if c == AS_USUAL => safe += &Style::new().bold().render_reset().to_string(),
            None if c != '\n' && is_hidden(c) => safe.push(' '),
            None => safe.push(c),
        }
    }
    safe
}

/// A path as it is told.
trait TellPath {
    fn told(&self) -> String;
}

impl TellPath for Path {
    fn told(&self) -> String {
        shown_path(self)
    }
}

/// Prints to stdout. A closed pipe is no error: whoever reads has read enough.
///
/// Errors: stdout leads to a file, and its disk is full or broken.
pub fn out(text: &str) -> io::Result<()> {
    let mut to = anstream::stdout().lock();
    match to
        .write_all(safe(text).as_bytes())
        .and_then(|()| to.flush())
    {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(error),
        _ => Ok(()),
    }
}

/// Prints to stdout what a command found, as the last that it does, and says how it ended: with `status`, or, where
/// it could not be printed, with `unsaid` and a fault.
pub fn last(text: &str, status: Status, unsaid: &str) -> Status {
    match out(text) {
        Ok(()) => status,
        Err(error) => {
            err(&format!("{unsaid}: {error}.\n"));
            Status::Fault
        }
    }
}

/// The same for files that were written.
pub fn told(text: &str) -> Status {
    let unsaid = "The files are written, but this could not be printed";
    last(text, Status::Good, unsaid)
}

/// The same for whatever else was done.
pub fn done(text: &str) -> Status {
    last(text, Status::Good, "It is done, but could not be printed")
}

/// Prints to stderr. Where even that can't be done, there is nobody left to tell.
pub fn err(text: &str) {
    let _ = anstream::stderr().lock().write_all(safe(text).as_bytes());
}

/// Says what is wrong with what was typed, or with the files of the job.
pub fn bad_input(why: &str) -> Status {
    err(why);
    Status::BadInput
}

/// Says what is wrong with the disk, or with us.
pub fn at_fault(why: &str) -> Status {
    err(why);
    Status::Fault
}

/// A text without its colours, for paper.
pub fn plain(text: &str) -> String {
    let ours = |c: &char| *c == AS_USUAL || Emphasis::ALL.iter().any(|one| one.mark() == *c);
    text.chars().filter(|c| !ours(c)).collect()
}

/// How a plan looks beside another one; of both what the eye meets, labels aside. Unit: ΔE00·metre.
fn looks_beside(now: f64, other: f64, name: &str) -> String {
    let joined = if is_as_good(now, other) { "as" } else { "than" };
    format!("{} {joined} {name}", by_part(now, other))
}

/// The same without what the other is called: `3.1 % better`.
fn by_part(now: f64, other: f64) -> String {
    let by = now - other;
    let word = if by > 0.0 { "worse" } else { "better" };
    match 100.0 * by.abs() / other {
        _ if is_as_good(now, other) => "as good".into(),
        part if part < 0.05 || !part.is_finite() => format!("a little {word}"),
        part => format!("{part:.1} % {word}"),
    }
}

fn is_as_good(now: f64, other: f64) -> bool {
    (now - other).abs() <= 0.005
}

fn styled(emphasis: Emphasis, text: &str) -> String {
    format!("{}{text}{AS_USUAL}", emphasis.mark())
}

/// What stands before whatever has to be looked at.
fn look_at_this() -> String {
    styled(CARE, "Look at this:")
}

/// A line that stands over others.
fn head(text: &str) -> String {
    format!("{}\n", styled(HEAD, text))
}

/// The files that were written, a line each.
fn written<P: AsRef<Path>>(dir: &Path, files: impl IntoIterator<Item = P>) -> String {
    let line = |file: P| format!("  {}\n", dir.join(file).told());
    head("Written") + &files.into_iter().map(line).collect::<String>()
}

fn many(count: usize, one: &str, several: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        n => format!("{n} {several}"),
    }
}

/// Somebody else writes where we are about to.
pub fn waiting(path: &Path) {
    let path = path.told();
    err(&format!(
        "Another twinstrake is writing in {path}: waiting until it is done. Ctrl-C gives up.\n"
    ));
}

/// `a`, `a and b`, `a, b and c`.
fn listed(all: &[String]) -> String {
    match all {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
