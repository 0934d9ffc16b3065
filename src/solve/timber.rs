//! What lies on a course: its parts from the bow aft, each with the two strips it is cut from.

use super::problem::{Glued, NONE, Problem, Span};
use crate::plan::BowEnd;
use crate::units::Length;
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
    /// Where each is cut nearest its marked end.
    pub cut: [Length; 2],
    /// Forward and after end on the skin, allowances and overlaps included.
    pub from: Length,
    /// See `from`.
    pub to: Length,
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
    pub fn between(problem: &Problem, row: usize, (from, to): Span) -> Part {
        let r = &problem.rows[row];
        let ends = problem.ends(row, (from, to));
        Part {
            wood: [NONE; 2],
            bow: [BowEnd::Mark; 2],
            cut: [Length::ZERO; 2],
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
        Part::between(problem, row, (Length::ZERO, problem.rows[row].length))
    }

    /// Its nominal ends: 0 and the course's length at the ends of the course, else the centres of its joints.
    pub fn nominal(&self, problem: &Problem, row: usize) -> Span {
        let r = &problem.rows[row];
        let from = match self.from <= Length::ZERO && self.x_from <= r.x(Length::ZERO) {
            true => Length::ZERO,
            false => self.from + problem.half_scarf,
        };
        let to = match self.x_to >= r.x(r.length) {
            true => r.length,
            false => self.to - problem.half_scarf,
        };
        (from, to)
    }

    /// The same part with other ends on the skin, allowances and overlaps included.
    pub fn with_ends(self, problem: &Problem, row: usize, (from, to): Span) -> Part {
        Part {
            from,
            to,
            x_tip: problem.rows[row].x(from),
            ..self
        }
    }

    /// Its length with allowances and overlaps.
    pub fn length(&self) -> Length {
        self.to - self.from
    }

    /// The stretch of strip that it takes on one side.
    pub fn span(&self, side: usize) -> Span {
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
    pub fn register_of(&self, bow: BowEnd, cut: Length) -> f64 {
        match bow {
            BowEnd::Mark => self.x_tip - cut.mm(),
            BowEnd::Plain => self.x_tip + (cut + self.length()).mm(),
        }
    }

    /// The stretches of strip that it takes: strip and stretch.
    pub fn takes(&self) -> impl Iterator<Item = (u32, Span)> + '_ {
        self.sides().map(|side| (self.wood[side], self.span(side)))
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
