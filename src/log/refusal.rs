//! Why an event can't be: it contradicts the record, the boat or the wood.

use super::event::Spot;
use crate::hull::{Hull, Side};
use crate::stock::Defect;
use crate::units::{Length, U, Unit};

/// An entry that can't be, and why.
#[derive(Clone, PartialEq, Debug)]
pub struct Refused {
    /// The number of the entry.
    pub entry: usize,
    /// Why.
    pub why: Refusal,
}

/// Why an event can't be.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub enum Refusal {
    /// There is no strip of this name.
    NoSuchStrip(String),
    /// The course has no such side.
    NoSuchSide(Side),
    /// Something is laid there already, by this entry.
    LaidAlready(usize),
    /// Nothing is laid there.
    NotLaid,
    /// The strip to be laid is broken or spoiled there.
    LayingSpoiled {
        /// The strip.
        strip: String,
        /// Where.
        at: Defect,
    },
    /// The piece would lie across a place where its strip is cut.
    AcrossCut {
        /// The strip.
        strip: String,
        /// Where it is cut.
        at: U,
    },
    /// This strip is cut there already.
    CutAlready(String),
    /// What is cut or laid would take wood of a piece that is on the boat.
    CutWhereLaid {
        /// The strip.
        strip: String,
        /// Where it is laid.
        spot: Spot,
    },
    /// The place is not on the strip.
    Outside {
        /// The strip.
        strip: String,
        /// How long it is.
        length: Length,
    },
    /// That stretch is on the boat.
    SpoiltWhereLaid {
        /// The strip.
        strip: String,
        /// Where it is laid.
        spot: Spot,
    },
    /// That stretch is known to be broken or spoiled.
    SpoiltAlready {
        /// The strip.
        strip: String,
        /// Where.
        at: Defect,
    },
    /// This strip was lost, so nothing can happen to it.
    GoneAlready(String),
    /// This strip was lost already.
    LostAlready(String),
    /// This strip turned up, and was not lost.
    NotLost(String),
    /// A new strip has the name of another, this one.
    NameTaken(String),
    /// This is a new strip without its measures.
    Unmeasured(String),
    /// A new strip is said to be a slice that is there already.
    SliceTaken {
        /// The board.
        board: String,
        /// The place in it.
        seq: u32,
        /// The strip that has it.
        strip: String,
    },
    /// There is no entry of that number before this one.
    NoSuchEntry(usize),
    /// This entry was undone before.
    UndoneAlready(usize),
}

impl Refusal {
    /// What is wrong, and the mend: the two halves of a complaint.
    pub fn words(&self, hull: &Hull, unit: Unit) -> (String, String) {
        let place = |spot: &Spot| place(hull, spot);
        let own = |wrong: String, mend: &str| (wrong, mend.to_owned());
        match self {
            Refusal::NoSuchStrip(strip) => own(
                format!("{strip} is not a strip in the rack, nor one that was found"),
                "Look at the name on the strip.",
            ),
            Refusal::NoSuchSide(side) => own(
                format!("the course has no {} side", side.name()),
                "A mirrored course has port and starboard, a centre course is laid once.",
            ),
            Refusal::LaidAlready(entry) => own(
                format!("it is laid already, by entry {entry}"),
                "If it came off again, log that first: taken up.",
            ),
            Refusal::NotLaid => own(
                "nothing is laid there".into(),
                "Look at the course and the side.",
            ),
            Refusal::LayingSpoiled { strip, at } => own(
                format!("{strip} is broken or spoiled at {}", stretch(unit, *at)),
                "Plan again and lay what the new plan says, or undo the entry that is wrong.",
            ),
            Refusal::AcrossCut { strip, at } => own(
                format!("{strip} is cut at {}", unit.shop(at.from_origin())),
                "Plan again and go by the new plan, or undo the cut if it was never made.",
            ),
            Refusal::CutAlready(strip) => {
                own(format!("{strip} is cut there already"), "Nothing to do.")
            }
            Refusal::CutWhereLaid { strip, spot } => own(
                format!("that stretch of {strip} is laid as {}", place(spot)),
                "Look at the strip and its cuts.",
            ),
            Refusal::Outside { strip, length } => own(
                format!(
                    "that is not on {strip}, which is {} long",
                    unit.shop(*length)
                ),
                "Measure from the marked end, the nearer place first.",
            ),
            Refusal::SpoiltWhereLaid { strip, spot } => own(
                format!("that stretch of {strip} is laid as {}", place(spot)),
                "If the piece has to come off, log that first: taken up.",
            ),
            Refusal::SpoiltAlready { strip, at } => own(
                format!("{strip} is known to be bad at {}", stretch(unit, *at)),
                "Nothing to do.",
            ),
            Refusal::GoneAlready(strip) => own(
                format!("{strip} was lost before"),
                "If it turned up, log that first: found.",
            ),
            Refusal::LostAlready(strip) => {
                own(format!("{strip} was lost before"), "Nothing to do.")
            }
            Refusal::NotLost(strip) => own(
                format!("{strip} is in the rack, it was not lost"),
                "Nothing to do.",
            ),
            Refusal::NameTaken(strip) => own(
                format!("there is a strip {strip} already"),
                "Give the new strip a name of its own; for one that was lost, leave the measures out.",
            ),
            Refusal::Unmeasured(strip) => own(
                format!("{strip} is new, and its length and colour are not given"),
                "Give its length and its colour, as in: found S9 3200 7.",
            ),
            Refusal::SliceTaken { board, seq, strip } => own(
                format!("slice {seq} of board {board} is {strip}"),
                "Look at board and seq, or leave both out.",
            ),
            Refusal::NoSuchEntry(entry) => own(
                format!("there is no entry {entry} before this one"),
                "Give the number of an earlier entry.",
            ),
            Refusal::UndoneAlready(entry) => {
                own(format!("entry {entry} was undone before"), "Nothing to do.")
            }
        }
    }
}

/// `topside 12 port, piece 1`.
pub fn place(hull: &Hull, spot: &Spot) -> String {
    let (course, side) = (hull.full_name(spot.course), spot.side.name());
    format!("{course} {side}, piece {}", spot.number)
}

/// `2210 mm`, or `1200 mm to 1260 mm`.
pub fn stretch(unit: Unit, at: Defect) -> String {
    let (from, to) = (at.from.from_origin(), at.to.from_origin());
    if from == to {
        unit.shop(from)
    } else {
        format!("{} to {}", unit.shop(from), unit.shop(to))
    }
}
