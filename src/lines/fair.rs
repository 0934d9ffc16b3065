//! A curve through measured values that never goes beyond them.

/// A piecewise cubic through points, which rises only where the points rise and falls only where they fall: between two
/// forms the girth is never more, nor less, than at both of them.
///
/// Source: F. N. Fritsch, R. E. Carlson, "Monotone Piecewise Cubic Interpolation", SIAM J. Numer. Anal. 17 (1980), with
/// slopes from the parabola through three points and the limit of section 4, region S2 (the circle of radius 3).
#[derive(Clone, PartialEq, Debug)]
pub struct Fair {
    x: Vec<f64>,
    y: Vec<f64>,
    slope: Vec<f64>,
}

impl Fair {
    /// The curve through points whose x grows from each to the next.
    pub fn through(points: &[(f64, f64)]) -> Fair {
        let x: Vec<f64> = points.iter().map(|point| point.0).collect();
        let y: Vec<f64> = points.iter().map(|point| point.1).collect();
        let slope = slopes(&x, &y);
        Fair { x, y, slope }
    }

    /// The value at a place; beyond the ends, the value at the end.
    pub fn at(&self, x: f64) -> f64 {
        let Some(i) = self.interval(x) else {
            return match self.x.first() {
                Some(first) if x <= *first => self.y[0],
                Some(_) => self.y[self.y.len() - 1],
                None => 0.0,
            };
        };
        let h = self.x[i + 1] - self.x[i];
        let t = (x - self.x[i]) / h;
        let (y0, y1) = (self.y[i], self.y[i + 1]);
        let (d0, d1) = (h * self.slope[i], h * self.slope[i + 1]);
        let rise = y1 - y0;
        let value = y0 + t * (d0 + t * (3.0 * rise - 2.0 * d0 - d1 + t * (d0 + d1 - 2.0 * rise)));
        // Rounding must not overshoot either.
        value.clamp(y0.min(y1), y0.max(y1))
    }

    /// The stretches over which the curve lies above a level, in order.
    pub fn above(&self, level: f64) -> Vec<(f64, f64)> {
        let mut stretches: Vec<(f64, f64)> = Vec::new();
        for i in 1..self.x.len() {
            let (fore, aft) = (self.x[i - 1], self.x[i]);
            let (from, to) = match (self.y[i - 1] > level, self.y[i] > level) {
                (false, false) => continue,
                (true, true) => (fore, aft),
                (true, false) => (fore, self.meets(i - 1, level)),
                (false, true) => (self.meets(i - 1, level), aft),
            };
            match stretches.last_mut() {
                Some(last) if last.1 == from && self.y[i - 1] > level => last.1 = to,
                _ => stretches.push((from, to)),
            }
        }
        stretches
    }

    /// The places of the points, the first and last of which are the ends.
    pub fn places(&self) -> &[f64] {
        &self.x
    }

    /// The greatest value.
    pub fn most(&self) -> f64 {
        self.y.iter().copied().fold(0.0, f64::max)
    }

    fn interval(&self, x: f64) -> Option<usize> {
        let after = self.x.partition_point(|place| *place <= x);
        (after > 0 && after < self.x.len()).then(|| after - 1)
    }

    /// Where the curve meets a level between two points, one of which lies above it. It does so once: between points it
    /// never turns.
    fn meets(&self, i: usize, level: f64) -> f64 {
        let (mut above, mut below) = if self.y[i] > level {
            (self.x[i], self.x[i + 1])
        } else {
            (self.x[i + 1], self.x[i])
        };
        // Halved until the two are neighbours among the numbers: a fixed count would do as well, but no better.
        loop {
            let middle = 0.5 * (above + below);
            if middle == above || middle == below {
                return below;
            }
            if self.at(middle) > level {
                above = middle;
            } else {
                below = middle;
            }
        }
    }
}

fn slopes(x: &[f64], y: &[f64]) -> Vec<f64> {
    let n = x.len();
    if n < 2 {
        return vec![0.0; n];
    }
    let h: Vec<f64> = x.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let secant: Vec<f64> = (0..n - 1).map(|i| (y[i + 1] - y[i]) / h[i]).collect();
    if n == 2 {
        return vec![secant[0]; 2];
    }
    let at_end = |near: usize, far: usize| {
        let slope =
            ((2.0 * h[near] + h[far]) * secant[near] - h[near] * secant[far]) / (h[near] + h[far]);
        if slope * secant[near] > 0.0 {
            slope
        } else {
            0.0
        }
    };
    let mut slope = vec![0.0; n];
    slope[0] = at_end(0, 1);
    slope[n - 1] = at_end(n - 2, n - 3);
    for i in 1..n - 1 {
        if secant[i - 1] * secant[i] > 0.0 {
            slope[i] = (h[i] * secant[i - 1] + h[i - 1] * secant[i]) / (h[i - 1] + h[i]);
        }
    }
    for i in 0..n - 1 {
        if secant[i] == 0.0 {
            slope[i] = 0.0;
            slope[i + 1] = 0.0;
            continue;
        }
        let (a, b) = (slope[i] / secant[i], slope[i + 1] / secant[i]);
        let far = a.hypot(b);
        if far > 3.0 {
            slope[i] = 3.0 / far * a * secant[i];
            slope[i + 1] = 3.0 / far * b * secant[i];
        }
    }
    slope
}
