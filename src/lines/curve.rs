//! A smooth curve in space through measured points, and distances along it.

use super::ways::{Rim, handles, ways};

/// A point or a direction. Unit: mm: aft of the bow, out from the centreplane, up.
pub type Point = [f64; 3];

/// A curve through points: from each to the next a cubic, in directions that make it turn only where the points turn.
///
/// Straight runs stay straight, a circle comes out as a circle (to the sixth power of the turn from point to point),
/// and where the points bend to one side only, so does the curve. Directions and their source: `ways`.
#[derive(Clone, PartialEq, Debug)]
pub struct Curve {
    points: Vec<Point>,
    /// Direction and speed at the beginning and the end of each span.
    speeds: Vec<[Point; 2]>,
    /// Distance along the curve from its first point to each of its points.
    along: Vec<f64>,
}

/// How the skin goes through a point of a section.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Bend {
    /// Without a corner.
    #[default]
    Smooth,
    /// With one: a chine, a rabbet, the edge of a flat keel.
    Knuckle,
}

/// Points nearer to each other than this are one. Unit: mm.
const ONE: f64 = 1e-9;

/// Places and weights of Gauss's rule with five points, on 0 to 1. Source: M. Abramowitz, I. A. Stegun, Handbook of
/// Mathematical Functions, table 25.4; the lower half follows by symmetry.
const GAUSS: [(f64, f64); 5] = [
    (0.046_910_077_030_668, 0.118_463_442_528_095),
    (0.230_765_344_947_158_5, 0.239_314_335_249_683_2),
    (0.5, 0.284_444_444_444_444_4),
    (0.769_234_655_052_841_5, 0.239_314_335_249_683_2),
    (0.953_089_922_969_332, 0.118_463_442_528_095),
];
/// Into how many parts a span is cut for its length. Four leave an error far below a nanometre on any skin.
const PARTS: usize = 4;

impl Curve {
    /// The curve through points, at least one.
    pub fn through(all: &[Point]) -> Curve {
        let mut curve = Curve::begun(all);
        curve.run(all, [Rim::Free; 2]);
        curve
    }

    /// The section of a skin through points in one athwartships plane, at least one, broken at its knuckles. Where it
    /// ends on the centreplane without a knuckle it meets its mirror image smoothly.
    pub fn section(all: &[(Point, Bend)]) -> Curve {
        let points: Vec<Point> = all.iter().map(|(point, _)| *point).collect();
        let rim = |i: usize| match all[i] {
            (point, Bend::Smooth) if point[1].abs() < ONE => Rim::Mirrored,
            _ => Rim::Free,
        };
        let mut curve = Curve::begun(&points);
        let last = points.len() - 1;
        let mut from = 0;
        for to in 1..=last {
            if all[to].1 == Bend::Knuckle || to == last {
                let start = if from == 0 { rim(0) } else { Rim::Free };
                let end = if to == last { rim(last) } else { Rim::Free };
                curve.run(&points[from..=to], [start, end]);
                from = to;
            }
        }
        curve
    }

    fn begun(all: &[Point]) -> Curve {
        Curve {
            points: all.first().copied().into_iter().collect(),
            speeds: Vec::new(),
            along: vec![0.0],
        }
    }

    /// Goes on from the last point, the first of these, smoothly through the others.
    fn run(&mut self, all: &[Point], rims: [Rim; 2]) {
        let mut points: Vec<Point> = Vec::with_capacity(all.len());
        for point in all {
            if points
                .last()
                .is_none_or(|last| length(sub(*point, *last)) > ONE)
            {
                points.push(*point);
            }
        }
        if points.len() < 2 {
            return;
        }
        let ways = ways(&points, rims);
        for (pair, ways) in points.windows(2).zip(ways.windows(2)) {
            let handles = handles(sub(pair[1], pair[0]), ways[0], ways[1]);
            self.points.push(pair[1]);
            self.speeds.push([
                times(ways[0], 3.0 * handles[0]),
                times(ways[1], 3.0 * handles[1]),
            ]);
            let span = self.speeds.len() - 1;
            let so_far = self.along[span];
            self.along.push(so_far + self.span_length(span, 1.0));
        }
    }

