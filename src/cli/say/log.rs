//! What is said of the log: an entry written, refused, or all of them.

use super::TellPath as _;
use super::{BAD, look_at_this, styled};
use crate::cli::log::Entered;
use std::path::Path;
use twinstrake::hull::Hull;
use twinstrake::job::{Job, Reading};
use twinstrake::log::{Entry, Event, Facts, Refused, Spot, ToldCut, live, place, stretch};
use twinstrake::out::Fault;
use twinstrake::plan::{Piece, Plan};
use twinstrake::units::{Colour, U, Unit};

/// What was written, and what to do next.
pub fn logged(dir: &Path, logged: &Entered) -> String {
    let job = &logged.reading.job;
    let new = &logged.entries[logged.first..];
    let mut text = String::new();
    for (i, entry) in new.iter().enumerate() {
        let number = logged.first + i + 1;
        text += &format!(
            "{number:>4}  {}\n",
            told(&job.hull, job.unit, &entry.event, &logged.entries)
        );
    }
    if let Some(plan) = &logged.plan {
        text += &what_now(dir, logged, plan, new);
    }
    text
}

fn what_now(dir: &Path, logged: &Entered, plan: &Plan, new: &[Entry]) -> String {
    let job = &logged.reading.job;
    let wood_changed = new
        .iter()
        .any(|entry| !matches!(entry.event, Event::Laid { .. } | Event::Cut(_)));
    if wood_changed {
        let (dir, hit) = (dir.told(), hit(logged, plan, new));
        return if hit.is_empty() {
            format!(
                "Nothing in the plan depends on it. To plan with it all the same: twinstrake lay {dir}\n"
            )
        } else {
            let places: String = hit.iter().map(|place| format!("  {place}\n")).collect();
            format!(
                "These pieces were to be cut from it:\n{places}Find other wood for them: twinstrake lay {dir}\n"
            )
        };
    }
    let is_laid = |piece: &&Piece| logged.standing.at(&Spot::of(piece)).is_some();
    let done = plan.pieces.iter().filter(is_laid).count();
    let mut text = format!("{done} of {} pieces are laid.\n", plan.pieces.len());
    if let Some(next) = plan.pieces.iter().find(|piece| !is_laid(piece)) {
        let strip = job.stock.strip(next.strip);
        let there = place(&job.hull, &Spot::of(next));
        text += &match strip.has(next.cut_from, next.cut_to) {
            true => format!("Next: {there}, from {}.\n", strip.name),
            false => format!(
                "Next is {there}, but its wood in {} is gone. Find other wood for it: twinstrake lay {}\n",
                strip.name,
                dir.told()
            ),
        };
    }
    text
}

/// The pieces of the plan, not laid yet, that are cut from wood which the new entries tell of.
fn hit(logged: &Entered, plan: &Plan, new: &[Entry]) -> Vec<String> {
    let job = &logged.reading.job;
    let is_hit = |piece: &Piece| {
        let name = &job.stock.strip(piece.strip).name;
        new.iter().any(|entry| match &entry.event {
            Event::Broken { strip, at } | Event::Spoiled { strip, at } => {
                strip == name && piece.cut_from < at.to && at.from < piece.cut_to
            }
            Event::Lost { strip } => strip == name,
            Event::TakenUp { spot, spoiled } => spoiled.is_some() && spot.covers(&Spot::of(piece)),
            _ => false,
        })
    };
    let open = plan
        .pieces
        .iter()
        .filter(|piece| logged.standing.at(&Spot::of(piece)).is_none());
    open.filter(|piece| is_hit(piece))
        .map(|piece| place(&job.hull, &Spot::of(piece)))
        .collect()
}

