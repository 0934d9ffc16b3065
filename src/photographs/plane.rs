//! How a flat thing is seen in a picture.

use super::solve::LeastSquares;

/// Across and down.
type Point = (f64, f64);

/// A map from one plane to another that keeps straight lines straight: from the card to the pixels of a picture.
///
/// Source: the plane projective transformation in homogeneous coordinates, its last factor 1.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Plane(pub(super) [f64; 8]);

impl Plane {
    /// The map that takes these points nearest to their counterparts; `None` where they are fewer than four, or lie
    /// so that there is no single one.
    pub fn through(points: &[(Point, Point)]) -> Option<Plane> {
        // Both sides in units of about 1, so that the equations can be told apart.
        let from = Scaled::of(points.iter().map(|pair| pair.0))?;
        let to = Scaled::of(points.iter().map(|pair| pair.1))?;
        let mut equations = LeastSquares::of(8);
        for (one, other) in points {
            let ((x, y), (u, v)) = (from.there(*one), to.there(*other));
            equations.add(&[x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y], u);
            equations.add(&[0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y], v);
        }
        let all: [f64; 8] = equations.solved()?.try_into().ok()?;
        let unscaled = product(to.back(), product(whole(all), from.matrix()));
        Plane::of(unscaled)
    }

    fn of(m: [[f64; 3]; 3]) -> Option<Plane> {
        let last = m[2][2];
        let all = [
            m[0][0], m[0][1], m[0][2], m[1][0], m[1][1], m[1][2], m[2][0], m[2][1],
        ];
        let all = all.map(|value| value / last);
        (last.abs() > 1e-12 && all.iter().all(|value| value.is_finite())).then_some(Plane(all))
    }

    /// Where a point is seen. A point behind the eye is seen nowhere: that comes out as no number.
    pub fn at(&self, (x, y): (f64, f64)) -> (f64, f64) {
        let h = &self.0;
        let w = h[6] * x + h[7] * y + 1.0;
        if w <= 1e-6 {
            return (f64::NAN, f64::NAN);
        }
        (
            (h[0] * x + h[1] * y + h[2]) / w,
            (h[3] * x + h[4] * y + h[5]) / w,
        )
    }

    /// The way back.
    pub fn inverse(&self) -> Option<Plane> {
        let [a, b, c, d, e, f, g, h] = self.0;
        let adjugate = [
            [e - f * h, c * h - b, b * f - c * e],
            [f * g - d, a - c * g, c * d - a * f],
            [d * h - e * g, b * g - a * h, a * e - b * d],
        ];
        Plane::of(adjugate)
    }
}

/// Points moved to their middle and shrunk to about 1.
struct Scaled {
    middle: (f64, f64),
    size: f64,
}

impl Scaled {
    fn of(points: impl Iterator<Item = (f64, f64)> + Clone) -> Option<Scaled> {
        let many = points.clone().count().max(1) as f64;
        let sum = points
            .clone()
            .fold((0.0, 0.0), |sum, point| (sum.0 + point.0, sum.1 + point.1));
        let middle = (sum.0 / many, sum.1 / many);
        let away = points
            .map(|(x, y)| (x - middle.0).hypot(y - middle.1))
            .sum::<f64>()
            / many;
        (away > 0.0 && away.is_finite()).then_some(Scaled { middle, size: away })
    }

    fn there(&self, (x, y): (f64, f64)) -> (f64, f64) {
        (
            (x - self.middle.0) / self.size,
            (y - self.middle.1) / self.size,
        )
    }

    fn matrix(&self) -> [[f64; 3]; 3] {
        let (s, (x, y)) = (self.size, self.middle);
        [
            [1.0 / s, 0.0, -x / s],
            [0.0, 1.0 / s, -y / s],
            [0.0, 0.0, 1.0],
        ]
    }

    fn back(&self) -> [[f64; 3]; 3] {
        let (s, (x, y)) = (self.size, self.middle);
        [[s, 0.0, x], [0.0, s, y], [0.0, 0.0, 1.0]]
    }
}

fn whole(h: [f64; 8]) -> [[f64; 3]; 3] {
    [[h[0], h[1], h[2]], [h[3], h[4], h[5]], [h[6], h[7], 1.0]]
}

fn product(one: [[f64; 3]; 3], other: [[f64; 3]; 3]) -> [[f64; 3]; 3] {
    std::array::from_fn(|i| std::array::from_fn(|j| (0..3).map(|k| one[i][k] * other[k][j]).sum()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plane_through_points_comes_back_the_way_it_went() {
        let seen = Plane([2.1, 0.1, 300.0, -0.08, 2.0, 900.0, 4e-5, -7e-5]);
        let points = [
            (0.0, 0.0),
            (266.0, 0.0),
            (0.0, 66.0),
            (266.0, 66.0),
            (120.0, 30.0),
        ];
        let found = Plane::through(&points.map(|point| (point, seen.at(point)))).unwrap();
        let back = found.inverse().unwrap();
        for point in [(-700.0, 40.0), (900.0, -100.0)] {
            let (one, other) = (seen.at(point), found.at(point));
            assert!((one.0 - other.0).hypot(one.1 - other.1) < 1e-6);
            let again = back.at(other);
            assert!((point.0 - again.0).hypot(point.1 - again.1) < 1e-6);
        }
        let line = [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.0)];
        assert!(Plane::through(&line.map(|point| (point, point))).is_none());
    }
}
