//! What spoilers work with: a plan with its job, rows drawn from the seed, and the small changes that many of them
//! make.

use rand::RngExt;
use rand_pcg::Pcg64;
use twinstrake::hull::{CourseId, Kind, Side};
use twinstrake::job::Job;
use twinstrake::plan::{BowEnd, Facing, Piece, Plan};
use twinstrake::stock::Defect;
use twinstrake::units::{Length, S};

use super::super::builder::mm;

#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Tip {
    Bow,
    Stern,
}

pub struct Spoiled {
    pub job: Job,
    pub plan: Plan,
    pub rng: Pcg64,
}

/// Half a millimetre: well above the checker's tolerance, and more than any saw cut may be off.
pub const HAIR: f64 = 0.5;

impl Spoiled {
    /// Draws a row of those that will do.
    pub fn draw(&mut self, will_do: impl Fn(&Spoiled, &Piece) -> bool) -> Option<usize> {
        let rows: Vec<usize> = (0..self.plan.pieces.len())
            .filter(|row| will_do(self, &self.plan.pieces[*row]))
            .collect();
        (!rows.is_empty()).then(|| rows[self.rng.random_range(0..rows.len())])
    }

    pub fn any_row(&mut self) -> Option<usize> {
        self.draw(|_, _| true)
    }

    pub fn row(&mut self, row: usize) -> &mut Piece {
        &mut self.plan.pieces[row]
    }

    pub fn kind(&self, piece: &Piece) -> Kind {
        self.job.hull.course(piece.course).kind
    }

    /// The row of the mate.
    pub fn mate_of(&self, piece: &Piece) -> Option<usize> {
        self.plan.pieces.iter().position(|other| {
            (other.course, other.number) == (piece.course, piece.number) && other.side != piece.side
        })
    }

    pub fn in_one_board(&self, piece: &Piece) -> bool {
        let apart = |mate| self.job.stock.seq_apart(piece.strip, mate);
        piece.mate.and_then(apart).is_some()
    }

    pub fn pieces_in(&self, course: CourseId, side: Side) -> usize {
        let here = |p: &&Piece| p.course == course && p.side == side;
        self.plan.pieces.iter().filter(here).count()
    }

    /// Whether a joint lies behind the piece.
    pub fn joint_behind(&self, piece: &Piece) -> bool {
        (piece.number as usize) < self.pieces_in(piece.course, piece.side)
    }

    pub fn overlap_centre(&self, piece: &Piece) -> S {
        piece.to - self.job.rules.half_scarf()
    }

    /// Moves one end of a piece on the boat, and the cut with it.
    pub fn move_end(&mut self, row: usize, tip: Tip, by: Length) {
        let piece = self.row(row);
        match tip {
            Tip::Bow => piece.from = piece.from + by,
            Tip::Stern => piece.to = piece.to + by,
        }
        match (tip, piece.bow_end) {
            (Tip::Bow, BowEnd::Mark) => piece.cut_from = piece.cut_from + by,
            (Tip::Bow, BowEnd::Plain) => piece.cut_to = piece.cut_to - by,
            (Tip::Stern, BowEnd::Mark) => piece.cut_to = piece.cut_to + by,
            (Tip::Stern, BowEnd::Plain) => piece.cut_from = piece.cut_from - by,
        }
    }

    /// Moves a joint on all sides or on one.
    pub fn move_joint(&mut self, course: CourseId, number: u32, only: Option<Side>, by: Length) {
        for row in 0..self.plan.pieces.len() {
            let piece = &self.plan.pieces[row];
            if piece.course != course || only.is_some_and(|side| side != piece.side) {
                continue;
            }
            if piece.number == number {
                self.move_end(row, Tip::Stern, by);
            } else if piece.number == number + 1 {
                self.move_end(row, Tip::Bow, by);
            }
        }
    }

    pub fn trim(&mut self, tip: Tip) -> Option<()> {
        let row = self.draw(|s, piece| match tip {
            Tip::Bow => piece.number == 1,
            Tip::Stern => !s.joint_behind(piece),
        })?;
        let piece = self.plan.pieces[row].clone();
        let by = mm(if tip == Tip::Bow { HAIR } else { -HAIR });
        self.move_end(row, tip, by);
        if let Some(mate) = self.mate_of(&piece) {
            self.move_end(mate, tip, by);
        }
        Some(())
    }

    pub fn renumber(&mut self, other: impl Fn(u32) -> u32) -> Option<()> {
        let row = self.any_row()?;
        // Only the last of a run, so that the order of the others stays.
        let piece = self.plan.pieces[row].clone();
        let last = self
            .draw(|s, p| (p.course, p.side) == (piece.course, piece.side) && !s.joint_behind(p))?;
        let number = self.plan.pieces[last].number;
        self.row(last).number = other(number);
        Some(())
    }

    /// Makes the overlap at a joint longer, on all sides, by so many scarfs.
    pub fn stretch_overlap(&mut self, scarfs: f64) -> Option<()> {
        let row = self.draw(|s, piece| s.joint_behind(piece))?;
        let piece = self.plan.pieces[row].clone();
        let by = self.job.rules.scarf() * scarfs;
        for side in self.job.hull.course(piece.course).sides() {
            let at =
                |p: &Piece| (p.course, p.side, p.number) == (piece.course, *side, piece.number);
            let row = self.plan.pieces.iter().position(at)?;
            self.move_end(row, Tip::Stern, by);
        }
        Some(())
    }

    pub fn defect(&mut self, length: f64) -> Option<()> {
        let row = self.any_row()?;
        let piece = &self.plan.pieces[row];
        let from = piece.cut_from + (piece.cut_to - piece.cut_from) * 0.4;
        let to = from + mm(length);
        let strip = piece.strip;
        self.job.stock.strips[strip.0]
            .defects
            .push(Defect { from, to });
        Some(())
    }

    pub fn recut(&mut self, by: f64) -> Option<()> {
        let row = self.any_row()?;
        self.row(row).cut_to = self.row(row).cut_to + mm(by);
        Some(())
    }

    /// Lays a piece for good, and gives the plan another row, or none, in its place.
    pub fn lay(&mut self, instead: impl Fn(Piece) -> Option<Piece>) -> Option<()> {
        let row = self.any_row()?;
        let piece = self.plan.pieces[row].clone();
        self.job.laid.push(piece.clone());
        match instead(piece) {
            Some(piece) => *self.row(row) = piece,
            None => drop(self.plan.pieces.remove(row)),
        }
        Some(())
    }

    /// Draws a row, and another one from another strip.
    pub fn two_strips(&mut self) -> Option<(usize, usize)> {
        let one = self.any_row()?;
        let strip = self.plan.pieces[one].strip;
        let other = self.draw(|_, p| p.strip != strip)?;
        Some((one, other))
    }

    /// Turns a piece end for end about the line that looks out of the planking: the same face stays out.
    pub fn turn(&mut self, row: usize) {
        let toward = self.job.hull.panel_of(self.plan.pieces[row].course).toward;
        let piece = self.row(row);
        piece.bow_end = piece.bow_end.other();
        piece.next_edge = facing(piece).next_edge(piece.side, toward);
    }
}

pub fn facing(piece: &Piece) -> Facing {
    Facing {
        bow_end: piece.bow_end,
        face_out: piece.face_out,
    }
}
