//! Photographs of the wood on the picture of the wood: all of them as one picture of the hull, seen only where they
//! were taken.

use super::pieces::Tip;
use super::scene::Point;
use super::skin::{Edge, Half, Skin};
use super::wood::{self, OnSkin, Paper};
use crate::hull::{Kind, Toward};
use crate::job::Job;
use crate::plan::{self, BowEnd, Face, Piece, Plan};
use crate::stock::StripId;
use crate::units::{U, X};
use std::collections::BTreeMap;

/// A piece of which no more than this is not photographed is photographed whole: nothing is measured at the ends of a
/// strip. Unit: millimetre, both ends together.
const ENDS: f64 = 25.0;

/// From where to where the faces of strips were photographed, from the marked end.
pub type Seen = BTreeMap<(StripId, Face), Vec<(U, U)>>;

/// Photographs of the wood of a plan.
#[derive(Clone, PartialEq, Debug)]
pub struct Photographs {
    /// Which stretches they show.
    pub seen: Seen,
    /// The hull with them in place, as a JPEG: its pixels are those of [`painted()`].
    pub jpeg: Vec<u8>,
}

impl Photographs {
    /// Says how many pieces are photographed, and how many are drawn.
    pub fn told(&self, plan: &Plan) -> String {
        let [mut whole, mut part, mut drawn] = [0, 0, 0];
        for piece in &plan.pieces {
            let long = (piece.cut_to - piece.cut_from).mm();
            let seen = self.seen_of(piece);
            *match seen {
                seen if seen >= long - ENDS => &mut whole,
                seen if seen > 0.0 => &mut part,
                _ => &mut drawn,
            } += 1;
        }
        format!(
            "Of {} pieces {whole} are photographed whole, and {part} in part, {drawn} not at all; what no photograph \
             shows is drawn.",
            plan.pieces.len()
        )
    }

    /// How much of a piece was photographed. Unit: millimetre.
    fn seen_of(&self, piece: &Piece) -> f64 {
        let mut all = self.on(piece).to_vec();
        all.sort();
        let (mut sum, mut done) = (0.0, piece.cut_from);
        for (from, to) in all {
            let (from, to) = (from.max(done), to.min(piece.cut_to));
            if to > from {
                sum += (to - from).mm();
                done = to;
            }
        }
        sum
    }

    fn on(&self, piece: &Piece) -> &[(U, U)] {
        self.seen
            .get(&(piece.strip, piece.face_out))
            .map_or(&[], Vec::as_slice)
    }
}

/// The outlines of what was photographed of a piece.
pub(super) fn seen(
    on: &OnSkin<'_>,
    job: &Job,
    piece: &Piece,
    (fore, aft): (Tip, Tip),
    photographs: &Photographs,
) -> Vec<Vec<Point>> {
    let course = job.hull.course(piece.course);
    let x = |u: U| {
        let aft = match piece.bow_end {
            BowEnd::Mark => u - piece.cut_from,
            BowEnd::Plain => piece.cut_to - u,
        };
        course.x_at(piece.from + aft).mm()
    };
    let stretches = photographs.on(piece).iter().filter_map(|(from, to)| {
        let (one, other) = (x(*from), x(*to));
        let (first, last) = (one.min(other), one.max(other));
        let (fore, aft) = (
            (fore.0.max(first), fore.1.max(first)),
            (aft.0.min(last), aft.1.min(last)),
        );
        (fore.0 < aft.0 && fore.1 < aft.1).then(|| on.corners((fore, aft)))
    });
    stretches.collect()
}

/// How many pixels the hull is high in the picture of the wood, where it is so many wide.
pub fn pixels_high(job: &Job, wide: u32) -> u32 {
    let hull = wood::hull(job);
    ((hull.h / hull.w * f64::from(wide)).round() as u32).max(1)
}

/// Calls with each pixel of the hull in the picture of the wood that lies on a piece: where it is, the piece, how far
/// along its strip from the marked end (in millimetres), and how far across from edge A, 0, to edge B, 1.
pub fn painted(
    job: &Job,
    plan: &Plan,
    wide: u32,
    mut paint: impl FnMut((u32, u32), &Piece, f64, f64),
) {
    let skin = Skin::of(job);
    let paper = Paper::of(&skin);
    let hull = wood::hull(job);
    let size = hull.w / f64::from(wide);
    let high = pixels_high(job, wide);
    let place = |column: u32, row: u32| {
        let at = |n: u32| (f64::from(n) + 0.5) * size;
        paper.place((hull.x + at(column), hull.y + at(row)))
    };
    // The pixels between two places, along or across.
    let (left, top) = place(0, 0);
    let (next, _) = place(1, 0);
    let step = next - left;
    let between = |from: f64, to: f64, first: f64, most: u32| {
        let n = |at: f64| ((at - first) / step).ceil().clamp(0.0, f64::from(most)) as u32;
        n(from)..n(to)
    };
    wood::lying(job, plan, &skin, &paper, |on, piece, (fore, aft)| {
        let course = job.hull.course(piece.course);
        let (a, b) = edges(job, piece, on.half);
        for column in between(fore.0.min(fore.1), aft.0.max(aft.1), left, wide) {
            let (x, _) = place(column, 0);
            let u = piece.u_at(course.s_at(X::from_mm(x))).mm();
            let (near, far) = (on.offset(Edge::Near, x), on.offset(Edge::Far, x));
            for row in between(near.min(far), near.max(far), top, high) {
                let (_, y) = place(column, row);
                let part = (y - near) / (far - near);
                let tip = |(far, near): Tip| near + (far - near) * part;
                if (tip(fore)..=tip(aft)).contains(&x) {
                    paint((column, row), piece, u, a + (b - a) * part);
                }
            }
        }
    });
}

/// Which part of the strip, from edge A, 0, to edge B, 1, lies at the near edge of a course, and which at the far one.
///
/// On a side the next course lies toward the keel or away from it. A centre course takes the frame of port. On the keel
/// its next course lies to starboard where the panel is laid toward the keel, on the deck the other way round. There it
/// is drawn in halves: each has one of its edges and its middle.
pub(super) fn edges(job: &Job, piece: &Piece, half: Half) -> (f64, f64) {
    let course = job.hull.course(piece.course);
    let toward_keel = job.hull.panel(course.panel).toward == Toward::Keel;
    let next_is_a = piece.next_edge == plan::Edge::A;
    let on_keel = half == Half::Astride;
    let turned = (toward_keel == next_is_a) == on_keel;
    let (near, far) = match (course.kind, half) {
        (Kind::Centre, Half::Port) => (0.0, 0.5),
        (Kind::Centre, Half::Starboard) => (1.0, 0.5),
        _ => (0.0, 1.0),
    };
    if turned {
        (1.0 - near, 1.0 - far)
    } else {
        (near, far)
    }
}
