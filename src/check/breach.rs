//! What breaks a rule, where, and by how much. The words are in `words`.

use crate::hull::{CourseName, Side};
use crate::plan::{BowEnd, Edge, Face};
use crate::units::{Length, U, Unit, X};

/// One thing in a plan that breaks a hard rule. Its `Display` says it in the builder's words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Breach {
    /// Where in the plan.
    pub at: Where,
    /// The strip of the piece that is wrong; empty where no piece alone is.
    pub strip: String,
    /// What is wrong.
    pub wrong: Wrong,
    /// The unit that the job is written in: lengths are told in it.
    pub unit: Unit,
}

/// A place in a plan.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Where {
    /// The panel's name.
    pub panel: String,
    /// The course's name in it.
    pub course: CourseName,
    /// The side; `None` where the course as a whole is meant.
    pub side: Option<Side>,
    /// What of the course.
    pub part: CoursePart,
}

/// A part of a course.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum CoursePart {
    /// All of it.
    Course,
    /// The piece with this number, 1 at the bow.
    Piece(u32),
    /// The joint with this number, 1 nearest the bow.
    Joint(u32),
}

/// One end of a piece or a course, on the boat.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Tip {
    /// The forward one.
    Bow,
    /// The after one.
    Stern,
}

/// What a plan can get wrong. Every `by` is positive and more than the tolerance.
#[derive(Clone, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub enum Wrong {
    /// Rule 1: neither covered nor listed as left out.
    NotCovered,
    /// Rule 1: listed as left out, yet it has this many rows.
    LeftOutButLaid(usize),
    /// Rule 1: listed as left out more than once.
    LeftOutTwice,
    /// Rule 1: a row on a side that the course has not got.
    NoSuchSide,
    /// Rule 1: a piece with the number 0.
    NumberZero,
    /// Rule 1: two rows with one number.
    NumberTwice,
    /// Rule 1: numbers left out, first to last.
    NumbersMissing(u32, u32),
    /// Rule 1: an end of the course is not reached, with its allowance.
    EndNotReached {
        /// Which end.
        tip: Tip,
        /// By how much it falls short.
        by: Length,
    },
    /// Rule 1: two pieces that follow each other leave a hole, so long.
    Hole(Length),

    /// Rule 2: the two sides have different numbers of pieces.
    PieceCounts {
        /// To port.
        port: usize,
        /// To starboard.
        starboard: usize,
    },
    /// Rule 2: a piece and its mate end at different places.
    EndsDiffer {
        /// Which end.
        tip: Tip,
        /// How far apart.
        by: Length,
    },
    /// Rule 2: the mate named in the row is not the strip on the other side.
    OtherMate {
        /// The strip in the row.
        named: Option<String>,
        /// The strip that lies there.
        found: Option<String>,
    },
    /// Rule 2: one strip on both sides.
    OwnMate,
    /// Rule 2: mates from one board cut at different places.
    CutsDiffer {
        /// The strip on the other side.
        mate: String,
        /// How far apart the cuts are.
        by: Length,
    },
    /// Rule 2: a mate from the same board has its other end to the bow.
    BowEndsDiffer(String),

    /// Rule 3: a piece that ends where it begins, or before.
    NoLength,
    /// Rule 3: the piece cut is by so much longer (positive) or shorter than the place it fills.
    CutLength(Length),
    /// Rule 3: a cut beyond an end of the strip.
    OffStrip {
        /// Which end of the strip.
        end: BowEnd,
        /// By how much.
        by: Length,
    },
    /// Rule 3: two pieces share wood.
    CutTwice {
        /// The other piece.
        other: Where,
        /// How much they share.
        by: Length,
    },
    /// Rule 3: less than the saw takes between two pieces.
    NoRoomForSaw {
        /// The other piece.
        other: Where,
        /// How much is missing.
        by: Length,
    },
    /// Rule 3: a piece reaches into a defect.
    Defect {
        /// Where the defect begins.
        from: U,
        /// Where it ends.
        to: U,
        /// How far the piece reaches into it.
        by: Length,
    },
    /// Rule 3: a piece comes too near a defect.
    NearDefect {
        /// Where the defect begins.
        from: U,
        /// Where it ends.
        to: U,
        /// What is kept clear of it.
        clear: Length,
        /// How much too near the piece comes.
        by: Length,
    },
    /// Rule 3: a piece reaches into an end of the strip that is not to be used.
    InEnd {
        /// Which end of the strip.
        end: BowEnd,
        /// What is left at each end.
        trim: Length,
        /// How far the piece reaches into it.
        by: Length,
    },
    /// Rule 3: a piece cut from a strip that is too narrow or too thin.
    Cull,

    /// Rule 4: the overlap at a joint is by so much longer (positive) or shorter than the scarf.
    Scarf(Length),

    /// Rule 5: a scarf reaches into a zone that is kept clear.
    InZone {
        /// The zone's name, where it has one.
        name: Option<String>,
        /// Where it begins.
        from: X,
        /// Where it ends.
        to: X,
        /// How far.
        by: Length,
    },

    /// Rule 6: two joints of near courses too close together.
    TooNear {
        /// The other joint.
        other: Where,
        /// How far apart they should be.
        clear: Length,
        /// By how much they are too near.
        by: Length,
    },

    /// Rule 7: a piece shorter than the shortest allowed.
    TooShort {
        /// The shortest allowed.
        shortest: Length,
        /// By how much.
        by: Length,
    },
    /// Rule 7: too many joints in a course.
    TooManyJoints {
        /// How many.
        joints: usize,
        /// How many at most.
        most: u32,
    },

    /// Rule 8: only a reflected strip could lie like this: with this end to the bow and this face out, this edge looks
    /// to the next course.
    Reflected(Edge),
    /// Rule 8: bead and cove the wrong way round: this edge must look to the next course.
    WrongEdge(Edge),
    /// Rule 8: a mate from the same board shows the face that it does not share with its mate.
    WrongFace {
        /// The strip on the other side.
        mate: String,
        /// The face it must show.
        face: Face,
    },

    /// Rule 9: what is laid already is not in the plan.
    LaidMissing,
    /// Rule 9: what is laid already is in the plan, but changed in these columns.
    LaidChanged(Vec<&'static str>),
    /// Rule 9: a piece lies across a cut that was made.
    AcrossCut {
        /// Where it is cut.
        at: U,
        /// How far the piece reaches over the cut.
        by: Length,
    },

    /// Rule 10: a strip where a want asks for others.
    NotWanted {
        /// The want.
        want: String,
        /// What it asks for.
        named: String,
    },
    /// Rule 10: a strip of a want on the other side than it asks for.
    WantedAcross {
        /// The want.
        want: String,
        /// The side that it belongs on.
        side: Side,
    },
    /// Rule 10: a strip that this want keeps for its own courses.
    Kept(String),
}

