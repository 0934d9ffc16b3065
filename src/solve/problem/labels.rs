//! What is written on the wood already: the pieces of the earlier plan, as the labels on the wood have them.
//!
//! Source: model, "Moved".

use super::{NONE, Span};
use crate::hull::{CourseId, Side};
use crate::job::Job;
use crate::plan::{BowEnd, Edges, Face, Facing, Piece};

/// The labels of a piece.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Label {
    /// The part, from 0 at the bow.
    pub index: usize,
    /// Port or centre 0, starboard 1.
    pub side: usize,
    /// The strip.
    pub strip: u32,
    /// On the skin.
    pub ends: Span,
    /// On the strip.
    pub cut: Span,
    /// The end to the bow.
    pub bow: BowEnd,
    /// The face that is seen.
    pub face: Face,
    /// The face that it must show beside no mate of its board; `None` where either will do.
    pub alone: Option<Face>,
}

/// The labels of the earlier plan, by course.
#[derive(Clone, Debug, Default)]
pub struct Labels {
    rows: Vec<Vec<Label>>,
}

impl Labels {
    /// The labels of a job's earlier plan; none where there was none.
    pub fn of(job: &Job) -> Labels {
        let Some(earlier) = &job.earlier else {
            return Labels::default();
        };
        let mut rows = vec![Vec::new(); job.hull.courses.len()];
        for piece in &earlier.pieces {
            rows[piece.course.0].extend(label(job, piece));
        }
        Labels { rows }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The wood that lay on a course, port first.
    pub fn wood(&self, row: usize) -> impl Iterator<Item = [u32; 2]> {
        let labels = self.of_row(row);
        let port = labels.iter().filter(|label| label.side == 0);
        port.map(|port| {
            let mate = |label: &&Label| (label.index, label.side) == (port.index, 1);
            [
                port.strip,
                labels.iter().find(mate).map_or(NONE, |label| label.strip),
            ]
        })
    }

    /// The labels of a course.
    pub fn of_row(&self, row: usize) -> &[Label] {
        self.rows.get(row).map_or(&[], Vec::as_slice)
    }
}

/// The labels of a piece; none where its edges lie as no plan for this job has them.
fn label(job: &Job, piece: &Piece) -> Option<Label> {
    let course = job.hull.course(piece.course);
    let toward = job.hull.panel_of(piece.course).toward;
    let facing = Facing {
        bow_end: piece.bow_end,
        face_out: piece.face_out,
    };
    let lies = course.sides().contains(&piece.side)
        && piece.strip.0 < job.stock.strips.len()
        && facing.next_edge(piece.side, toward) == piece.next_edge;
    lies.then(|| Label {
        index: (piece.number as usize).wrapping_sub(1),
        side: usize::from(piece.side == Side::Starboard),
        strip: piece.strip.0 as u32,
        ends: (piece.from.from_origin(), piece.to.from_origin()),
        cut: (piece.cut_from.from_origin(), piece.cut_to.from_origin()),
        bow: piece.bow_end,
        face: piece.face_out,
        alone: alone(job, piece.course, piece.side, piece.bow_end),
    })
}

/// The face that a piece must show which has no mate of its own board, as the edges ask for; `None` where they are
/// square and either will do.
pub fn alone(job: &Job, course: CourseId, side: Side, bow_end: BowEnd) -> Option<Face> {
    match job.rules.edges {
        Edges::Square => None,
        Edges::BeadAndCove { next_edge } => {
            let toward = job.hull.panel_of(course).toward;
            Some(Facing::with_edge(bow_end, next_edge, side, toward).face_out)
        }
    }
}
