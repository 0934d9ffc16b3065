//! The rows of a plan, sorted out by course and side: what every rule reads.
//!
//! Nothing is taken on trust here: rows may be missing, doubled, out of order or of a side that the course has not got.

use std::collections::{BTreeMap, BTreeSet};

use crate::hull::{Course, CourseId, Side};
use crate::job::Job;
use crate::plan::{Piece, Plan};
use crate::units::{Length, S, X};

use super::breach::{Breach, CoursePart, Where, Wrong};

/// The pieces of one course on one side, by their numbers.
pub(super) struct Run<'a> {
    pub id: CourseId,
    pub course: &'a Course,
    pub side: Side,
    /// By number, then from the bow; at least one.
    pub pieces: Vec<&'a Piece>,
}

/// A joint between two pieces that follow each other in one run.
pub(super) struct Joint<'a> {
    /// 1 for the first from the bow.
    pub number: u32,
    /// Its centre: the middle of the overlap.
    pub at: S,
    /// The piece before it.
    pub fore: &'a Piece,
    /// The piece behind it.
    pub aft: &'a Piece,
}

impl<'a> Run<'a> {
    /// The joints of the run, from the bow.
    pub fn joints(&self) -> Vec<Joint<'a>> {
        (1..)
            .zip(self.pieces.windows(2))
            .map(|(number, two)| Joint {
                number,
                at: two[0].to + (two[1].from - two[0].to) * 0.5,
                fore: two[0],
                aft: two[1],
            })
            .collect()
    }

    /// The nominal ends of each piece: course ends and joint centres, without allowances and overlaps.
    pub fn nominal(&self) -> Vec<(&'a Piece, S, S)> {
        let mut cuts = vec![S::ORIGIN];
        cuts.extend(self.joints().iter().map(|joint| joint.at));
        cuts.push(S::at(self.course.length));
        self.pieces
            .iter()
            .zip(cuts.windows(2))
            .map(|(piece, ends)| (*piece, ends[0], ends[1]))
            .collect()
    }

    /// The nominal ends of each piece on the boat.
    pub fn nominal_on_boat(&self) -> Vec<(&'a Piece, X, X)> {
        self.nominal()
            .into_iter()
            .map(|(piece, from, to)| (piece, self.course.x_at(from), self.course.x_at(to)))
            .collect()
    }
}

/// A plan's rows beside the job they are judged against.
pub(super) struct Rows<'a> {
    pub job: &'a Job,
    pub plan: &'a Plan,
    runs: BTreeMap<(CourseId, Side), Run<'a>>,
}

impl<'a> Rows<'a> {
    pub fn of(job: &'a Job, plan: &'a Plan) -> Rows<'a> {
        let mut runs: BTreeMap<(CourseId, Side), Run<'a>> = BTreeMap::new();
        let left_out: BTreeSet<CourseId> = plan.uncovered.iter().copied().collect();
        for piece in &plan.pieces {
            // What is glued on of a course that can't be finished stays where it is, but makes no run.
            if left_out.contains(&piece.course) && is_laid(job, piece) {
                continue;
            }
            runs.entry((piece.course, piece.side))
                .or_insert_with(|| Run {
                    id: piece.course,
                    course: job.hull.course(piece.course),
                    side: piece.side,
                    pieces: Vec::new(),
                })
                .pieces
                .push(piece);
        }
        for run in runs.values_mut() {
            run.pieces.sort_by_key(|piece| (piece.number, piece.from));
        }
        Rows { job, plan, runs }
    }

    /// Whether something is glued on already at the place of a row.
    pub fn is_laid(&self, piece: &Piece) -> bool {
        is_laid(self.job, piece)
    }

    /// The pieces of a course on one side, where there are any.
    pub fn run(&self, course: CourseId, side: Side) -> Option<&Run<'a>> {
        self.runs.get(&(course, side))
    }

    /// Every run, by course and side.
    pub fn runs(&self) -> impl Iterator<Item = &Run<'a>> {
        self.runs.values()
    }

    /// The runs of a course on the sides that it has.
    pub fn runs_of(&self, id: CourseId) -> impl Iterator<Item = &Run<'a>> {
        self.job
            .hull
            .course(id)
            .sides()
            .iter()
            .filter_map(move |side| self.run(id, *side))
    }

    /// A breach by a course as a whole.
    pub fn course_breach(&self, id: CourseId, side: Option<Side>, wrong: Wrong) -> Breach {
        self.breach(id, side, CoursePart::Course, wrong)
    }

    /// A breach by one piece.
    pub fn piece_breach(&self, piece: &Piece, wrong: Wrong) -> Breach {
        let part = CoursePart::Piece(piece.number);
        Breach {
            strip: self.strip_name(piece),
            ..self.breach(piece.course, Some(piece.side), part, wrong)
        }
    }

    /// A breach by one joint.
    pub fn joint_breach(&self, run: &Run, joint: u32, wrong: Wrong) -> Breach {
        self.breach(run.id, Some(run.side), CoursePart::Joint(joint), wrong)
    }

    /// A place in the plan, in the names of the job.
    pub fn place(&self, id: CourseId, side: Option<Side>, part: CoursePart) -> Where {
        Where {
            panel: self.job.hull.panel_of(id).name.clone(),
            course: self.job.hull.course(id).name(),
            side,
            part,
        }
    }

    /// The name of the strip that a piece is cut from.
    pub fn strip_name(&self, piece: &Piece) -> String {
        self.job.stock.strip(piece.strip).name.clone()
    }

    fn breach(&self, id: CourseId, side: Option<Side>, part: CoursePart, wrong: Wrong) -> Breach {
        Breach {
            at: self.place(id, side, part),
            strip: String::new(),
            wrong,
            unit: self.job.unit,
        }
    }
}

fn is_laid(job: &Job, piece: &Piece) -> bool {
    let place = |piece: &Piece| (piece.course, piece.side, piece.number);
    job.laid.iter().any(|laid| place(laid) == place(piece))
}

/// By how much `seen` falls short of `asked`, where that is more than the tolerance.
pub(super) fn shortfall(seen: Length, asked: Length) -> Option<Length> {
    let by = asked - seen;
    (by > super::tolerance::LENGTH).then_some(by)
}
