//! A piece of a strip with its place on the boat, and the plan they make up.

use super::{BowEnd, Edge, Face};
use crate::hull::{CourseId, Side};
use crate::stock::StripId;
use crate::units::{S, U};
use std::collections::BTreeMap;

/// A length cut from one strip and glued into one course, on one side: a row of the laying order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Piece {
    /// The course.
    pub course: CourseId,
    /// The side.
    pub side: Side,
    /// 1 at the bow.
    pub number: u32,
    /// The strip it is cut from.
    pub strip: StripId,
    /// The strip on the other side; `None` on a centre course.
    pub mate: Option<StripId>,
    /// Its forward end, allowance and scarf overlap included (so the first may be negative).
    pub from: S,
    /// Its after end, allowance and scarf overlap included.
    pub to: S,
    /// Where to cut, nearer the marked end.
    pub cut_from: U,
    /// Where to cut, nearer the plain end; `cut_to − cut_from = to − from`.
    pub cut_to: U,
    /// Which end of the strip points to the bow.
    pub bow_end: BowEnd,
    /// Which edge the next course is glued to.
    pub next_edge: Edge,
    /// Which face is seen.
    pub face_out: Face,
}

impl Piece {
    /// Where on its strip a place of the skin lies.
    pub fn u_at(&self, s: S) -> U {
        let from_bow = s - self.from;
        match self.bow_end {
            BowEnd::Mark => self.cut_from + from_bow,
            BowEnd::Plain => self.cut_to - from_bow,
        }
    }

    /// Where the joint to the next piece of the course lies: in the middle of their overlap.
    pub fn joint(&self, next: &Piece) -> S {
        next.from + (self.to - next.from) * 0.5
    }
}

/// Every piece, in the order of laying, and the courses that the wood does not cover.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Plan {
    /// In the order of laying.
    pub pieces: Vec<Piece>,
    /// Courses left out whole, in order.
    pub uncovered: Vec<CourseId>,
}

impl Plan {
    /// The strips that are cut into, each with its pieces from the marked end.
    pub(crate) fn by_strip(&self) -> BTreeMap<StripId, Vec<&Piece>> {
        let mut all: BTreeMap<StripId, Vec<&Piece>> = BTreeMap::new();
        for piece in &self.pieces {
            all.entry(piece.strip).or_default().push(piece);
        }
        for pieces in all.values_mut() {
            pieces.sort_by_key(|piece| piece.cut_from);
        }
        all
    }
}
