//! How much skin there is.

use super::curve::{Point, dot, length, sub};
use super::{Curve, PanelShape};

/// Into how many strips of skin a panel is cut to measure it, and each of them from form to form.
const ACROSS: usize = 64;
const ALONG: usize = 8;

/// The area of a panel on one side of the boat; `None` where only girths are known. Unit: mm².
pub fn area(told: &PanelShape) -> Option<f64> {
    let sections = told.sections.as_ref()?;
    let lines: Vec<Vec<Point>> = (0..=ACROSS)
        .map(|i| {
            let part = i as f64 / ACROSS as f64;
            let points: Vec<Point> = sections
                .iter()
                .map(|section| section.at(part * section.length()))
                .collect();
            let line = Curve::through(&points);
            let places = told.girth.places().windows(2);
            let inside = places.flat_map(|pair| {
                (0..ALONG).map(|k| pair[0] + (pair[1] - pair[0]) * k as f64 / ALONG as f64)
            });
            inside
                .chain([told.to()])
                .map(|x| line.at(line.along_at(x)))
                .collect()
        })
        .collect();
    let cells = lines.windows(2).flat_map(|pair| {
        let (one, other) = (&pair[0], &pair[1]);
        (1..one.len()).map(|k| quarter(one[k - 1], one[k], other[k], other[k - 1]))
    });
    Some(cells.sum())
}

/// The area of a small piece of skin: half the length of the cross product of its diagonals.
fn quarter(a: Point, b: Point, c: Point, d: Point) -> f64 {
    let (one, other) = (sub(c, a), sub(d, b));
    let (p, q, r) = (dot(one, one), dot(other, other), dot(one, other));
    0.5 * (p * q - r * r)
        .max(0.0)
        .sqrt()
        .min(length(one) * length(other))
}
