//! W of the model: how much what shows at a place counts.

use crate::check::rows::Run;
use crate::hull::{Course, Hull};
use crate::plan::Piece;
use crate::units::{Length, X};

/// W at one place. A show zone contains its edges.
pub(super) fn at(hull: &Hull, course: &Course, x: X) -> f64 {
    let times: f64 = hull
        .show
        .iter()
        .filter(|show| show.zone.covers(course) && show.zone.from <= x && x <= show.zone.to)
        .map(|show| show.times)
        .product();
    hull.panel(course.panel).look * times
}

/// The pieces of two courses that lie beside each other: both, how far they do, and how much it counts what shows
/// between them: the mean of ∫ W dx of the two.
pub(super) fn beside<'a>(
    hull: &Hull,
    upper: &Run<'a>,
    lower: &Run<'a>,
) -> Vec<(&'a Piece, &'a Piece, Length, f64)> {
    let mut all = Vec::new();
    for (p, p_from, p_to) in upper.nominal_on_boat() {
        for (q, q_from, q_to) in lower.nominal_on_boat() {
            let (from, to) = (p_from.max(q_from), p_to.min(q_to));
            if from < to {
                let both = over(hull, upper.course, from, to) + over(hull, lower.course, from, to);
                all.push((p, q, to - from, 0.5 * both));
            }
        }
    }
    all
}

/// ∫ W dx from one place to another, in metres: exact, as W is constant between the edges of zones.
pub(super) fn over(hull: &Hull, course: &Course, from: X, to: X) -> f64 {
    let mut edges = vec![from, to];
    edges.extend(
        hull.show
            .iter()
            .filter(|show| show.zone.covers(course))
            .flat_map(|show| [show.zone.from, show.zone.to])
            .filter(|edge| from < *edge && *edge < to),
    );
    edges.sort();
    edges
        .windows(2)
        .map(|stretch| {
            let length = stretch[1] - stretch[0];
            at(hull, course, stretch[0] + length * 0.5) * length.metres()
        })
        .sum()
}