    /// Its length.
    pub fn length(&self) -> f64 {
        self.along[self.along.len() - 1]
    }

    /// The point at a distance from the first; beyond the ends, the end.
    pub fn at(&self, along: f64) -> Point {
        match self.place(along) {
            Some((span, t)) => self.in_span(span, t),
            None if along <= 0.0 => self.points[0],
            None => self.points[self.points.len() - 1],
        }
    }

    /// Points at equal distances from end to end, with so many parts between them.
    pub fn walked(&self, parts: u32) -> Vec<Point> {
        let point = |i: u32| self.at(self.length() * f64::from(i) / f64::from(parts));
        (0..=parts).map(point).collect()
    }

    /// How far along the curve a station lies, which is to be crossed once; beyond the ends, the end.
    pub fn along_at(&self, x: f64) -> f64 {
        let after = self.points.partition_point(|point| point[0] <= x);
        if after == 0 {
            return 0.0;
        }
        if after == self.points.len() {
            return self.length();
        }
        let span = after - 1;
        let t = halve(|t| self.in_span(span, t)[0] <= x);
        self.along[span] + self.span_length(span, t)
    }

    /// The span in which a distance lies, and how far into it.
    fn place(&self, along: f64) -> Option<(usize, f64)> {
        let after = self.along.partition_point(|so_far| *so_far <= along);
        if after == 0 || after == self.along.len() {
            return None;
        }
        let span = after - 1;
        let into = along - self.along[span];
        let whole = self.along[after] - self.along[span];
        // Newton's steps settle in a few; where one leads out of what is left, that is halved instead.
        let (mut low, mut high) = (0.0, 1.0);
        let mut t = into / whole;
        for _ in 0..60 {
            let missing = into - self.span_length(span, t);
            if missing > 0.0 {
                low = t;
            } else {
                high = t;
            }
            let next = t + missing / length(self.speed(span, t)).max(ONE);
            let next = if low <= next && next <= high {
                next
            } else {
                0.5 * (low + high)
            };
            let step = next - t;
            t = next;
            if step.abs() < 1e-14 {
                break;
            }
        }
        Some((span, t))
    }

    fn in_span(&self, span: usize, t: f64) -> Point {
        let (p, q) = (self.points[span], self.points[span + 1]);
        let [v, w] = self.speeds[span];
        let (tt, ttt) = (t * t, t * t * t);
        std::array::from_fn(|i| {
            p[i] * (2.0 * ttt - 3.0 * tt + 1.0)
                + v[i] * (ttt - 2.0 * tt + t)
                + q[i] * (3.0 * tt - 2.0 * ttt)
                + w[i] * (ttt - tt)
        })
    }

    fn speed(&self, span: usize, t: f64) -> Point {
        let (p, q) = (self.points[span], self.points[span + 1]);
        let [v, w] = self.speeds[span];
        let tt = t * t;
        std::array::from_fn(|i| {
            (q[i] - p[i]) * 6.0 * (t - tt)
                + v[i] * (3.0 * tt - 4.0 * t + 1.0)
                + w[i] * (3.0 * tt - 2.0 * t)
        })
    }

    fn span_length(&self, span: usize, to: f64) -> f64 {
        let part = to / PARTS as f64;
        (0..PARTS)
            .flat_map(|i| GAUSS.map(|(at, weight)| (part * (i as f64 + at), weight)))
            .map(|(t, weight)| weight * part * length(self.speed(span, t)))
            .sum()
    }
}

/// The largest t from 0 to 1 for which something still holds that holds at 0 and stops once.
fn halve(holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

pub(super) fn add(a: Point, b: Point) -> Point {
    std::array::from_fn(|i| a[i] + b[i])
}

pub(crate) fn sub(a: Point, b: Point) -> Point {
    std::array::from_fn(|i| a[i] - b[i])
}

pub(super) fn times(a: Point, by: f64) -> Point {
    a.map(|x| x * by)
}

pub(crate) fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn length(a: Point) -> f64 {
    dot(a, a).sqrt()
}

pub(super) fn unit(a: Point) -> Point {
    times(a, 1.0 / length(a))
}
