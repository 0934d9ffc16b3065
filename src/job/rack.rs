//! The rack put together: slices as boards.csv has them, over them the colours that were measured, and over both
//! what strips.csv says.

use super::complaint::Complaint;
use super::files::{Digest, input, is_there};
use super::found::Found;
use super::measured::{self, Pictured};
use super::{boards, sisters, strips};
use crate::mill::{Board, Mill};
use crate::plan::Rules;
use crate::stock::natural;
use crate::stock::{BoardId, Defect, Origin, Stock, Strip, StripId};
use crate::units::{Colour, Length, Unit};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// What a strip of this job should measure.
#[derive(Clone, Copy)]
pub(super) struct StripSize {
    pub(super) width: Length,
    pub(super) thickness: Length,
}

impl StripSize {
    pub(super) fn of(rules: &Rules) -> StripSize {
        StripSize {
            width: rules.width,
            thickness: rules.thickness,
        }
    }
}

/// What the sheets of the rack are read against; what could not be read itself is `None`.
pub(super) struct Against {
    pub(super) unit: Unit,
    pub(super) size: Option<StripSize>,
    /// The longest course, along the skin.
    pub(super) longest: Option<Length>,
    /// What saw and plane take, where boards that are not sawn yet are planned with.
    pub(super) promised: Option<Mill>,
}

/// A strip that is narrower or thinner by more than this can't be laid with the others. Unit: mm. Common practice, no
/// source: what sanding a hull takes off anyway.
pub(super) const CULL_MM: f64 = 0.5;

/// What a sheet says of one thing about a strip.
#[derive(Clone, Copy)]
pub(super) enum Stated<T> {
    /// Nothing.
    Not,
    /// Something that can't be read, which has been complained of.
    Unread,
    Is(T),
}

impl<T: Copy> Stated<T> {
    /// What was read of a cell that is not empty; where that is nothing, a complaint has been left.
    pub(super) fn of(read: Option<T>) -> Stated<T> {
        read.map_or(Stated::Unread, Stated::Is)
    }

    pub(super) fn known(self) -> Option<T> {
        match self {
            Stated::Is(value) => Some(value),
            Stated::Not | Stated::Unread => None,
        }
    }
}

/// A strip as its sheets say, before boards and sisters are looked up.
pub(super) struct StripRow {
    /// The sheet and the line that it was last told in.
    pub(super) file: &'static str,
    pub(super) line: usize,
    pub(super) name: String,
    pub(super) origin: Option<(String, u32)>,
    /// Whether board and seq could be read, also where both are empty.
    pub(super) origin_read: bool,
    /// The name under `sister`; empty where none is named.
    pub(super) sister: String,
    pub(super) length: Stated<Length>,
    pub(super) width: Option<Length>,
    pub(super) thickness: Option<Length>,
    pub(super) colour: Stated<Colour>,
    pub(super) wood: String,
    pub(super) grain: String,
    pub(super) defects: Vec<Defect>,
    pub(super) notes: String,
    /// Whether its board is not sawn yet.
    pub(super) promised: bool,
}

impl StripRow {
    /// A complaint about a column of this row.
    pub(super) fn complaint(
        &self,
        column: &str,
        seen: &str,
        wrong: String,
        mend: impl Into<String>,
    ) -> Complaint {
        Complaint::of(self.file, wrong, mend)
            .at(self.line)
            .under(column)
            .showing(seen)
    }

    /// Where this row stands, told in a complaint about another.
    pub(super) fn seen_from(&self, other: &StripRow) -> String {
        let (file, line) = (self.file, self.line);
        match file == other.file {
            true => format!("line {line}"),
            false => format!("line {line} of {file}"),
        }
    }

    pub(super) fn is_cull(&self, size: &StripSize) -> bool {
        let short = |measured: Option<Length>, wanted| {
            measured.is_some_and(|measured| falls_short(measured, wanted))
        };
        short(self.width, size.width) || short(self.thickness, size.thickness)
    }
}

