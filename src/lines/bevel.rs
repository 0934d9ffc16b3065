//! The turn from one course to the next, and what it does to a joint between two edges.

use super::Curve;
use super::curve::{Point, dot, length, sub};
use crate::hull::Toward;

/// Athwart the boat, outboard: how a course on the centreline lies.
pub(super) const OUTBOARD: Point = [0.0, 1.0, 0.0];
/// The same inboard.
pub(super) const INBOARD: Point = [0.0, -1.0, 0.0];

/// How far the section turns from the strip before a seam to the strip after it: positive where the skin bulges
/// outward, negative where it is hollow. `None` where there is no strip on one side.
///
/// Unit: degree. The strips are flat: each lies along the straight line from the seam to where the section is as far
/// away as the strip is wide, so on a circle of radius R the turn of strips of width w is 2·asin(w/2R).
pub fn bevel(section: &Curve, seam: f64, before: f64, after: f64, toward: Toward) -> Option<f64> {
    let one = chord(section, seam, before, Way::Back)?;
    let other = chord(section, seam, after, Way::On)?;
    turn(one, other, toward)
}

/// Which way from the seam.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// Toward the start line.
    Back,
    /// Toward the stop line.
    On,
}

/// The line, in the direction from start line to stop line, of a flat strip that meets the section at a seam and where
/// it is `width` away; or at the section's end, where that is nearer.
pub(super) fn chord(section: &Curve, seam: f64, width: f64, way: Way) -> Option<Point> {
    let at = section.at(seam);
    let apart = |along: f64| length(sub(section.at(along), at));
    let sign = match way {
        Way::Back => -1.0,
        Way::On => 1.0,
    };
    // A chord is shorter than its arc, though on no skin that can be planked by half.
    let (mut near, mut far) = (width, 2.0 * width);
    for _ in 0..60 {
        let middle = 0.5 * (near + far);
        if apart(seam + sign * middle) < width {
            near = middle;
        } else {
            far = middle;
        }
    }
    let other = section.at(seam + sign * near);
    let chord = match way {
        Way::Back => sub(at, other),
        Way::On => sub(other, at),
    };
    (length(chord) > 0.0).then_some(chord)
}

/// The angle between two directions in the plane of a section. Unit: degree.
pub(super) fn turn(one: Point, other: Point, toward: Toward) -> Option<f64> {
    // Toward the keel outward is to the left of the way down, toward the deck it is to the right of the way up.
    let outward = match toward {
        Toward::Keel => -1.0,
        Toward::Deck => 1.0,
    };
    let across = one[1] * other[2] - one[2] * other[1];
    let degrees = (outward * across).atan2(dot(one, other)).to_degrees();
    degrees.is_finite().then_some(degrees)
}

/// The radius on which strips of a width turn so far from one to the next. Unit: that of the width; infinite where they
/// don't turn.
pub fn radius(width: f64, bevel: f64) -> f64 {
    0.5 * width / (0.5 * bevel.abs().to_radians()).sin()
}

/// How far a joint between edges that are left as they were milled stands open on the side where it opens.
///
/// Square edges meet at their inner corners and gape by 2·t·sin(half the bevel) at the outer ones. A bead in its cove
/// turns on its own centre, and the lip of the cove is lifted off the round by r·(1 − cos) of the bevel, r being half
/// the thickness. Plain geometry of ideal edges; no source. Unit: that of the thickness.
pub fn gape(edges: crate::plan::Edges, thickness: f64, bevel: f64) -> f64 {
    let bevel = bevel.abs().to_radians();
    match edges {
        crate::plan::Edges::Square => 2.0 * thickness * (0.5 * bevel).sin(),
        crate::plan::Edges::BeadAndCove { .. } => 0.5 * thickness * (1.0 - bevel.cos()),
    }
}
