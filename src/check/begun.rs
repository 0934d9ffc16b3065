//! A boat that is begun, as it would be were every course that has a piece finished with wood that just fits.
//!
//! Why: the ends of what is glued on are joints already, though nothing lies beyond them yet. Only beside pieces that
//! go on from there do the rules say whether the course can still be finished.

use super::{Breach, CoursePart, Wrong, check};
use crate::hull::{CourseId, Side};
use crate::job::Job;
use crate::plan::{BowEnd, Edge, Face, Piece, Plan};
use crate::stock::{Strip, StripId};
use crate::units::{Colour, Length, S, U};
use std::collections::BTreeMap;

/// What a breach calls the wood of a piece that is not laid.
const TO_COME: &str = "(still to come)";
/// Pieces put into one gap: more than any course will have, and no number that somebody writes makes us lay a million.
const MOST: u32 = 100;

/// Judges what is on the boat by itself: the rules that it breaks, whatever comes beside it, each with the laid piece
/// that does. Of each piece a rule is told once, though it may be broken on both sides.
pub fn check_laid(job: &Job) -> Vec<(Breach, Piece)> {
    if job.laid.is_empty() {
        return Vec::new();
    }
    let finished = Finished::of(job);
    let mut found: Vec<(Breach, Piece)> = Vec::new();
    for breach in check(&finished.job, &finished.plan).breaches {
        let Some(piece) = finished.to_blame(&breach) else {
            continue;
        };
        let told = |(other, by): &(Breach, Piece)| by == piece && other.rule() == breach.rule();
        if !found.iter().any(told) {
            let piece = piece.clone();
            found.push((breach, piece));
        }
    }
    found
}

/// The boat with its begun courses finished.
struct Finished {
    job: Job,
    plan: Plan,
    /// Strips that are there: those after them are not.
    strips: usize,
}

impl Finished {
    /// Finishes the courses on which something is laid: pieces that only one side has are put on the other, gaps are
    /// filled with as many pieces as their numbers leave, all of one length, and what is open toward the stern with
    /// one.
    fn of(job: &Job) -> Finished {
        let mut job_then = job.clone();
        job_then.earlier = None;
        // What is still to come is cut to just its length.
        job_then.rules.allow.end_trim = Length::ZERO;
        let mut finished = Finished {
            job: job_then,
            plan: Plan::default(),
            strips: job.stock.strips.len(),
        };
        for (id, _) in job.hull.courses() {
            match job.laid.iter().any(|piece| piece.course == id) {
                true => finished.finish(job, id),
                false => finished.plan.uncovered.push(id),
            }
        }
        finished
    }

    fn finish(&mut self, job: &Job, id: CourseId) {
        let here = || job.laid.iter().filter(|piece| piece.course == id);
        let known: BTreeMap<u32, (S, S)> = here()
            .map(|piece| (piece.number, (piece.from, piece.to)))
            .collect();
        let row = row(job, id, &known);
        for &side in job.hull.course(id).sides() {
            let laid = |number: u32| here().find(|p| (p.side, p.number) == (side, number));
            for &(number, from, to) in &row {
                let piece = match laid(number) {
                    Some(piece) => piece.clone(),
                    None => self.piece(id, side, number, (from, to)),
                };
                self.plan.pieces.push(piece);
            }
        }
        let sides = job.hull.course(id).sides();
        let astray = here().filter(|piece| !sides.contains(&piece.side));
        self.plan.pieces.extend(astray.cloned());
    }

    /// A piece of wood that is not there, and just as long as it must be.
    fn piece(&mut self, course: CourseId, side: Side, number: u32, (from, to): (S, S)) -> Piece {
        let length = to - from;
        let strip = StripId(self.job.stock.strips.len());
        self.job.stock.strips.push(Strip::plain(
            TO_COME,
            None,
            length,
            Colour::lab(50.0, 0.0, 0.0),
        ));
        Piece {
            course,
            side,
            number,
            strip,
            mate: None,
            from,
            to,
            cut_from: U::ORIGIN,
            cut_to: U::at(length),
            bow_end: BowEnd::Mark,
            next_edge: Edge::A,
            face_out: Face::High,
        }
    }

    fn is_laid(&self, piece: &Piece) -> bool {
        piece.strip.0 < self.strips
    }