/// Whether a measured width or thickness is too little to be laid with the others.
pub(super) fn falls_short(measured: Length, wanted: Length) -> bool {
    measured + Length::from_mm(CULL_MM) < wanted
}

/// All strips as far as they have been read.
#[derive(Default)]
pub(super) struct Rack {
    pub(super) rows: Vec<StripRow>,
    /// Every board of boards.csv with its line.
    pub(super) boards: BTreeMap<String, usize>,
    /// What those say of themselves that could be read.
    pub(super) told: Vec<Board>,
    /// The place among the rows of every slice of boards.csv.
    pub(super) slices: BTreeMap<String, usize>,
    /// Slices that boards.csv says are spoiled, and the line that says so.
    pub(super) spoiled: BTreeMap<String, usize>,
    /// Every name in strips.csv with its line, also of rows that could not be read.
    pub(super) named: BTreeMap<String, usize>,
    /// Whether a row of strips.csv could not be read far enough to know its name.
    pub(super) nameless: bool,
    /// Colours of colours.csv by strip, each with a line that speaks of it.
    pub(super) measured: BTreeMap<String, (Colour, usize)>,
    /// The pictures that go with them.
    pub(super) pictured: Vec<Pictured>,
}

/// Reads boards.csv and strips.csv, one of which must be there.
pub(super) fn read(
    dir: &Path,
    against: &Against,
    digests: &mut Vec<Digest>,
    found: &mut Found,
) -> Option<(Stock, Vec<Pictured>)> {
    let before = found.complaints.len();
    let rack = rows(dir, against, digests, found)?;
    complain_of_gaps(&rack, found);
    if rack.rows.is_empty() && found.complaints.len() == before {
        found.complain(Complaint::of(
            boards::FILE,
            "there is no strip in the rack: no board has a slice yet",
            "Write under slices how many came off each board, or write strips.csv.",
        ));
    }
    let pictured = rack.pictured;
    Some((stock(rack.rows, against.size), pictured))
}

/// The same with what is not known yet left open.
pub(super) fn rows(
    dir: &Path,
    against: &Against,
    digests: &mut Vec<Digest>,
    found: &mut Found,
) -> Option<Rack> {
    let beside_boards = is_there(dir, boards::FILE);
    let by_strip = is_there(dir, strips::FILE);
    if !beside_boards && !by_strip {
        found.complain(Complaint::of(
            strips::FILE,
            "there is neither this file nor boards.csv",
            "Write one of them as docs/formats.md says; demo-stock has an example.",
        ));
        return None;
    }
    let mut rack = Rack::default();
    if is_there(dir, measured::FILE) {
        let bytes = input(dir, measured::FILE, digests, found)?;
        measured::read(&bytes, against, &mut rack, found);
    }
    if beside_boards {
        let bytes = input(dir, boards::FILE, digests, found)?;
        boards::read(&bytes, against, &mut rack, found);
        for row in &mut rack.rows {
            if let Some((colour, _)) = rack.measured.get(&row.name) {
                row.colour = Stated::Is(*colour);
            }
        }
    }
    if by_strip {
        let bytes = input(dir, strips::FILE, digests, found)?;
        strips::read(&bytes, beside_boards, against, &mut rack, found);
    }
    complain_of_seqs(&rack, found);
    sisters::complain(&rack, found);
    measured::warn_of_others(&rack, found);
    Some(rack)
}

fn complain_of_seqs(rack: &Rack, found: &mut Found) {
    let mut first: BTreeMap<(&str, u32), &StripRow> = BTreeMap::new();
    for row in &rack.rows {
        let Some((board, seq)) = &row.origin else {
            continue;
        };
        if let Some(earlier) = first.get(&(board.as_str(), *seq)) {
            found.complain(row.complaint(
                "seq",
                &seq.to_string(),
                format!(
                    "is there twice in board \"{board}\": strip {} in {} has it",
                    earlier.name,
                    earlier.seen_from(row)
                ),
                "Number the slices of a board 1, 2, 3 and so on as they came off.",
            ));
        } else {
            first.insert((board, *seq), row);
        }
    }
}

