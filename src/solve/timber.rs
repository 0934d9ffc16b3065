//! What lies on a course: its parts from the bow aft, each with the two strips it is cut from.

use super::problem::{Glued, NONE, Problem};
use crate::plan::BowEnd;
use smallvec::SmallVec;

/// How a piece lies: its end to the bow, and the register of its figure. Unit: mm.
pub type Lie = (BowEnd, f64);

/// One piece of a course on both sides (or on the one side there is).
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Part {
    /// Strip on port and on starboard; the second is [`NONE`] on a centre course.
    pub wood: [u32; 2],
    /// Which end points to the bow, on each side.
    pub bow: [BowEnd; 2],
    /// Where each is cut nearest its marked end. Unit: nm.
    pub cut: [i64; 2],
    /// Forward and after end on the skin, allowances and overlaps included. Unit: nm.
    pub from: i64,
    /// See `from`.
    pub to: i64,
    /// Nominal ends on the boat: joint centres or course ends. Unit: mm.
    pub x_from: f64,
    /// See `x_from`.
    pub x_to: f64,
    /// Boat position of the bow tip. Unit: mm.
    pub x_tip: f64,
    /// Which sides are glued on already: their wood is out of the rack for good.
    pub glued: [bool; 2],
}

impl Part {
    /// A part between two nominal places of a course (0 and the course's length at its ends), not yet cut from
    /// anything.
    pub fn between(problem: &Problem, row: usize, from: i64, to: i64) -> Part {
        let r = &problem.rows[row];
        let ends = problem.ends(row, (from, to));
        Part {
            wood: [NONE; 2],
            bow: [BowEnd::Mark; 2],
            cut: [0; 2],
            from: ends.0,
            to: ends.1,
            x_from: r.x(from),
            x_to: r.x(to),
            x_tip: r.x(ends.0),
            glued: [false; 2],
        }
    }

    /// A course in one piece, not yet cut from anything.
    pub fn whole(problem: &Problem, row: usize) -> Part {
        Part::between(problem, row, 0, problem.rows[row].length)
    }

    /// Its nominal ends: 0 and the course's length at the ends of the course, else the centres of its joints. Unit: nm.
    pub fn nominal(&self, problem: &Problem, row: usize) -> (i64, i64) {
        let length = problem.rows[row].length;
        let from = if self.from <= 0 && self.x_from <= problem.rows[row].x(0) {
            0
        } else {
            self.from + problem.half_scarf
        };
        let to = if self.x_to >= problem.rows[row].x(length) {
            length
        } else {
            self.to - problem.half_scarf
        };
        (from, to)
    }

    /// The same part with other ends on the skin, allowances and overlaps included. Unit: nm.
    pub fn with_ends(self, problem: &Problem, row: usize, (from, to): (i64, i64)) -> Part {
        Part {
            from,
            to,
            x_tip: problem.rows[row].x(from),
            ..self
        }
    }

    /// Its length with allowances and overlaps. Unit: nm.
    pub fn length(&self) -> i64 {
        self.to - self.from
    }

    /// The stretch of strip that it takes on one side. Unit: nm.
    pub fn span(&self, side: usize) -> (i64, i64) {
        (self.cut[side], self.cut[side] + self.length())
    }

    /// How it lies on one side: its end to the bow, and the register of its figure.
    pub fn lie(&self, side: usize) -> Lie {
        (self.bow[side], self.register(side))
    }

    /// The register of its figure on one side: where the marked end would lie on the boat, were the strip laid whole.
    ///
    /// Unit: mm. Source: model, "seam".
    pub fn register(&self, side: usize) -> f64 {
        self.register_of(self.bow[side], self.cut[side])
    }

    /// The same if it were cut there, and with that end to the bow.
    pub fn register_of(&self, bow: BowEnd, cut: i64) -> f64 {
        match bow {
            BowEnd::Mark => self.x_tip - cut as f64 / 1e6,
            BowEnd::Plain => self.x_tip + (cut + self.length()) as f64 / 1e6,
        }
    }

    /// The stretches of strip that it takes: strip, from, to. Unit: nm.
    pub fn takes(&self) -> impl Iterator<Item = (u32, i64, i64)> + '_ {
        self.sides().map(|side| {
            let (from, to) = self.span(side);
            (self.wood[side], from, to)
        })
    }

    /// The same part with everything of it that is glued as it is glued.
    pub fn as_glued(self, problem: &Problem, row: usize, glued: &Glued) -> Part {
        let mut part = self.with_ends(problem, row, glued.ends);
        for (side, fixed) in glued.sides.iter().enumerate() {
            if let Some(fixed) = fixed {
                (part.bow[side], part.cut[side], part.glued[side]) = (fixed.bow, fixed.cut, true);
            }
        }
        part
    }

    /// The sides that it lies on: port and starboard, or the first alone on a centre course.
    pub fn sides(&self) -> std::ops::Range<usize> {
        0..if self.wood[1] == NONE { 1 } else { 2 }
    }

    /// The sides that are not glued on yet.
    pub fn loose_sides(&self) -> impl Iterator<Item = usize> + use<> {
        let glued = self.glued;
        self.sides().filter(move |side| !glued[*side])
    }

    /// Whether both mates are cut at the same place because they come from one board.
    pub fn book_matched(&self, problem: &Problem) -> bool {
        self.wood[1] != NONE && problem.one_board(self.wood[0], self.wood[1])
    }
}

/// The parts of a course from the bow aft; none where the course is open.
pub type Timber = SmallVec<[Part; 2]>;

/// The wood the other way round, port for starboard.
pub fn swapped(wood: [u32; 2]) -> [u32; 2] {
    match wood {
        [_, NONE] => wood,
        [port, starboard] => [starboard, port],
    }
}

/// The joints of a course: nominal places on the boat between its parts. Unit: mm.
pub fn joints(timber: &[Part]) -> impl Iterator<Item = f64> + '_ {
    timber.iter().skip(1).map(|part| part.x_from)
}

/// Whether timber on a course leaves everything that is glued there where it is; an open course does.
pub fn keeps_glued(problem: &Problem, row: usize, timber: &[Part]) -> bool {
    timber.is_empty()
        || problem.glued[row].iter().all(|glued| {
            let part = timber.get(glued.index);
            let fixed = glued.sides.map(|side| side.is_some());
            part.is_some_and(|part| part.glued == fixed && part.from == glued.ends.0)
        })
}
