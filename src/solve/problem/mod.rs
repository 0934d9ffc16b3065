//! The job made dense and indexed for the search. Immutable: nothing in it knows what has been decided.
//!
//! Places along strips and skin are a `Length` from their origin here, and those along the boat millimetres (`f64`):
//! the first are compared exactly and the second are only integrated over.

mod alike;
mod charge;
mod differences;
mod glued;
mod labels;
mod row;
mod wants;
mod wood;

pub use charge::{Charge, Steps};
pub use glued::{Fixed, Glued, There};
pub use labels::{Label, Labels, alone};
pub use row::{Row, Seam};
pub use wants::Allowed;
pub use wood::Wood;

use super::profile::Profile;
use crate::job::Job;
use crate::plan::{BowEnd, Face};
use crate::solve::tuning::problem::{NEAR_IN_BOARD, TABLED};
use crate::units::{Length, delta_e};
use alike::Alike;
use differences::Differences;
use row::rows;
use wood::{Sawn, mates, named_sisters, woods};

/// Stands for "no strip": the far side of a centre course.
pub const NONE: u32 = u32::MAX;
/// From one place to another, on a strip or on the skin of a course.
pub type Span = (Length, Length);
/// The whole problem.
#[derive(Clone, Debug)]
pub struct Problem {
    /// Strips, by [`crate::stock::StripId`].
    pub woods: Vec<Wood>,
    /// Courses, by [`crate::hull::CourseId`].
    pub rows: Vec<Row>,
    /// Where two courses meet, side by side or across an accent band, by the upper and then the lower of them.
    pub seams: Vec<Seam>,
    /// Half a scarf.
    pub half_scarf: Length,
    /// Least distance between joints of near courses. Unit: mm.
    pub clear: f64,
    /// Least nominal length of a piece.
    pub shortest: Length,
    /// Most joints in a course.
    pub most: usize,
    /// Lost at a cross-cut.
    pub saw: Length,
    /// Never used at each end of a strip.
    pub end_trim: Length,
    /// The weights of the cost.
    pub weights: crate::plan::Weights,
    /// Pairs of one board, those that lay close first; `mates[a]` lists the partners of a.
    pub mates: Vec<Vec<u32>>,
    /// What is glued on each course already.
    pub glued: Vec<Vec<Glued>>,
    /// What is written on the wood already.
    pub labels: Labels,
    /// What the builder wants where.
    pub allowed: Allowed,
    /// L* of each strip.
    lightness: Vec<f64>,
    differences: Differences,
    alike: Alike,
    sawn: Vec<Sawn>,
    sisters: Vec<u32>,
}

impl Problem {
    /// The problem that a job sets.
    pub fn new(job: &Job) -> Problem {
        let strips = &job.stock.strips;
        if strips.len() > TABLED {
            let colours = strips.iter().map(|strip| Some(strip.colour));
            return Problem::of(job, Differences::by_colour(colours.collect()));
        }
        Problem::with_differences(job, |a, b| delta_e(strips[a].colour, strips[b].colour))
    }

    /// The same with colour differences of the caller's own, which must be symmetric: lets a problem with a known
    /// answer from outside be set in the planner's terms.
    pub fn with_differences(job: &Job, difference: impl Fn(usize, usize) -> f64) -> Problem {
        let strips = job.stock.strips.len();
        Problem::of(job, Differences::in_table(strips, difference))
    }

