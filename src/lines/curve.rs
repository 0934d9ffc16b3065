//! A smooth curve in space through measured points, and distances along it.

/// A point or a direction. Unit: mm: aft of the bow, out from the centreplane, up.
pub type Point = [f64; 3];

/// A curve through points: from each to the next a cubic that leaves and arrives in the direction of the circle through
/// the points around.
///
/// A circle comes out as a circle (to the sixth power of the turn from point to point), a straight line as a straight
/// line. There are no knuckles: where the skin has one, one panel ends and the next begins.
#[derive(Clone, PartialEq, Debug)]
pub struct Curve {
    points: Vec<Point>,
    /// Direction and speed at the beginning and the end of each span.
    speeds: Vec<[Point; 2]>,
    /// Distance along the curve from its first point to each of its points.
    along: Vec<f64>,
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
        let mut points: Vec<Point> = Vec::with_capacity(all.len());
        for point in all {
            if points
                .last()
                .is_none_or(|last| length(sub(*point, *last)) > ONE)
            {
                points.push(*point);
            }
        }
        let speeds = speeds(&points);
        let mut curve = Curve {
            points,
            speeds,
            along: vec![0.0],
        };
        for span in 0..curve.speeds.len() {
            let so_far = curve.along[span];
            curve.along.push(so_far + curve.span_length(span, 1.0));
        }
        curve
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
        // The speed hardly changes along a span: Newton's steps settle in a few.
        let mut t = into / whole;
        for _ in 0..20 {
            let step = (into - self.span_length(span, t)) / length(self.speed(span, t)).max(ONE);
            t = (t + step).clamp(0.0, 1.0);
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

fn speeds(points: &[Point]) -> Vec<[Point; 2]> {
    let chords: Vec<Point> = points
        .windows(2)
        .map(|pair| sub(pair[1], pair[0]))
        .collect();
    let ways: Vec<Point> = (0..points.len()).map(|i| way(&chords, i)).collect();
    chords
        .iter()
        .zip(ways.windows(2))
        .map(|(chord, ways)| {
            let long = length(*chord);
            let straight = |way: Point| dot(way, *chord) / long;
            // On a circle cos of the angle to the chord is the same at both ends, and this is the speed that goes
            // round it evenly.
            let cos = 0.5 * (straight(ways[0]) + straight(ways[1]));
            let speed = 2.0 * long / (1.0 + cos.max(-0.5));
            [times(ways[0], speed), times(ways[1], speed)]
        })
        .collect()
}

/// The direction of the curve at a point: that of the circle through it and its two neighbours; at an end, that of the
/// circle which arrives at its neighbour in the neighbour's direction.
fn way(chords: &[Point], i: usize) -> Point {
    let inner = |i: usize| {
        let (one, other) = (chords[i - 1], chords[i]);
        let way = add(
            times(one, 1.0 / dot(one, one)),
            times(other, 1.0 / dot(other, other)),
        );
        if length(way) > 0.0 {
            unit(way)
        } else {
            unit(one)
        }
    };
    let reflected = |chord: Point, way: Point| {
        let chord = unit(chord);
        sub(times(chord, 2.0 * dot(chord, way)), way)
    };
    match (chords.len(), i) {
        (0, _) => [0.0; 3],
        (1, _) => unit(chords[0]),
        (_, 0) => reflected(chords[0], inner(1)),
        (n, i) if i == n => reflected(chords[n - 1], inner(n - 1)),
        _ => inner(i),
    }
}

pub(super) fn add(a: Point, b: Point) -> Point {
    std::array::from_fn(|i| a[i] + b[i])
}

pub(super) fn sub(a: Point, b: Point) -> Point {
    std::array::from_fn(|i| a[i] - b[i])
}

pub(super) fn times(a: Point, by: f64) -> Point {
    a.map(|x| x * by)
}

pub(super) fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn length(a: Point) -> f64 {
    dot(a, a).sqrt()
}

fn unit(a: Point) -> Point {
    times(a, 1.0 / length(a))
}
