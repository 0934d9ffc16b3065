//! Which way round a piece is laid: the orientation algebra of the model.
//!
//! A strip has three binary properties when it is laid (end to the bow, edge to the next course, face out), but only
//! two are free: the third combination would need the strip reflected, and wood can't be. The proof against rotation
//! matrices is in `tests/facing.rs`.

use crate::hull::{Side, Toward};

/// Which end of the strip points to the bow.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum BowEnd {
    /// The marked end, u = 0.
    Mark,
    /// The plain end.
    Plain,
}

/// Which edge of the strip the next course is glued to.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Edge {
    /// The edge that was the board's marked face.
    A,
    /// The other.
    B,
}

/// Which sawn face of the strip is seen from outside.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Face {
    /// The face toward higher seq.
    High,
    /// The face toward lower seq.
    Low,
}

impl Edge {
    /// The other edge.
    pub const fn other(self) -> Edge {
        match self {
            Edge::A => Edge::B,
            Edge::B => Edge::A,
        }
    }
}

impl BowEnd {
    /// The word written in files.
    pub const fn name(self) -> &'static str {
        match self {
            BowEnd::Mark => "mark",
            BowEnd::Plain => "plain",
        }
    }

    /// The word said to people, before "end".
    pub const fn spoken(self) -> &'static str {
        match self {
            BowEnd::Mark => "marked",
            BowEnd::Plain => "plain",
        }
    }

    /// The other end.
    pub const fn other(self) -> BowEnd {
        match self {
            BowEnd::Mark => BowEnd::Plain,
            BowEnd::Plain => BowEnd::Mark,
        }
    }

    const fn sign(self) -> i8 {
        match self {
            BowEnd::Mark => -1,
            BowEnd::Plain => 1,
        }
    }
}

impl Edge {
    /// The letter written in files.
    pub const fn name(self) -> &'static str {
        match self {
            Edge::A => "A",
            Edge::B => "B",
        }
    }
}

impl Face {
    /// The word written in files.
    pub const fn name(self) -> &'static str {
        match self {
            Face::High => "high",
            Face::Low => "low",
        }
    }

    const fn sign(self) -> i8 {
        match self {
            Face::High => 1,
            Face::Low => -1,
        }
    }
}

/// h of the model: +1 on port toward the deck and on starboard toward the keel, else −1. A centre course uses port's.
pub const fn next_edge_sign(side: Side, toward: Toward) -> i8 {
    match (side, toward) {
        (Side::Port | Side::Centre, Toward::Deck) | (Side::Starboard, Toward::Keel) => 1,
        (Side::Port | Side::Centre, Toward::Keel) | (Side::Starboard, Toward::Deck) => -1,
    }
}

/// The two free properties of a laid piece; the third follows.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Facing {
    /// Which end points to the bow.
    pub bow_end: BowEnd,
    /// Which face is seen.
    pub face_out: Face,
}

impl Facing {
    /// The edge that looks to the next course. Source: model, "A laid piece".
    pub const fn next_edge(self, side: Side, toward: Toward) -> Edge {
        let sign = self.bow_end.sign() * self.face_out.sign() * next_edge_sign(side, toward);
        if sign > 0 { Edge::A } else { Edge::B }
    }

    /// The facing with this end to the bow and this edge to the next course.
    pub const fn with_edge(bow_end: BowEnd, next_edge: Edge, side: Side, toward: Toward) -> Facing {
        let high = Facing {
            bow_end,
            face_out: Face::High,
        };
        let face_out = match (high.next_edge(side, toward), next_edge) {
            (Edge::A, Edge::A) | (Edge::B, Edge::B) => Face::High,
            _ => Face::Low,
        };
        Facing { bow_end, face_out }
    }
}