impl Breach {
    /// The number of the hard rule that is broken, as in docs/model.md.
    pub fn rule(&self) -> u8 {
        match self.wrong {
            Wrong::NotCovered
            | Wrong::LeftOutButLaid(_)
            | Wrong::LeftOutTwice
            | Wrong::NoSuchSide
            | Wrong::NumberZero
            | Wrong::NumberTwice
            | Wrong::NumbersMissing(..)
            | Wrong::EndNotReached { .. }
            | Wrong::Hole(_) => 1,
            Wrong::PieceCounts { .. }
            | Wrong::EndsDiffer { .. }
            | Wrong::OtherMate { .. }
            | Wrong::OwnMate
            | Wrong::CutsDiffer { .. }
            | Wrong::BowEndsDiffer(_) => 2,
            Wrong::NoLength
            | Wrong::CutLength(_)
            | Wrong::OffStrip { .. }
            | Wrong::CutTwice { .. }
            | Wrong::NoRoomForSaw { .. }
            | Wrong::Defect { .. }
            | Wrong::NearDefect { .. }
            | Wrong::InEnd { .. }
            | Wrong::Cull => 3,
            Wrong::Scarf(_) => 4,
            Wrong::InZone { .. } => 5,
            Wrong::TooNear { .. } => 6,
            Wrong::TooShort { .. } | Wrong::TooManyJoints { .. } => 7,
            Wrong::Reflected(_) | Wrong::WrongEdge(_) | Wrong::WrongFace { .. } => 8,
            Wrong::LaidMissing | Wrong::LaidChanged(_) | Wrong::AcrossCut { .. } => 9,
            Wrong::NotWanted { .. } | Wrong::WantedAcross { .. } | Wrong::Kept(_) => 10,
        }
    }
}