    /// The laid piece that decides where a piece ends: itself, or the one that it lies opposite.
    fn decides<'f>(&'f self, piece: &'f Piece) -> Option<&'f Piece> {
        if self.is_laid(piece) {
            return Some(piece);
        }
        let mut all = self.plan.pieces.iter();
        all.find(|other| {
            self.is_laid(other) && (other.course, other.number) == (piece.course, piece.number)
        })
    }

    /// The laid piece that a breach is about; `None` where it is about what is still to come, which may come otherwise.
    fn to_blame(&self, breach: &Breach) -> Option<&Piece> {
        let here = self.run(breach);
        match (&breach.wrong, breach.at.part) {
            (
                Wrong::NotCovered
                | Wrong::LeftOutButLaid(_)
                | Wrong::LeftOutTwice
                | Wrong::NumbersMissing(..)
                | Wrong::PieceCounts { .. }
                | Wrong::OtherMate { .. },
                _,
            ) => None,
            (Wrong::TooNear { other, .. }, part) => {
                let other = Breach {
                    at: other.clone(),
                    ..breach.clone()
                };
                self.fixed(&self.run(&other), other.at.part)?;
                self.fixed(&here, part)
            }
            (Wrong::TooShort { .. }, CoursePart::Piece(number)) => {
                let beside = |piece: &&Piece| piece.number.abs_diff(number) <= 1;
                let mut beside = here.into_iter().filter(beside);
                beside.find_map(|piece| self.decides(piece))
            }
            (_, CoursePart::Piece(number)) => {
                let mut here = here.into_iter();
                here.find(|piece| piece.number == number && self.is_laid(piece))
            }
            (_, CoursePart::Joint(_)) => self.fixed(&here, breach.at.part),
            (_, CoursePart::Course) => here.into_iter().find(|piece| self.is_laid(piece)),
        }
    }

    /// The laid piece that decides where a joint of these pieces is.
    fn fixed<'f>(&'f self, here: &[&'f Piece], part: CoursePart) -> Option<&'f Piece> {
        let CoursePart::Joint(number) = part else {
            return None;
        };
        let at = (number as usize).checked_sub(1)?;
        let two = here.get(at..at + 2)?;
        two.iter().find_map(|piece| self.decides(piece))
    }

    /// The pieces of the course, and of the side where one is named, that a breach is about, from the bow.
    fn run(&self, breach: &Breach) -> Vec<&Piece> {
        let (at, hull) = (&breach.at, &self.job.hull);
        let mut here: Vec<&Piece> = self
            .plan
            .pieces
            .iter()
            .filter(|piece| {
                let course = hull.course(piece.course);
                hull.panel_of(piece.course).name == at.panel
                    && course.name() == at.course
                    && at.side.is_none_or(|side| side == piece.side)
            })
            .collect();
        here.sort_by_key(|piece| (piece.side, piece.number));
        here
    }
}

/// All pieces of a course from the bow aft, with the ends of each: those that are known, and others between them.
fn row(job: &Job, id: CourseId, known: &BTreeMap<u32, (S, S)>) -> Vec<(u32, S, S)> {
    let course = job.hull.course(id);
    let half = job.rules.half_scarf();
    let mut row = Vec::new();
    let (mut last, mut end) = (0, S::ORIGIN);
    for (&number, &(from, to)) in known {
        fill(&mut row, (last, end), (number, from + half), half);
        row.push((number, from, to));
        (last, end) = (number, to - half);
    }
    if end + half < S::at(course.length) {
        let all = S::at(course.length);
        fill(&mut row, (last, end), (last + 2, all), half);
        if let Some(piece) = row.last_mut() {
            piece.2 = all + job.rules.allowance(course.stern_end);
        }
    }
    if let Some(first) = row.first_mut()
        && !known.contains_key(&first.0)
    {
        first.1 = S::ORIGIN - job.rules.allowance(course.bow_end);
    }
    row
}

/// The pieces between one that ends at a joint and one that begins at another.
fn fill(row: &mut Vec<(u32, S, S)>, (last, end): (u32, S), (next, begin): (u32, S), half: Length) {
    let missing = next.saturating_sub(last + 1).min(MOST);
    let part = |i: u32| end + (begin - end) * (f64::from(i) / f64::from(missing));
    for i in 0..missing {
        row.push((last + 1 + i, part(i) - half, part(i + 1) + half));
    }
}
