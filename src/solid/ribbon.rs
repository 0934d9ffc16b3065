//! A piece as a ribbon: the lines of points along it from edge to edge of its course, on the outside of the skin.

use super::Missing;
use super::edges::{Edges, unit};
use crate::hull::{Course, Kind, Side, Stretch};
use crate::job::Job;
use crate::lines::{CourseEdge, Covers, PanelShape, Point};
use crate::plan::{self, BowEnd, Piece, Plan};
use crate::units::S;

/// From station to station. Unit: millimetre along the boat. Why so short: a chord of it lies within 0.15 mm of a line
/// that bends on a radius of 1.3 m.
const STEP: f64 = 40.0;
/// Stations nearer to each other than this are one. Unit: millimetre.
const ONE: f64 = 0.01;

/// A place on the outside of a piece.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Place {
    /// Where. Unit: millimetre; aft, to starboard, up.
    pub at: Point,
    /// Which way the skin looks there, of length 1.
    pub out: Point,
    /// How far along the strip, from the marked end. Unit: millimetre.
    pub along: f64,
    /// How far across the strip: 0 on edge A, 1 on edge B.
    pub across: f64,
}

/// A piece of the plan where it lies.
#[derive(Clone, PartialEq, Debug)]
pub struct Ribbon {
    /// Which piece of the plan, by its place in the order of laying, from 0.
    pub piece: usize,
    /// From the edge toward the start line to that toward the next course, each from the bow aft; all of one length. A
    /// course on the centreline has a third between the two.
    pub lines: Vec<Vec<Place>>,
}

/// Every piece of a plan.
///
/// Errors: what is not known of a panel or a course that has wood on it.
pub fn ribbons(told: &[PanelShape], job: &Job, plan: &Plan) -> Result<Vec<Ribbon>, Missing> {
    let width = job.rules.width.mm();
    let edges: Vec<Edges> = told
        .iter()
        .filter_map(|told| Edges::of(told, width))
        .collect();
    let mut all = Vec::new();
    for (id, course) in job.hull.courses() {
        let edges = edges.iter().find(|edges| edges.panel() == course.panel);
        let edges = edges.ok_or(Missing::Offsets(course.panel))?;
        let on_skin = OnSkin::of(edges, course).ok_or(Missing::Lines(id))?;
        for side in course.sides() {
            let here = |(_, piece): &(usize, &Piece)| piece.course == id && piece.side == *side;
            let mut pieces: Vec<(usize, &Piece)> =
                plan.pieces.iter().enumerate().filter(here).collect();
            pieces.sort_by_key(|(_, piece)| piece.number);
            let tips = on_skin.tips(job, course, &pieces);
            for ((i, piece), tips) in pieces.iter().zip(tips.windows(2)) {
                all.push(Ribbon {
                    piece: *i,
                    lines: on_skin.lines(job, course, piece, (tips[0], tips[1])),
                });
            }
        }
    }
    Ok(all)
}

/// One end of a piece: where it lies on the edge toward the start line, and on the other. Unit: millimetre along the
/// boat.
type Tip = (f64, f64);

/// A course on the skin.
pub(super) struct OnSkin<'e> {
    edges: &'e Edges<'e>,
    /// Its edge toward the start line.
    start_edge: &'e CourseEdge,
    /// The stretch of the boat that it covers.
    ends: (f64, f64),
    /// The edges that its lines lie on, and on which side each: 1 starboard, -1 port, 0 on the centreline. For
    /// starboard where the course is on both sides.
    lines: Vec<(usize, f64)>,
    /// Whether it is the first course and on the centreline: the next one then lies to port, in whose frame it is laid.
    starts_on_centreline: bool,
}

