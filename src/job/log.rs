//! log.csv: what has happened in the shop, read as entries and replayed.

use super::cell::Cell;
use super::complaint::Complaint;
use super::facts::{self, SIDES};
use super::found::Found;
use super::laying::read_plan;
use super::names::Names;
use super::table::{Form, Row, Rows, each_row};
use super::{Job, colours, defects};
use crate::hull::{Hull, Kind};
use crate::log::{
    self, Cut, Entry, Event, Facts, Measured, Refusal, Refused, Spot, Standing, ToldCut, replay,
    whole_and_torn,
};
use crate::plan::Piece;
use crate::stock::{Defect, Stock};
use crate::units::{U, Unit};
use std::path::Path;

pub(super) const FILE: &str = log::FILE;

const FORM: Form = Form {
    file: FILE,
    columns: &log::COLUMNS,
    required: &["event"],
    rows: Rows::MayBeNone,
};

/// The words for what happened.
#[derive(Clone, Copy)]
enum Word {
    Laid,
    Cut,
    TakenUp,
    Broken,
    Spoiled,
    Lost,
    Found,
    Shade,
    Undone,
}

const WORDS: [(&str, Word); 10] = [
    ("laid", Word::Laid),
    ("cut", Word::Cut),
    ("taken up", Word::TakenUp),
    ("broken", Word::Broken),
    ("spoiled", Word::Spoiled),
    ("lost", Word::Lost),
    ("found", Word::Found),
    ("added", Word::Found),
    ("shade", Word::Shade),
    ("undone", Word::Undone),
];

/// A log as it was read.
#[derive(Clone, PartialEq, Debug)]
pub struct Log {
    /// Every entry.
    pub entries: Vec<Entry>,
    /// What they amount to.
    pub standing: Standing,
    /// The number of the line each entry stands on.
    pub lines: Vec<usize>,
    /// What it tells by the plan, pieces laid and pieces cut, as it was planned: not written in it yet.
    pub settled: Vec<Event>,
}

/// Reads a log and replays it. A torn last line earns a warning and is not read.
///
/// Errors are left in `found`: what can't be read, and what contradicts the boat, the wood or an earlier entry.
pub(super) fn read(
    bytes: &[u8],
    hull: &Hull,
    stock: &Stock,
    unit: Unit,
    found: &mut Found,
) -> Option<Log> {
    let (whole, torn) = whole_and_torn(bytes);
    if !torn.is_empty() {
        let line = 1 + whole.iter().filter(|b| **b == b'\n').count();
        found.warn(
            Complaint::of(
                FILE,
                "the last line breaks off, and was not read",
                "The next log or lay puts it into a file of its own; look there what it was to say, and log it again.",
            )
            .at(line)
            .showing(String::from_utf8_lossy(torn)),
        );
    }
    let (entries, lines) = entries(whole, hull, unit, found)?;
    match replay(hull, stock, &entries) {
        Ok(standing) => Some(Log {
            entries,
            standing,
            lines,
            settled: Vec::new(),
        }),
        Err(refused) => {
            let complaints = refused
                .into_iter()
                .map(|refused| contradiction(&refused, &entries, &lines, hull, unit));
            found.complaints.extend(complaints);
            None
        }
    }
}

/// Looks up in the plan what a row written by hand says was laid or cut as planned.
pub(super) fn settle(log: &mut Log, dir: &Path, job: &Job, found: &mut Found) {
    let unsettled = log.standing.unsettled();
    let told = log.standing.told_cuts().to_vec();
    if unsettled.is_empty() && told.is_empty() {
        return;
    }
    let (stock, laid) = log.standing.wood_and_laid(job.rules.allow.saw);
    let now = Job {
        stock,
        laid,
        ..job.clone()
    };
    let needs_plan = |(_, told): &(usize, ToldCut)| !matches!(told, ToldCut::Place(..));
    let plan = match read_plan(dir, &now) {
        Ok(plan) => Some(plan),
        Err(_) if unsettled.is_empty() && !told.iter().any(needs_plan) => None,
        Err(complaints) => {
            found.complaints.extend(complaints);
            return;
        }
    };
    let pieces = plan.as_ref().map_or(&[][..], |plan| &plan.pieces);
    let complaint = |entry: usize, seen: &str, wrong: &str, mend: &str| {
        let line = log.lines.get(entry.wrapping_sub(1)).copied();
        let complaint = Complaint::of(FILE, format!("can't be: {wrong}"), mend);
        complaint.at(line.unwrap_or_default()).showing(seen)
    };
    let nothing_there = "the plan has nothing there";
    let refused = |entry: usize, seen: &str, why: Refusal| {
        let (wrong, mend) = why.words(&job.hull, job.unit);
        complaint(entry, seen, &wrong, &mend)
    };
    for (entry, told) in told {
        // Of all the cuts on one strip those that are told of together are made together.
        let cuts = told.by(plan.as_ref(), &now.stock, &now.laid);
        if cuts.is_empty() {
            let mend = "Look at the name and the place; it may be laid or cut already, or be the whole strip.";
            found.complain(complaint(entry, "cut", nothing_there, mend));
        }
        for cut in cuts {
            match log.standing.cut(&cut) {
                Ok(()) => log.settled.push(Event::Cut(cut)),
                Err(why) => found.complain(refused(entry, "cut", why)),
            }
        }
    }
    for (spot, entry) in unsettled {
        let here: Vec<&Piece> = pieces
            .iter()
            .filter(|piece| spot.covers(&Spot::of(piece)))
            .collect();
        if here.is_empty() {
            let mend = "Look at course, side and piece, or write all columns of the piece.";
            found.complain(complaint(entry, "laid", nothing_there, mend));
        }
        for piece in here {
            let facts = Facts::of(piece, &now.stock);
            let spot = Spot::of(piece);
            match log.standing.settle(&job.hull, entry, spot, &facts) {
                Ok(()) => log.settled.push(Event::Laid {
                    spot,
                    facts: Some(facts),
                }),
                Err(why) => found.complain(refused(entry, "laid", why)),
            }
        }
    }
}

