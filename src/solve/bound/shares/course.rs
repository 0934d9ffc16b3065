//! A course as far as paths across the boat account for it: its length in steps, and what parts of it a board may cover.

use crate::solve::bound::wood::least_weight;
use crate::solve::problem::Problem;

/// Hair that rounding may be off by, in steps.
pub const HAIR: f64 = 1e-9;

/// Where slices lie that have something in common. Unit: mm.
pub type Spans = Vec<(f64, f64)>;

/// Their length. Unit: metres of boat.
pub fn metres(spans: &Spans) -> f64 {
    spans.iter().map(|(from, to)| to - from).sum::<f64>() / 1000.0
}

/// A course.
pub struct Course {
    /// Its row.
    pub row: usize,
    /// Whether it takes pairs.
    pub mirrored: bool,
    /// Least weight of what shows along it.
    pub weight: f64,
    /// What a step of colour at a joint counts at least.
    pub step: f64,
    /// What a metre of mates from two boards is let off, because boards that they meet in a joint are charged a step in colour that need not be
    /// there. Unit: ΔE00.
    pub strange: f64,
    /// Metres of boat accounted for.
    pub metres: f64,
    /// The same in whole steps.
    pub units: usize,
    /// Least and most steps that a board can cover of it that does not cover all; the least above the most where that can't be.
    pub parts: (usize, usize),
    /// For each of these, whether it can be one end of the course, cut off at one joint.
    pub ends: Vec<bool>,
}

/// Metres of boat between the ends of a course.
pub fn whole(problem: &Problem, row: usize) -> f64 {
    let r = &problem.rows[row];
    ((r.x(r.length) - r.x(0)) / 1000.0).max(1e-9)
}

/// The shortest that a piece can be where there are several. Unit: metres of boat.
pub fn shortest(problem: &Problem, row: usize) -> f64 {
    problem.shortest as f64 * whole(problem, row) / problem.rows[row].length.max(1) as f64
}

impl Course {
    /// The course of a row, whose slices lie in these spans; `largest_step` is the largest step in colour that a joint is charged.
    pub fn new(
        problem: &Problem,
        row: usize,
        spans: &Spans,
        unit: f64,
        largest_step: f64,
    ) -> Course {
        let r = &problem.rows[row];
        let metres = metres(spans);
        // A piece may lie where nothing is accounted for.
        let beyond = (whole(problem, row) - metres).max(0.0);
        let least = (shortest(problem, row) - beyond).max(0.0);
        let parts = match r.joint_windows.is_empty() {
            true => (1, 0),
            false => (
                (least / unit + HAIR) as usize,
                ((metres - least).max(0.0) / unit - HAIR).ceil() as usize,
            ),
        };
        // Ends of all lengths that a joint allows, from bow or stern; some of an end may lie where nothing is accounted for.
        let windows = r.joint_windows.iter().flat_map(|&(a, b)| {
            [
                (r.x(a) - r.x(0), r.x(b) - r.x(0)),
                (r.x(r.length) - r.x(b), r.x(r.length) - r.x(a)),
            ]
        });
        let windows: Vec<(usize, usize)> = windows
            .map(|(a, b)| {
                let least = (a / 1000.0 - beyond).max(0.0) / unit + HAIR;
                let most = (b / 1000.0).max(0.0) / unit - HAIR;
                (least as usize, most.max(0.0).ceil() as usize)
            })
            .collect();
        // A piece of mates from two boards has two joints at most, and this much of it at least is accounted for.
        let weight = least_weight(problem, row);
        // Where that is little, the step is charged in part, so that they are never let off more than half of what they cost.
        let let_off = 2.0 * largest_step / least.max(HAIR);
        let part = match r.joint_windows.is_empty() {
            true => 0.0,
            false => (0.5 * problem.weights.foster / let_off.max(HAIR)).min(1.0),
        };
        let (step, strange) = (part * weight, part * let_off * weight);
        let is_end = |k: usize| windows.iter().any(|(a, b)| (*a..=*b).contains(&k));
        Course {
            weight,
            step,
            strange,
            ends: (parts.0..=parts.1).map(is_end).collect(),
            row,
            mirrored: r.mirrored,
            metres,
            units: (metres / unit + HAIR) as usize,
            parts,
        }
    }
}