impl<'e> OnSkin<'e> {
    /// `None` where the course is none that was worked out from the forms.
    pub(super) fn of(edges: &'e Edges<'e>, course: &Course) -> Option<OnSkin<'e>> {
        let (place, band) = edges.band(course.number)?;
        let stretch = match course.stretch {
            Stretch::Whole => 0,
            Stretch::Part(part) => usize::from(part),
        };
        let start_edge = edges.line(place, stretch)?;
        let ends = *band.stretches.get(stretch)?;
        if band.kind != course.kind {
            return None;
        }
        let lines = match (course.kind, band.covers) {
            (Kind::Mirrored, _) => vec![(place, 1.0), (place + 1, 1.0)],
            (Kind::Centre, Covers::Levels(..)) => {
                vec![(place + 1, -1.0), (place, 0.0), (place + 1, 1.0)]
            }
            (Kind::Centre, Covers::LastHalf(_)) => {
                vec![(place, -1.0), (place + 1, 0.0), (place, 1.0)]
            }
        };
        let starts_on_centreline = matches!(
            (course.kind, band.covers),
            (Kind::Centre, Covers::Levels(..))
        );
        Some(OnSkin {
            starts_on_centreline,
            edges,
            start_edge,
            ends,
            lines,
        })
    }

    /// Where a distance from the bow end along the course lies on the boat. The course may be longer or shorter than
    /// its line, where a person has written down another length.
    fn x_at(&self, course: &Course, s: S) -> f64 {
        let part = s.mm() / course.length.mm();
        self.start_edge
            .x_at(part.clamp(0.0, 1.0) * self.start_edge.length())
    }

    /// How far along the course a place of the boat lies. Unit: millimetre from the bow end.
    fn s_at(&self, course: &Course, x: f64) -> f64 {
        self.start_edge.along_at(x) / self.start_edge.length() * course.length.mm()
    }

    /// The ends of the pieces, the foremost first. Scarfs lean, the forward end on the edge toward the start line: so
    /// both sides mirror each other.
    fn tips(&self, job: &Job, course: &Course, pieces: &[(usize, &Piece)]) -> Vec<Tip> {
        let half = job.rules.half_scarf();
        let joints = pieces.windows(2).map(|two| {
            let joint = two[0].1.joint(two[1].1);
            (
                self.x_at(course, joint - half),
                self.x_at(course, joint + half),
            )
        });
        let (bow, stern) = self.ends;
        let mut tips = vec![(bow, bow)];
        tips.extend(joints);
        tips.push((stern, stern));
        tips
    }

    /// The stations between two places along the boat, without the two.
    fn stations(&self, from: f64, to: f64) -> Vec<f64> {
        let first = (from / STEP).ceil() as i64;
        let last = (to / STEP).floor() as i64;
        let mut inside: Vec<f64> = (first..=last).map(|i| i as f64 * STEP).collect();
        inside.extend(self.edges.stations());
        inside.retain(|x| from + ONE < *x && *x < to - ONE);
        inside.sort_by(f64::total_cmp);
        inside.dedup_by(|a, b| *a - *b < ONE);
        inside
    }

    /// The lines of the whole course on a side without any wood, from the bow aft: where they lie, and which way the
    /// skin looks.
    pub(super) fn bare(&self, side: Side) -> Vec<Vec<(Point, Point)>> {
        let (bow, stern) = self.ends;
        let inside = self.stations(bow, stern);
        let stations: Vec<f64> = [bow].into_iter().chain(inside).chain([stern]).collect();
        let line = |line: &(usize, f64)| {
            let place = |x: &f64| self.skin(*line, side, *x);
            stations.iter().map(place).collect()
        };
        self.lines.iter().map(line).collect()
    }

    /// Where a line lies on a side of the boat, and which way the skin looks there.
    fn skin(&self, (edge, own): (usize, f64), side: Side, x: f64) -> (Point, Point) {
        // Of a course on both sides the lines are those of starboard.
        let own = if side == Side::Port { -own } else { own };
        let onto = |[x, y, z]: Point| [x, own * y, z];
        let out = unit(onto(self.edges.outward(edge, x)));
        (
            onto(self.edges.at(edge, x)),
            out.unwrap_or([0.0, 0.0, -1.0]),
        )
    }

    fn lines(
        &self,
        job: &Job,
        course: &Course,
        piece: &Piece,
        ends: (Tip, Tip),
    ) -> Vec<Vec<Place>> {
        let (fore, aft) = ends;
        let inside = self.stations(fore.0.max(fore.1), aft.0.min(aft.1));
        let last_line = self.lines.len() - 1;
        self.lines
            .iter()
            .enumerate()
            .map(|(n, line)| {
                let part = n as f64 / last_line as f64;
                let tip = |tip: Tip| tip.0 + (tip.1 - tip.0) * part;
                let stations = [tip(fore)].into_iter();
                let stations = stations.chain(inside.iter().copied()).chain([tip(aft)]);
                stations
                    .map(|x| self.place(job, course, piece, *line, part, x))
                    .collect()
            })
            .collect()
    }

    fn place(
        &self,
        job: &Job,
        course: &Course,
        piece: &Piece,
        line: (usize, f64),
        part: f64,
        x: f64,
    ) -> Place {
        let (at, out) = self.skin(line, piece.side, x);
        let aft = self.s_at(course, x) - piece.from.mm();
        let along = match piece.bow_end {
            BowEnd::Mark => piece.cut_from.mm() + aft,
            BowEnd::Plain => piece.cut_to.mm() - aft,
        };
        // The lines of a centre course run from port to starboard.
        let across = match (piece.next_edge, self.starts_on_centreline) {
            (plan::Edge::A, false) | (plan::Edge::B, true) => 1.0 - part,
            (plan::Edge::B, false) | (plan::Edge::A, true) => part,
        };
        Place {
            at,
            out,
            along: along.clamp(0.0, job.stock.strip(piece.strip).length.mm()),
            across,
        }
    }
}