    fn of(job: &Job, differences: Differences) -> Problem {
        let is_tabled = job.stock.strips.len() <= TABLED;
        let rules = &job.rules;
        let woods = woods(&job.stock, &rules.allow);
        let (rows, seams) = rows(job);
        let half_scarf = rules.half_scarf();
        let mut problem = Problem {
            glued: glued::glued(job, &rows, half_scarf),
            labels: Labels::of(job),
            allowed: Allowed::of(job),
            lightness: job
                .stock
                .strips
                .iter()
                .map(|strip| strip.colour.l)
                .collect(),
            mates: mates(
                &job.stock,
                &woods,
                if is_tabled { usize::MAX } else { NEAR_IN_BOARD },
            ),
            sisters: named_sisters(&job.stock),
            sawn: woods.iter().map(Sawn::from).collect(),
            woods,
            rows,
            seams,
            half_scarf,
            clear: rules.joints.clear.mm(),
            // A nanometre at least: a piece without length is no piece.
            shortest: rules.joints.shortest_piece.max(Length::NM),
            most: rules.joints.most as usize,
            saw: rules.allow.saw,
            end_trim: rules.allow.end_trim,
            weights: job.weights,
            alike: Alike::default(),
            differences,
        };
        problem.alike = match is_tabled {
            true => Alike::of_all(&problem),
            false => Alike::of_nearest(&problem),
        };
        problem
    }

    /// The same problem with so many pairs of sisters more, all of one length from end to end and as like in colour as
    /// one could wish.
    ///
    /// Their strips follow the others, two by two.
    pub fn with_more_pairs(&self, pairs: usize, length: Length) -> Problem {
        let was = self.woods.len();
        let mut more = self.clone();
        let first_board = self
            .woods
            .iter()
            .map(|wood| wood.board + 1)
            .max()
            .unwrap_or(0);
        for i in 0..2 * pairs {
            let board = first_board + (i / 2) as u32;
            more.woods.push(Wood {
                board,
                seq: (i % 2) as i64 + 1,
                clear: Vec::from_iter(
                    Some((self.end_trim, length - self.end_trim)).filter(|(from, to)| from < to),
                ),
            });
            more.sawn.extend(more.woods.last().map(Sawn::from));
            more.mates.push(vec![(was + (i ^ 1)) as u32]);
            more.sisters.push(NONE);
            more.lightness.push(0.0);
        }
        more.differences = self.differences.with_more(2 * pairs);
        more.alike = more.alike.with_more(2 * pairs);
        more
    }

    /// Whether wood is laid or labelled already, so that this is planning again.
    pub fn is_again(&self) -> bool {
        !self.labels.is_empty() || self.glued.iter().any(|here| !here.is_empty())
    }

    /// The ends of a piece between two nominal places of a course, allowances and overlaps included.
    pub fn ends(&self, row: usize, (from, to): Span) -> Span {
        let r = &self.rows[row];
        let ahead = match from {
            Length::ZERO => r.allow[0],
            _ => self.half_scarf,
        };
        let abaft = match to == r.length {
            true => r.allow[1],
            false => self.half_scarf,
        };
        (from - ahead, to + abaft)
    }