/// An event in the shop's words.
pub fn told(hull: &Hull, unit: Unit, event: &Event, entries: &[Entry]) -> String {
    let spot = |spot: &Spot| match spot.number {
        Spot::ALL => {
            let (course, side) = (hull.full_name(spot.course), spot.side.name());
            format!("{course} {side}, all of it")
        }
        _ => place(hull, spot),
    };
    match event {
        Event::Laid { spot: at, facts } => match facts {
            Some(Facts { strip, .. }) => format!("laid: {}, from {strip}", spot(at)),
            None => format!("laid: {}, as planned", spot(at)),
        },
        Event::Cut(cut) => {
            let piece = cut
                .spot
                .map_or(String::new(), |at| format!(", for {}", spot(&at)));
            let place = |at: U| unit.shop(at.from_origin());
            match (cut.from, cut.to) {
                (Some(from), Some(to)) => format!(
                    "cut: {} from {} to {}{piece}",
                    cut.strip,
                    place(from),
                    place(to)
                ),
                (Some(at), None) | (None, Some(at)) => {
                    format!("cut: {} at {}{piece}", cut.strip, place(at))
                }
                (None, None) => format!("cut: {}{piece}", cut.strip),
            }
        }
        Event::ToldCut(ToldCut::Strip(strip)) => format!("cut: {strip}, as planned"),
        Event::ToldCut(ToldCut::Spot(at)) => format!("cut: {}, as planned", spot(at)),
        Event::ToldCut(ToldCut::Place(strip, at)) => {
            format!("cut: {strip} at {}", unit.shop(at.from_origin()))
        }
        Event::TakenUp { spot: at, spoiled } => match spoiled {
            Some(_) => format!("taken up: {}; the piece is spoiled", spot(at)),
            None => format!("taken up: {}; the piece is as good as before", spot(at)),
        },
        Event::Broken { strip, at } => format!("broken: {strip} at {}", stretch(unit, *at)),
        Event::Spoiled { strip, at } => format!("spoiled: {strip} at {}", stretch(unit, *at)),
        Event::Lost { strip } => format!("lost: {strip}, all of it that is not laid"),
        Event::Found { strip, measured } => match measured {
            Some(measured) => format!(
                "found: {strip}, {} long, new in the rack",
                unit.shop(measured.length)
            ),
            None => format!("found: {strip} again"),
        },
        Event::Shade { strip, colour } => format!("shade: {strip} is {}", colour_told(*colour)),
        Event::Undone { entry } => match entries.get(entry.wrapping_sub(1)) {
            Some(was) => format!(
                "undone: entry {entry} ({})",
                told(hull, unit, &was.event, &[])
            ),
            None => format!("undone: entry {entry}"),
        },
    }
}

/// A colour as it was typed: a shade where it is one.
pub fn colour_told(colour: Colour) -> String {
    match (1..=9).find(|shade| Colour::shade(*shade) == colour) {
        Some(shade) => format!("shade {shade}, of 1 (darkest) to 9 (lightest)"),
        None => format!("L {:.1} a {:.1} b {:.1}", colour.l, colour.a, colour.b),
    }
}

/// All of the log, a line an entry; those that don't hold are marked.
pub fn log(reading: &Reading) -> String {
    let Some(log) = &reading.log else {
        return "Nothing is logged yet. What can be told: twinstrake log --help\n".into();
    };
    let holds = live(&log.entries);
    let lines = log.entries.iter().enumerate().map(|(i, entry)| {
        let told = told(
            &reading.job.hull,
            reading.job.unit,
            &entry.event,
            &log.entries,
        );
        let undone = if holds[i] { "" } else { "  (undone)" };
        let note = match entry.note.as_str() {
            "" => String::new(),
            note => format!("  \"{note}\""),
        };
        format!("{:>4}  {:19}  {told}{note}{undone}\n", i + 1, entry.time)
    });
    lines.collect()
}

/// An entry that can't be.
pub fn refused(job: &Job, entries: &[Entry], before: usize, refused: &[Refused]) -> String {
    let lines = refused.iter().map(|refused| {
        let (wrong, mend) = refused.why.words(&job.hull, job.unit);
        let entry = &entries[refused.entry - 1];
        let told = told(&job.hull, job.unit, &entry.event, entries);
        if refused.entry > before {
            format!(
                "{} {told}. It can't be: {wrong}. {mend}\n",
                styled(BAD, "Not logged:")
            )
        } else {
            format!(
                "{} entry {} ({told}) could not be then: {wrong}. {mend}\n",
                styled(BAD, "Not logged:"),
                refused.entry
            )
        }
    });
    lines.collect()
}

/// Words that could not be understood, or ask for what is not there.
pub fn not_so(why: &str) -> String {
    format!("{} {why}\n", styled(BAD, "Not logged."))
}

/// What closes complaints about the job's files.
pub fn nothing_logged() -> String {
    "\nNothing was logged. Mend the files, and log it again.\n".into()
}

/// The disk did not take it.
pub fn not_logged(fault: &Fault) -> String {
    format!(
        "{} {fault}\nThe log is as it was.\n",
        styled(BAD, "Nothing was logged.")
    )
}

/// A torn last line was put elsewhere.
pub fn set_aside(torn: &Path) -> String {
    format!(
        "{} the last line of log.csv broke off, perhaps in a power cut. It is now in {}: look there what it was to \
        say, and log it again.\n",
        look_at_this(),
        torn.told()
    )
}

/// A log written by hand was written anew with all its columns.
pub fn written_anew(aside: &Path) -> String {
    format!(
        "{} log.csv has all its columns now; as it was written by hand it is kept in {}.\n",
        look_at_this(),
        aside.told()
    )
}

/// Standard input could not be read to its end.
pub fn input_ends(error: &std::io::Error) -> String {
    format!("Standard input can't be read any further: {error}.\n")
}
