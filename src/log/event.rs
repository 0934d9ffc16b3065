//! What can happen in the shop, as the log tells it.

use super::cut::{Cut, ToldCut};
use crate::hull::{CourseId, Side};
use crate::plan::{BowEnd, Edge, Face, Piece};
use crate::stock::{Defect, Stock, StripId};
use crate::units::{Colour, Length, S, U};

/// A place on the boat that takes one piece, or a whole course on one side.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Spot {
    /// The course.
    pub course: CourseId,
    /// The side.
    pub side: Side,
    /// The piece: 1 at the bow, or [`Spot::ALL`].
    pub number: u32,
}

impl Spot {
    /// Stands for every piece of the course on that side, in a row written by hand.
    pub const ALL: u32 = 0;

    /// Where a piece of a plan lies.
    pub fn of(piece: &Piece) -> Spot {
        Spot {
            course: piece.course,
            side: piece.side,
            number: piece.number,
        }
    }

    /// Whether another spot lies on this one.
    pub fn covers(&self, other: &Spot) -> bool {
        (self.course, self.side) == (other.course, other.side)
            && (self.number == other.number || self.number == Spot::ALL)
    }
}

/// How a piece lies: all that has to stay as it is once the glue has set. Written with the event, so that the log alone
/// can tell it, whatever is planned later.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Facts {
    /// The name of the strip it was cut from.
    pub strip: String,
    /// Its forward end on the skin.
    pub from: S,
    /// Its after end on the skin.
    pub to: S,
    /// Where it was cut, nearer the marked end.
    pub cut_from: U,
    /// Where it was cut, nearer the plain end.
    pub cut_to: U,
    /// Which end points to the bow.
    pub bow_end: BowEnd,
    /// Which edge the next course is glued to.
    pub next_edge: Edge,
    /// Which face is seen.
    pub face_out: Face,
}

impl Facts {
    /// How a piece of a plan lies.
    pub fn of(piece: &Piece, stock: &Stock) -> Facts {
        Facts {
            strip: stock.strip(piece.strip).name.clone(),
            from: piece.from,
            to: piece.to,
            cut_from: piece.cut_from,
            cut_to: piece.cut_to,
            bow_end: piece.bow_end,
            next_edge: piece.next_edge,
            face_out: piece.face_out,
        }
    }

    /// The piece that lies so, at a place on the boat, cut from a strip, with that mate.
    pub fn piece(&self, at: Spot, strip: StripId, mate: Option<StripId>) -> Piece {
        Piece {
            course: at.course,
            side: at.side,
            number: at.number,
            strip,
            mate,
            from: self.from,
            to: self.to,
            cut_from: self.cut_from,
            cut_to: self.cut_to,
            bow_end: self.bow_end,
            next_edge: self.next_edge,
            face_out: self.face_out,
        }
    }
}

/// A strip that turned up and was not in the inventory.
#[derive(Clone, PartialEq, Debug)]
pub struct Measured {
    /// From marked end to plain end.
    pub length: Length,
    /// Its colour.
    pub colour: Colour,
    /// Board and seq, where they are known.
    pub origin: Option<(String, u32)>,
}

/// Something that happened.
#[derive(Clone, PartialEq, Debug)]
pub enum Event {
    /// A piece was glued on.
    Laid {
        /// Where.
        spot: Spot,
        /// How it lies; `None` in a row written by hand, which means: as planned.
        facts: Option<Facts>,
    },
    /// A piece was cut from its strip.
    Cut(Cut),
    /// The same told by the plan, in a row written by hand: the next that is written says what it means.
    ToldCut(ToldCut),
    /// A piece came off again.
    TakenUp {
        /// Where it was.
        spot: Spot,
        /// The stretch of its strip that can't be used again; `None` where the piece is as good as new.
        spoiled: Option<Defect>,
    },
    /// A strip broke at a place, or is splintered over a stretch.
    Broken {
        /// Its name.
        strip: String,
        /// Where.
        at: Defect,
    },
    /// A stretch of a strip can't be used.
    Spoiled {
        /// Its name.
        strip: String,
        /// Where.
        at: Defect,
    },
    /// All of a strip that is not laid is gone.
    Lost {
        /// Its name.
        strip: String,
    },
    /// A strip turned up: one that was lost, or a new one with its measures.
    Found {
        /// Its name.
        strip: String,
        /// Its measures; `None` where it is back as it was.
        measured: Option<Measured>,
    },
    /// The colour of a strip was taken wrong.
    Shade {
        /// Its name.
        strip: String,
        /// What it is.
        colour: Colour,
    },
    /// An earlier entry does not hold.
    Undone {
        /// The number of the entry.
        entry: usize,
    },
}

impl Event {
    /// The word that the log has for it.
    pub const fn word(&self) -> &'static str {
        match self {
            Event::Laid { .. } => "laid",
            Event::Cut(_) | Event::ToldCut(_) => "cut",
            Event::TakenUp { .. } => "taken up",
            Event::Broken { .. } => "broken",
            Event::Spoiled { .. } => "spoiled",
            Event::Lost { .. } => "lost",
            Event::Found { .. } => "found",
            Event::Shade { .. } => "shade",
            Event::Undone { .. } => "undone",
        }
    }
}

/// An event as it stands in the log.
#[derive(Clone, PartialEq, Debug)]
pub struct Entry {
    /// When, as it is written: nothing is read out of it, the order of the entries alone counts.
    pub time: String,
    /// What.
    pub event: Event,
    /// The number of the plan that was in force; `None` where whoever wrote the row did not say.
    pub plan: Option<u32>,
    /// The builder's words.
    pub note: String,
    /// What whoever wrote it knows it by again: of the rows that were written together, the last has it. Empty where
    /// there is none.
    pub key: String,
}

/// Which entries hold: those that no later entry undoes, itself not undone.
pub fn live(entries: &[Entry]) -> Vec<bool> {
    let mut live = vec![true; entries.len()];
    for (i, entry) in entries.iter().enumerate().rev() {
        if let Event::Undone { entry: undone } = entry.event
            && live[i]
            && (1..=i).contains(&undone)
        {
            live[undone - 1] = false;
        }
    }
    live
}

/// Those that hold, by their places, undoings aside.
#[doc(hidden)]
pub fn holding(entries: &[Entry]) -> Vec<usize> {
    let holds = live(entries);
    let is_undoing = |i: usize| matches!(entries[i].event, Event::Undone { .. });
    let all = 0..entries.len();
    all.filter(|i| holds[*i] && !is_undoing(*i)).collect()
}
