//! The directions in which a curve passes through its points, so that it turns only where they turn.
//!
//! Between two points a fair curve has some curvature. What it turns on one side of a point is to what it turns on the
//! other as curvature times length is. The curvature of a span is taken as the weighted harmonic mean of the bends at
//! its two points, and as none where they bend to opposite sides. So a span beside a straight run leaves it straight,
//! and the turn falls to the other side.
//!
//! Sources: letting straight neighbours decide is from H. Akima, "A New Method of Interpolation and Smooth Curve
//! Fitting Based on Local Procedures", J. ACM 17 (1970). The harmonic mean is from F. N. Fritsch and J. Butland, "A
//! Method for Constructing Local Monotone Piecewise Cubic Interpolants", SIAM J. Sci. Stat. Comput. 5 (1984), here of
//! curvatures in place of slopes. The weights, 1 to 2, make the directions exact to the third order of the distance
//! between points; on a circle they are exact.

use super::curve::{Point, add, dot, length, sub, times, unit};

/// How a curve begins or ends.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Rim {
    /// Nothing is known beyond: it goes on bending as it did.
    Free,
    /// On the centreplane, beyond which its mirror image goes on without a corner.
    Mirrored,
}

/// A turn from chord to chord as small as this leaves an extreme value where a circle has it. From the larger one on,
/// points are too far apart to tell, and it lies at the point. Unit: degree. Nine points to a quadrant turn by 11.25.
const DENSE: f64 = 12.0;
const SPARSE: f64 = 18.0;

/// The direction at each of at least two points, no two neighbours of which are one.
///
/// Each lies between those of the chords that meet in its point. So the curve has no hollow where the points make none,
/// and no coordinate of it has an extreme value in a span unless the points have one at an end of that span.
pub(super) fn ways(points: &[Point], rims: [Rim; 2]) -> Vec<Point> {
    let chords: Vec<Point> = points
        .windows(2)
        .map(|pair| sub(pair[1], pair[0]))
        .collect();
    let last = chords.len() - 1;
    let bends = bends(&chords, rims);
    let inner = |i: usize| {
        let (before, after) = (chords[i - 1], chords[i]);
        let (one, other) = (unit(before), unit(after));
        let left = curvature(bends[i - 1], bends[i]) * length(before);
        let right = curvature(bends[i + 1], bends[i]) * length(after);
        let part = if left + right > 0.0 {
            left / (left + right)
        } else {
            length(before) / (length(before) + length(after))
        };
        extreme(between(one, other, part), one, other)
    };
    let mut ways = vec![unit(chords[0])];
    ways.extend((1..=last).map(inner));
    ways.push(unit(chords[last]));
    // The mirrored end first: of a single span it decides the other.
    let (start, end) = (ways[1], ways[last]);
    for (rim, at, chord, near) in [
        (rims[0], 0, chords[0], start),
        (rims[1], last + 1, chords[last], end),
    ] {
        if rim == Rim::Mirrored && chord[1] != 0.0 {
            let athwart = [0.0, chord[1].signum(), 0.0];
            ways[at] = athwart;
            if last == 0 && rims != [Rim::Mirrored; 2] {
                ways[1 - at] = onward(unit(chord), athwart);
            }
        } else if last > 0 {
            ways[at] = onward(unit(chord), near);
        }
    }
    ways
}

/// How much, and to which side, the chords bend at each point: the change of direction for each mm.
fn bends(chords: &[Point], rims: [Rim; 2]) -> Vec<Point> {
    let bend = |before: Point, after: Point| {
        let apart = 0.5 * (length(before) + length(after));
        times(sub(unit(after), unit(before)), 1.0 / apart)
    };
    let mirrored = |chord: Point| [chord[0], chord[1], -chord[2]];
    let (first, last) = (chords[0], chords[chords.len() - 1]);
    let mut bends = vec![[0.0; 3]; chords.len() + 1];
    for (i, pair) in chords.windows(2).enumerate() {
        bends[i + 1] = bend(pair[0], pair[1]);
    }
    let n = chords.len();
    bends[0] = match rims[0] {
        Rim::Mirrored if first[1] != 0.0 => bend(mirrored(first), first),
        _ => at_free_end(bends[1.min(n - 1)], first, -1.0),
    };
    bends[n] = match rims[1] {
        Rim::Mirrored if last[1] != 0.0 => bend(last, mirrored(last)),
        _ => at_free_end(bends[n - 1], last, 1.0),
    };
    bends
}