fn contradiction(
    refused: &Refused,
    entries: &[Entry],
    lines: &[usize],
    hull: &Hull,
    unit: Unit,
) -> Complaint {
    let (wrong, mend) = refused.why.words(hull, unit);
    let at = refused.entry - 1;
    let seen = entries.get(at).map_or("", |entry| entry.event.word());
    Complaint::of(FILE, format!("can't be: {wrong}"), mend)
        .at(lines.get(at).copied().unwrap_or_default())
        .showing(seen)
}

/// The entries of a log and their lines; `None` where a row could not be read.
fn entries(
    bytes: &[u8],
    hull: &Hull,
    unit: Unit,
    found: &mut Found,
) -> Option<(Vec<Entry>, Vec<usize>)> {
    let (mut entries, mut lines) = (Vec::new(), Vec::new());
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Some((entries, lines));
    }
    let before = found.complaints.len();
    let names = Names::of_hull(hull);
    each_row(&FORM, bytes, unit, found, |row, found| {
        number(row, entries.len() + 1, found);
        let event = event(row, hull, &names, found);
        let plan = match row.cell("plan") {
            cell if cell.is_empty() => None,
            cell => cell.counted(found),
        };
        // A row that can't be read keeps its number all the same, so that the numbers of the others are right.
        entries.push(Entry {
            time: row.cell("time").text.to_owned(),
            event: event.unwrap_or(Event::Undone { entry: 0 }),
            plan,
            note: row.cell("note").text.to_owned(),
            key: row.cell("key").text.to_owned(),
        });
        lines.push(row.line);
    });
    (found.complaints.len() == before).then_some((entries, lines))
}

/// Entries are numbered as they stand; a number that is written must be the right one.
fn number(row: &Row<'_>, expected: usize, found: &mut Found) {
    let cell = row.cell("no");
    if cell.is_empty() {
        return;
    }
    if let Some(number) = cell.counted(found)
        && number as usize != expected
    {
        cell.complain(
            found,
            format!("is out of order: this is entry {expected}"),
            "Put the rows back in their order, and take none out; to take an entry back, log that it is undone.",
        );
    }
}

fn event(row: &Row<'_>, hull: &Hull, names: &Names<'_>, found: &mut Found) -> Option<Event> {
    Some(match row.cell("event").word(&WORDS, found)? {
        Word::Laid => Event::Laid {
            spot: spot(row, hull, names, found)?,
            facts: facts(row, found)?,
        },
        Word::Cut => cut(row, hull, names, found)?,
        Word::TakenUp => Event::TakenUp {
            spot: spot(row, hull, names, found)?,
            spoiled: match row.cell("at") {
                cell if cell.is_empty() => None,
                cell => Some(stretch(&cell, found)?),
            },
        },
        Word::Broken => Event::Broken {
            strip: strip(row, found)?,
            at: stretch(&row.cell("at"), found)?,
        },
        Word::Spoiled => Event::Spoiled {
            strip: strip(row, found)?,
            at: stretch(&row.cell("at"), found)?,
        },
        Word::Lost => Event::Lost {
            strip: strip(row, found)?,
        },
        Word::Found => Event::Found {
            strip: strip(row, found)?,
            measured: measured(row, found)?,
        },
        Word::Shade => Event::Shade {
            strip: strip(row, found)?,
            colour: colours::read(&row.cell("colour"), found)?,
        },
        Word::Undone => Event::Undone {
            entry: undone(&row.cell("at"), found)?,
        },
    })
}

