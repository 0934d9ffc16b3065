//! The bench: turns "this strip here, joints there" into rows that obey the frames of the model.

use twinstrake::hull::{Course, CourseId, Kind, Side};
use twinstrake::job::Job;
use twinstrake::plan::{BowEnd, Edges, Face, Facing, Piece, Plan, in_laying_order};
use twinstrake::stock::StripId;
use twinstrake::units::{Length, S, U};

/// Where the strips for one piece are cut. On a mirrored course the first strip goes to port.
#[derive(Clone, Copy, Debug)]
pub struct Cut {
    pub strip: StripId,
    pub at: U,
    /// Strip and cut of the mate; `None` on a centre course.
    pub mate: Option<(StripId, U)>,
    /// The end to the bow where the edges leave it free.
    pub bow_end: BowEnd,
}

impl Cut {
    /// Strips by name, both cut at the same place, marked end to the bow.
    pub fn pair(job: &Job, strip: &str, mate: &str, at: f64) -> Cut {
        Cut {
            strip: named(job, strip),
            at: U::from_mm(at),
            mate: Some((named(job, mate), U::from_mm(at))),
            bow_end: BowEnd::Mark,
        }
    }

    /// Several pairs, each as [`Cut::pair`] takes it.
    pub fn pairs<const N: usize>(job: &Job, all: [(&str, &str, f64); N]) -> [Cut; N] {
        all.map(|(strip, mate, at)| Cut::pair(job, strip, mate, at))
    }

    /// A strip for a centre course, marked end to the bow.
    pub fn single(job: &Job, strip: &str, at: f64) -> Cut {
        Cut {
            mate: None,
            ..Cut::pair(job, strip, strip, at)
        }
    }

    /// The same with the plain end to the bow.
    pub fn turned(self) -> Cut {
        Cut {
            bow_end: self.bow_end.other(),
            ..self
        }
    }
}

fn named(job: &Job, name: &str) -> StripId {
    job.stock.named(name).unwrap()
}

/// From where to where each piece of a course reaches, with allowances and half scarfs.
pub fn spans(job: &Job, course: &Course, joints: &[S]) -> Vec<(S, S)> {
    let half = job.rules.half_scarf();
    let mut from = S::ORIGIN - job.rules.allowance(course.bow_end);
    let mut spans = Vec::new();
    for joint in joints {
        spans.push((from, *joint + half));
        from = *joint - half;
    }
    let end = S::at(course.length) + job.rules.allowance(course.stern_end);
    spans.push((from, end));
    spans
}

/// The rows of one course, on every side that it has.
pub fn lay_course(job: &Job, id: CourseId, joints: &[S], cuts: &[Cut]) -> Vec<Piece> {
    let course = job.hull.course(id);
    let spans = spans(job, course, joints);
    assert_eq!(spans.len(), cuts.len(), "one cut for each piece");
    let mut rows = Vec::new();
    for (number, (cut, (from, to))) in (1..).zip(cuts.iter().zip(spans)) {
        for &side in course.sides() {
            let own = (cut.strip, cut.at);
            let (strip, at, mate) = match (side, cut.mate) {
                (Side::Starboard, Some(mate)) => (mate.0, mate.1, Some(own.0)),
                (_, mate) => (own.0, own.1, mate.map(|mate| mate.0)),
            };
            let facing = facing(job, id, side, strip, mate, cut.bow_end);
            rows.push(Piece {
                course: id,
                side,
                number,
                strip,
                mate,
                from,
                to,
                cut_from: at,
                cut_to: at + (to - from),
                bow_end: facing.bow_end,
                next_edge: facing.next_edge(side, job.hull.panel_of(id).toward),
                face_out: facing.face_out,
            });
        }
    }
    rows
}

/// The rows of a course in one piece.
pub fn lay_whole(job: &Job, course: usize, cut: Cut) -> Vec<Piece> {
    lay_course(job, CourseId(course), &[], &[cut])
}

/// A plan of these rows: in the order of laying, every course without rows left out.
pub fn complete(job: &Job, mut pieces: Vec<Piece>) -> Plan {
    in_laying_order(&job.hull, &mut pieces);
    let laid = |id: CourseId| pieces.iter().any(|piece| piece.course == id);
    let uncovered = job.hull.courses().map(|(id, _)| id);
    let uncovered = uncovered.filter(|id| !laid(*id)).collect();
    Plan { pieces, uncovered }
}

fn facing(
    job: &Job,
    id: CourseId,
    side: Side,
    strip: StripId,
    mate: Option<StripId>,
    bow_end: BowEnd,
) -> Facing {
    let toward = job.hull.panel_of(id).toward;
    let seq = |strip: StripId| job.stock.strip(strip).origin.map(|origin| origin.seq);
    let in_book = mate.filter(|mate| job.stock.seq_apart(strip, *mate).is_some());
    let fixed = in_book.map(|mate| {
        if seq(strip) < seq(mate) {
            Face::High
        } else {
            Face::Low
        }
    });
    match (job.rules.edges, fixed) {
        (Edges::Square, face) => Facing {
            bow_end,
            face_out: face.unwrap_or(Face::High),
        },
        (Edges::BeadAndCove { next_edge }, None) => {
            Facing::with_edge(bow_end, next_edge, side, toward)
        }
        (Edges::BeadAndCove { next_edge }, Some(face_out)) => {
            let asked = Facing { bow_end, face_out };
            if asked.next_edge(side, toward) == next_edge {
                asked
            } else {
                Facing {
                    bow_end: bow_end.other(),
                    face_out,
                }
            }
        }
    }
}