    /// What is glued between two nominal places of a course.
    pub fn glued_between(&self, row: usize, (from, to): Span) -> There<'_> {
        let here = self.glued[row].iter();
        let mut met = here.filter(|glued| from < glued.nominal.1 && glued.nominal.0 < to);
        match met.next() {
            None => There::Nothing,
            Some(glued) if glued.nominal == (from, to) => There::Just(glued),
            Some(_) => There::InTheWay,
        }
    }

    /// What is glued on one side of a course.
    pub fn glued_on(&self, row: usize, side: usize) -> impl Iterator<Item = &Glued> {
        let here = self.glued[row].iter();
        here.filter(move |glued| glued.sides[side].is_some())
    }

    /// The others that would look best beside a strip on one side, best first.
    #[inline]
    pub fn alike(&self, strip: u32) -> &[u32] {
        self.alike.to(self, strip)
    }

    /// How many strips were held against others so far.
    #[cfg(test)]
    pub fn held_against_others(&self) -> usize {
        self.alike.worked_out()
    }

    /// How many slices apart two strips of one board were sawn.
    #[inline]
    fn apart(&self, a: u32, b: u32) -> Option<u32> {
        self.sawn[a as usize].apart(self.sawn[b as usize])
    }

    /// Colour difference of two strips. Unit: ΔE00.
    #[inline]
    pub fn difference(&self, a: u32, b: u32) -> f64 {
        self.differences.between(a, b)
    }

    /// What a metre of seam between pieces of two strips costs at weight 1, register aside.
    #[inline]
    pub fn seam_rate(&self, a: u32, b: u32) -> f64 {
        self.difference(a, b) + self.figure_step(a, b)
    }

    #[inline]
    fn figure_step(&self, a: u32, b: u32) -> f64 {
        let w = &self.weights;
        match self.apart(a, b) {
            Some(apart) => w.board.min(w.skip * f64::from(apart.saturating_sub(2))),
            None => w.board,
        }
    }

    /// What a metre costs at weight 1 where two pieces lie abreast, register aside.
    #[inline]
    pub fn rate(&self, charge: Charge, upper: u32, lower: u32) -> f64 {
        let steps = match charge.steps {
            Steps::Plain => self.seam_rate(upper, lower),
            Steps::Accent(welcome) => {
                (welcome - self.difference(upper, lower)).max(0.0) + self.figure_step(upper, lower)
            }
            Steps::Apart => 0.0,
        };
        match charge.drift == 0.0 {
            true => steps,
            false => steps + self.drift_rate(charge, upper, lower),
        }
    }

    /// The part of it for shade that goes the wrong way.
    pub fn drift_rate(&self, charge: Charge, upper: u32, lower: u32) -> f64 {
        (charge.drift * (self.lightness[lower as usize] - self.lightness[upper as usize])).max(0.0)
    }

    /// The joints at the ends of what is glued on a course. Unit: mm along the boat.
    pub fn glued_joints(&self, row: usize) -> impl Iterator<Item = f64> + '_ {
        let r = &self.rows[row];
        let ends = self.glued[row]
            .iter()
            .flat_map(|glued| [glued.nominal.0, glued.nominal.1]);
        ends.filter(|&s| s > Length::ZERO && s < r.length)
            .map(|s| r.x(s))
    }

    /// The board that a strip was sawn from.
    #[inline]
    pub fn board(&self, strip: u32) -> u32 {
        self.sawn[strip as usize].board
    }

    /// Whether two strips come from one board.
    #[inline]
    pub fn one_board(&self, a: u32, b: u32) -> bool {
        self.board(a) == self.board(b)
    }

    /// What a metre of two mates facing each other across the boat costs at weight 1.
    pub fn match_rate(&self, a: u32, b: u32) -> f64 {
        let w = &self.weights;
        let foster = match self.apart(a, b) {
            None => w.foster,
            Some(_) if self.sisters[a as usize] == b || self.sisters[b as usize] == a => 0.0,
            Some(apart) => w.foster.min(w.skip * (f64::from(apart) - 1.0)),
        };
        self.difference(a, b) + foster
    }

    /// The face that the port strip of a pair shows: in a pair of one board the lower seq shows its high face.
    pub fn port_face(&self, port: u32, starboard: u32) -> Face {
        let (p, s) = (&self.sawn[port as usize], &self.sawn[starboard as usize]);
        if p.seq < s.seq { Face::High } else { Face::Low }
    }

    /// Whether a strip that is glued on one side shows the face that it must beside a mate of its board.
    pub fn opens(&self, wood: [u32; 2], side: usize, fixed: &Fixed) -> bool {
        (fixed.face == self.port_face(wood[0], wood[1])) == (side == 0)
    }

    /// The ends that may point to the bow when this wood goes on this course: both, or the one that the edges dictate.
    pub fn bow_ends(&self, row: usize, wood: [u32; 2]) -> &'static [BowEnd] {
        match self.rows[row].locked {
            Some(locked) if wood[1] != NONE && self.one_board(wood[0], wood[1]) => {
                let end = match self.port_face(wood[0], wood[1]) {
                    Face::High => locked[0],
                    Face::Low => locked[1],
                };
                match end {
                    BowEnd::Mark => &[BowEnd::Mark],
                    BowEnd::Plain => &[BowEnd::Plain],
                }
            }
            _ => &[BowEnd::Mark, BowEnd::Plain],
        }
    }
}
