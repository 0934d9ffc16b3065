//! Entries as rows of log.csv.

use super::cut::ToldCut;
use super::event::{Entry, Event, Facts, Spot};
use crate::hull::Hull;
use crate::stock::Defect;
use crate::units::{U, Unit};

/// The file, as named inside the job folder.
pub const FILE: &str = "log.csv";

/// Its columns. The last is written last, so that a row without it is known to be torn.
pub const COLUMNS: [&str; 24] = [
    "no",
    "time",
    "event",
    "panel",
    "course",
    "side",
    "piece",
    "strip",
    "at",
    "note",
    "from",
    "to",
    "cut_from",
    "cut_to",
    "bow_end",
    "next_edge",
    "face_out",
    "colour",
    "length",
    "board",
    "seq",
    "plan",
    "key",
    "end",
];

/// What stands in the last column.
pub const END: &str = ".";

/// What a row is written with.
#[derive(Clone, Copy, Debug)]
pub struct Script<'a> {
    /// Names the courses.
    pub hull: &'a Hull,
    /// The unit of bare numbers.
    pub unit: Unit,
}

impl Script<'_> {
    /// The header of a new log.
    pub fn header(&self) -> Vec<u8> {
        line(&COLUMNS.map(str::to_owned))
    }

    /// The row of an entry.
    pub fn row(&self, number: usize, entry: &Entry) -> Vec<u8> {
        let mut cells = Cells::default();
        cells.put("no", number.to_string());
        cells.put("time", entry.time.clone());
        cells.put("event", entry.event.word());
        cells.put("note", entry.note.clone());
        cells.put("plan", entry.plan.map_or(String::new(), |n| n.to_string()));
        cells.put("key", entry.key.clone());
        cells.put("end", END);
        match &entry.event {
            Event::Laid { spot, facts } => {
                self.spot(&mut cells, spot);
                if let Some(facts) = facts {
                    self.facts(&mut cells, facts);
                }
            }
            Event::Cut(cut) => {
                if let Some(spot) = &cut.spot {
                    self.spot(&mut cells, spot);
                }
                cells.put("strip", cut.strip.clone());
                let place = |at: Option<U>| at.map(|at| self.unit.exact(at.from_origin()));
                cells.put("cut_from", place(cut.from).unwrap_or_default());
                cells.put("cut_to", place(cut.to).unwrap_or_default());
            }
            Event::ToldCut(ToldCut::Strip(strip)) => cells.put("strip", strip.clone()),
            Event::ToldCut(ToldCut::Spot(spot)) => self.spot(&mut cells, spot),
            Event::ToldCut(ToldCut::Place(strip, at)) => {
                cells.put("strip", strip.clone());
                cells.put("at", self.unit.exact(at.from_origin()));
            }
            Event::TakenUp { spot, spoiled } => {
                self.spot(&mut cells, spot);
                if let Some(at) = spoiled {
                    cells.put("at", self.stretch(*at));
                }
            }
            Event::Broken { strip, at } | Event::Spoiled { strip, at } => {
                cells.put("strip", strip.clone());
                cells.put("at", self.stretch(*at));
            }
            Event::Lost { strip } => cells.put("strip", strip.clone()),
            Event::Found { strip, measured } => {
                cells.put("strip", strip.clone());
                if let Some(measured) = measured {
                    cells.put("length", self.unit.exact(measured.length));
                    cells.put("colour", measured.colour.to_string());
                    if let Some((board, seq)) = &measured.origin {
                        cells.put("board", board.clone());
                        cells.put("seq", seq.to_string());
                    }
                }
            }
            Event::Shade { strip, colour } => {
                cells.put("strip", strip.clone());
                cells.put("colour", colour.to_string());
            }
            Event::Undone { entry } => cells.put("at", format!("entry {entry}")),
        }
        line(&cells.0)
    }

    fn spot(&self, cells: &mut Cells, spot: &Spot) {
        cells.put("panel", self.hull.panel_of(spot.course).name.clone());
        cells.put("course", self.hull.course(spot.course).name().to_string());
        cells.put("side", spot.side.name());
        if spot.number != Spot::ALL {
            cells.put("piece", spot.number.to_string());
        }
    }

    fn facts(&self, cells: &mut Cells, facts: &Facts) {
        cells.put("strip", facts.strip.clone());
        cells.put("from", self.unit.exact(facts.from.from_origin()));
        cells.put("to", self.unit.exact(facts.to.from_origin()));
        cells.put("cut_from", self.unit.exact(facts.cut_from.from_origin()));
        cells.put("cut_to", self.unit.exact(facts.cut_to.from_origin()));
        cells.put("bow_end", facts.bow_end.name());
        cells.put("next_edge", facts.next_edge.name());
        cells.put("face_out", facts.face_out.name());
    }

    /// As defects are written in strips.csv.
    fn stretch(&self, at: Defect) -> String {
        let (from, to) = (at.from.from_origin(), at.to.from_origin());
        if from == to {
            self.unit.exact(from)
        } else {
            format!("{}-{}", self.unit.exact(from), self.unit.exact(to))
        }
    }
}

/// The cells of a row, by column.
struct Cells([String; COLUMNS.len()]);

impl Default for Cells {
    fn default() -> Cells {
        Cells(std::array::from_fn(|_| String::new()))
    }
}

impl Cells {
    fn put(&mut self, column: &str, text: impl Into<String>) {
        if let Some(at) = COLUMNS.iter().position(|name| *name == column) {
            self.0[at] = text.into();
        }
    }
}

/// A line of the sheet. A field that holds a comma or begins with a quote is put in quotes; a line end inside one
/// becomes a blank, so that an entry is always one line.
fn line(cells: &[String]) -> Vec<u8> {
    let quoted: Vec<String> = cells.iter().map(|cell| field(cell)).collect();
    let mut bytes = quoted.join(",").into_bytes();
    bytes.push(b'\n');
    bytes
}

fn field(text: &str) -> String {
    let plain: String = text
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let plain = plain.trim();
    if plain.contains([',', '"', ';']) {
        format!("\"{}\"", plain.replace('"', "\"\""))
    } else {
        plain.to_owned()
    }
}