/// The bend at an end beyond which nothing is known: that at the next point, but so that the last span has no extreme
/// value that no point has.
fn at_free_end(bend: Point, chord: Point, way: f64) -> Point {
    let long = length(chord);
    let along = unit(chord);
    let across = sub(bend, times(along, dot(bend, along)));
    let most = length(across);
    if most * long < 1e-12 {
        return [0.0; 3];
    }
    let side = times(across, way / most);
    let free = 0.5 * long * length(bend);
    let turns = (0..3)
        .filter(|&k| side[k].abs() > 1e-9 && along[k] * side[k] <= 0.0)
        .map(|k| (k, along[k].abs().atan2(side[k].abs()).min(free)))
        .map(|(k, held)| held + kept(k, 2.0 * free) * (free - held))
        .fold(free, f64::min);
    times(bend, turns / free)
}

/// How much of an extreme value between points is left where the chords turn by so much (unit: radian): all where
/// points are dense, nothing where they are sparse.
fn between_points(turn: f64) -> f64 {
    let part = ((turn.to_degrees() - DENSE) / (SPARSE - DENSE)).clamp(0.0, 1.0);
    1.0 - part * part * (3.0 - 2.0 * part)
}

/// The same in the last span before a free end, by coordinate. Nothing of a height: no skin sinks below its keel.
fn kept(coordinate: usize, turn: f64) -> f64 {
    match coordinate {
        2 => 0.0,
        _ => between_points(turn),
    }
}

/// The curvature of a span beside a point, from the bends at its far end and at the point.
fn curvature(far: Point, near: Point) -> f64 {
    if dot(far, near) > 0.0 {
        3.0 / (1.0 / length(far) + 2.0 / length(near))
    } else {
        0.0
    }
}

/// The direction that lies a part of the way from one to another.
fn between(one: Point, other: Point, part: f64) -> Point {
    let turn = dot(one, other).clamp(-1.0, 1.0).acos();
    let sum = add(
        times(one, ((1.0 - part) * turn).sin()),
        times(other, (part * turn).sin()),
    );
    if length(sum) > 1e-9 { unit(sum) } else { one }
}

/// A direction at a point that has the greatest or least value of a coordinate among its neighbours: where points are
/// sparse the curve has it there too.
fn extreme(way: Point, one: Point, other: Point) -> Point {
    let kept = between_points(dot(one, other).clamp(-1.0, 1.0).acos());
    let level = std::array::from_fn(|k| {
        let turns = one[k] * other[k] <= 0.0;
        if turns { kept * way[k] } else { way[k] }
    });
    // Where the points double back nothing might be left.
    if length(level) > 0.1 {
        unit(level)
    } else {
        way
    }
}

/// The direction at the far end of a span that goes round evenly from a direction at its near end, but no farther than
/// to an extreme value.
fn onward(chord: Point, near: Point) -> Point {
    let round = sub(times(chord, 2.0 * dot(chord, near)), near);
    let turn = 2.0 * dot(chord, near).clamp(-1.0, 1.0).acos();
    let held = std::array::from_fn(|k| {
        if round[k] * chord[k] <= 0.0 {
            kept(k, turn) * round[k]
        } else {
            round[k]
        }
    });
    if length(held) > 0.0 {
        unit(held)
    } else {
        chord
    }
}

/// How far the handles of a span's cubic reach from its two ends: as on a circle, but not past where the two directions
/// meet, so that it bends to one side only. Source: G. Farin, Curves and Surfaces for CAGD (a Bézier curve turns no
/// more often than its polygon). Unit: mm.
pub(super) fn handles(chord: Point, from: Point, to: Point) -> [f64; 2] {
    let (long, along) = (length(chord), unit(chord));
    let turn = |way: Point| {
        let across = sub(way, times(along, dot(way, along)));
        (length(across).atan2(dot(way, along)), across)
    };
    let ((one, near), (other, far)) = (turn(from), turn(to));
    // On a circle the angle to the chord is the same at both ends, and this goes round it evenly.
    let even = 0.5 * (one.cos() + other.cos());
    let round = 2.0 * long / (3.0 * (1.0 + even.max(-0.5)));
    let meet = (one + other).sin();
    if dot(near, far) < 0.0 && meet > 1e-9 {
        [other, one].map(|angle| round.min(long * angle.sin() / meet))
    } else {
        [round; 2]
    }
}