/// Slices that no sheet gives a length or a colour, board by board.
fn complain_of_gaps(rack: &Rack, found: &mut Found) {
    let mut gaps: BTreeMap<(usize, &str), BTreeSet<u32>> = BTreeMap::new();
    for row in rack
        .slices
        .values()
        .filter_map(|place| rack.rows.get(*place))
    {
        let Some((line, seq)) = row
            .origin
            .as_ref()
            .and_then(|(board, seq)| Some((*rack.boards.get(board)?, *seq)))
        else {
            continue;
        };
        if matches!(row.length, Stated::Not) {
            gaps.entry((line, "length")).or_default().insert(seq);
        }
        if matches!(row.colour, Stated::Not) {
            gaps.entry((line, "colour")).or_default().insert(seq);
        }
    }
    for ((line, column), slices) in gaps {
        let (some, example, or) = match column {
            "length" => ("lengths", "3: 4120", ""),
            _ => {
                let or = " Or measure it in photographs (twinstrake card, twinstrake colours).";
                ("colours", "3: 64.7 13.3 28.8", or)
            }
        };
        let which = match slices.len() {
            1 => format!("slice {} has", spans(&slices)),
            _ => format!("slices {} have", spans(&slices)),
        };
        let wrong = format!("is empty, and {which} no other {column}");
        let mend =
            format!("Write the {column} here for all, or under {some} for each, as {example}.{or}");
        let complaint = Complaint::of(boards::FILE, wrong, mend)
            .at(line)
            .under(column);
        found.complain(complaint.showing(""));
    }
}

/// `2, 4-6`.
fn spans(slices: &BTreeSet<u32>) -> String {
    let mut spans: Vec<(u32, u32)> = Vec::new();
    for slice in slices {
        match spans.last_mut() {
            Some((_, last)) if *last + 1 == *slice => *last = *slice,
            _ => spans.push((*slice, *slice)),
        }
    }
    let texts: Vec<String> = spans
        .into_iter()
        .map(|(first, last)| match first == last {
            true => first.to_string(),
            false => format!("{first}-{last}"),
        })
        .collect();
    texts.join(", ")
}

/// Sorts strips and boards by name, so that the order of rows plays no part. Called also when there are complaints:
/// what could not be read is left out then, and the result is thrown away.
fn stock(mut rows: Vec<StripRow>, size: Option<StripSize>) -> Stock {
    rows.sort_by(|one, other| natural(&one.name, &other.name));
    let mut boards: Vec<String> = rows
        .iter()
        .filter_map(|row| row.origin.as_ref().map(|(board, _)| board.clone()))
        .collect();
    boards.sort_by(|one, other| natural(one, other));
    boards.dedup();
    let board_ids: BTreeMap<&str, BoardId> = boards
        .iter()
        .enumerate()
        .map(|(i, name)| (name.as_str(), BoardId(i)))
        .collect();
    let strip_ids: BTreeMap<String, StripId> = rows
        .iter()
        .enumerate()
        .map(|(i, row)| (row.name.clone(), StripId(i)))
        .collect();
    let strips = rows
        .into_iter()
        .filter_map(|row| {
            Some(Strip {
                cull: size.is_some_and(|size| row.is_cull(&size)),
                origin: row.origin.and_then(|(board, seq)| {
                    let board = *board_ids.get(board.as_str())?;
                    Some(Origin { board, seq })
                }),
                length: row.length.known()?,
                width: row.width,
                thickness: row.thickness,
                colour: row.colour.known()?,
                wood: row.wood,
                grain: row.grain,
                sister: strip_ids.get(&row.sister).copied(),
                defects: row.defects,
                kerfs: Vec::new(),
                notes: row.notes,
                promised: row.promised,
                name: row.name,
            })
        })
        .collect();
    Stock { boards, strips }
}