fn strip(row: &Row<'_>, found: &mut Found) -> Option<String> {
    let cell = row.cell("strip");
    if cell.is_empty() {
        return cell.refuse(found, "is empty", "Write the name of the strip.");
    }
    Some(cell.name(found).to_owned())
}

/// Where a piece lies. The panel may be left out where only one has such a course, the side on a centre course, and the
/// piece for the whole course.
fn spot(row: &Row<'_>, hull: &Hull, names: &Names<'_>, found: &mut Found) -> Option<Spot> {
    let course = names.course_of_any_panel(row, found)?;
    let side = match row.cell("side") {
        cell if cell.is_empty() && hull.course(course).kind == Kind::Centre => {
            hull.course(course).sides().first().copied()
        }
        cell => cell.word(&SIDES, found),
    };
    let number = match row.cell("piece") {
        cell if cell.is_empty() => Some(Spot::ALL),
        cell => cell.counted(found),
    };
    Some(Spot {
        course,
        side: side?,
        number: number?,
    })
}

/// A cut: exact where `cut_from` or `cut_to` says where; else by the plan, of a strip, at a place of it, or of a
/// course.
fn cut(row: &Row<'_>, hull: &Hull, names: &Names<'_>, found: &mut Found) -> Option<Event> {
    let (from, to) = (row.cell("cut_from"), row.cell("cut_to"));
    let spot = match row.cell("course") {
        cell if cell.is_empty() => None,
        _ => Some(spot(row, hull, names, found)?),
    };
    if from.is_empty() && to.is_empty() {
        let at = row.cell("at");
        return match (spot, at.is_empty()) {
            (Some(spot), true) => Some(ToldCut::Spot(spot)),
            (None, true) => Some(ToldCut::Strip(strip(row, found)?)),
            (_, false) => Some(ToldCut::Place(strip(row, found)?, U::at(at.length(found)?))),
        }
        .map(Event::ToldCut);
    }
    let mut place = |cell: Cell<'_>| match cell.is_empty() {
        true => Some(None),
        false => cell.length(found).map(|at| Some(U::at(at))),
    };
    let (from, to) = (place(from), place(to));
    Some(Event::Cut(Cut {
        strip: strip(row, found)?,
        from: from?,
        to: to?,
        spot,
    }))
}

/// How a piece lies: all of it, or nothing, which means as planned.
fn facts(row: &Row<'_>, found: &mut Found) -> Option<Option<Facts>> {
    let is_empty = |column: &&str| row.cell(column).is_empty();
    if facts::COLUMNS.iter().all(is_empty) {
        return Some(None);
    }
    let strip = strip(row, found);
    let number = row.cell("piece");
    if number.is_empty() {
        number.complain(found, "is empty", "Write the piece: 1 at the bow.");
    }
    let facts = facts::facts(row, found)?;
    strip.map(|_| Some(facts))
}

/// One stretch or one place, written as a defect of strips.csv.
fn stretch(cell: &Cell<'_>, found: &mut Found) -> Option<Defect> {
    let before = found.complaints.len();
    let all = defects::read(cell, None, found);
    if found.complaints.len() > before || cell.silent {
        return None;
    }
    if let [one] = all.as_slice() {
        return Some(*one);
    }
    cell.refuse(
        found,
        if cell.is_empty() {
            "is empty"
        } else {
            "is more than one place"
        },
        "Write a stretch as 1200-1260 or a place as 2210, from the marked end.",
    )
}

/// The measures of a new strip: length and colour together, or neither, which means that a lost strip is back.
fn measured(row: &Row<'_>, found: &mut Found) -> Option<Option<Measured>> {
    let (length, colour) = (row.cell("length"), row.cell("colour"));
    if length.is_empty() && colour.is_empty() {
        return Some(None);
    }
    let length = length.positive_length(found);
    let colour = colours::read(&colour, found);
    let (board, seq) = (row.cell("board"), row.cell("seq"));
    let origin = match (board.is_empty(), seq.is_empty()) {
        (true, true) => Some(None),
        (false, false) => seq
            .counted(found)
            .map(|seq| Some((board.name(found).to_owned(), seq))),
        (true, false) => board.refuse(found, "is empty", "Write the board, or empty seq as well."),
        (false, true) => seq.refuse(
            found,
            "is empty",
            "Write its place in the board, or empty the board as well.",
        ),
    };
    Some(Some(Measured {
        length: length?,
        colour: colour?,
        origin: origin?,
    }))
}

fn undone(cell: &Cell<'_>, found: &mut Found) -> Option<usize> {
    let bare = Cell {
        text: cell.text.strip_prefix("entry").unwrap_or(cell.text).trim(),
        ..*cell
    };
    bare.counted(found).map(|number| number as usize)
}
