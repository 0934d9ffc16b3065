//! A seam between two courses, and how much of it is edge where a board covers a part of one of them.

use super::course::{Course, HAIR, Spans, metres, shortest};
use crate::solve::problem::Problem;

/// A seam between one course and the next.
pub struct Seam {
    /// Metres of boat accounted for.
    pub metres: f64,
    /// The same in whole steps.
    pub units: usize,
    /// Steps of each of the two courses that lie beyond the seam at most.
    pub beyond: [usize; 2],
    /// Steps of edge that a board has at least where it covers part of the one course, and of the other.
    pub stagger: [usize; 2],
    /// The same where it has two ends in that course.
    pub both: [usize; 2],
}

impl Seam {
    /// The seam between two courses, whose slices lie in these spans.
    pub fn new(problem: &Problem, two: &[Course], spans: &Spans, unit: f64) -> Seam {
        let metres = metres(spans);
        let beyond =
            |course: &Course| ((course.metres - metres).max(0.0) / unit - HAIR).ceil() as usize;
        let stagger_of = |one: &Course, other: &Course| {
            (stagger(problem, one.row, other.row, spans, false) / unit + HAIR) as usize
        };
        let both = |one: &Course, other: &Course| {
            let two = stagger(problem, one.row, other.row, spans, true) / unit + HAIR;
            (two as usize).max(stagger_of(one, other))
        };
        Seam {
            metres,
            units: (metres / unit + HAIR) as usize,
            beyond: [beyond(&two[0]), beyond(&two[1])],
            stagger: [stagger_of(&two[0], &two[1]), stagger_of(&two[1], &two[0])],
            both: [both(&two[0], &two[1]), both(&two[1], &two[0])],
        }
    }
}

/// Metres of a seam along which two boards that meet in a joint of one course can't both lie beside their own at least.
///
/// Beside the joint and `clear` to both sides of it the other course has no joint, so one piece; at most one of the two boards is its own.
fn stagger(problem: &Problem, row: usize, other: usize, spans: &Spans, two: bool) -> f64 {
    let r = &problem.rows[row];
    let windows = (r.joint_windows.first(), r.joint_windows.last());
    let (Some(first), Some(last)) = windows else {
        return 0.0;
    };
    if !r.near.contains(&other) {
        return 0.0;
    }
    let mut spans = spans.clone();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (Some(&(from, _)), Some(&(_, to))) = (spans.first(), spans.last()) else {
        return 0.0;
    };
    if spans.windows(2).any(|two| two[0].1 != two[1].0) {
        return 0.0;
    }
    let reach = problem.clear.min(1000.0 * shortest(problem, row));
    let ahead = (from - (r.x(first.0) - reach)).max(0.0);
    let astern = (r.x(last.1) + reach - to).max(0.0);
    // Two joints are one shortest piece apart at least: half of that beside each is beside no other.
    let wide = match two {
        true => 2.0 * reach.min(500.0 * shortest(problem, row)),
        false => reach,
    };
    (wide - ahead - astern).max(0.0) / 1000.0
}
