//! W of the model: how much what shows at a place counts.

use crate::hull::{Course, Hull};
use crate::units::X;

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
