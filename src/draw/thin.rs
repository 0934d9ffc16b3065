//! Lines through fewer points.

use super::scene::Point;

/// The line through some of these points that passes no left-out point at more than `off`.
///
/// Source: D. H. Douglas and T. K. Peucker, "Algorithms for the reduction of the number of points required to represent
/// a digitized line", Cartographica 10 (1973).
pub fn thinned(points: &[Point], off: f64) -> Vec<Point> {
    let [first, .., _] = points else {
        return points.to_vec();
    };
    let mut kept = vec![*first];
    // Stretches still to look at, the foremost on top.
    let mut open = vec![(0, points.len() - 1)];
    while let Some((from, to)) = open.pop() {
        let distance = distance_from(points[from], points[to]);
        let inside = (from + 1..to).map(|n| (n, distance(points[n])));
        match inside.max_by(|a, b| a.1.total_cmp(&b.1)) {
            Some((n, far)) if far > off => open.extend([(n, to), (from, n)]),
            _ => kept.push(points[to]),
        }
    }
    kept
}

/// How far a point lies from the line between two; where they are one, from that.
fn distance_from(from: Point, to: Point) -> impl Fn(Point) -> f64 {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let long = dx.hypot(dy);
    move |point| {
        let (px, py) = (point.0 - from.0, point.1 - from.1);
        if long > 0.0 {
            (dx * py - dy * px).abs() / long
        } else {
            px.hypot(py)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_straight_line_keeps_its_ends_and_a_corner_stays() {
        let line = [(0.0, 0.0), (1.0, 0.001), (2.0, 0.0), (3.0, 0.0), (3.0, 4.0)];
        assert_eq!(thinned(&line, 0.01), [(0.0, 0.0), (3.0, 0.0), (3.0, 4.0)]);
        assert_eq!(thinned(&line[..1], 0.01), [(0.0, 0.0)]);
        assert_eq!(thinned(&[], 0.01), []);
    }
}
