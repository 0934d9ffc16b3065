//! The cost of timber against its neighbours: the one place where the search works out what a plan is worth.
//!
//! Source of every formula: model, "Cost". Unit: ΔE00·metre.

use super::problem::{NONE, Problem};
use super::profile::Profile;
use super::timber::Part;
use smallvec::SmallVec;

/// The seams of a course: the weight along each, and the timber on its other side.
pub type Beside<'s> = SmallVec<[(&'s Profile, &'s [Part]); 2]>;

/// What a metre of seam between two parts costs for figure out of register, on the given sides.
#[inline]
fn shift_rate(problem: &Problem, p: &Part, p_side: usize, q: &Part, q_side: usize) -> f64 {
    if !problem.one_board(p.wood[p_side], q.wood[q_side]) {
        return 0.0;
    }
    let apart = if p.bow[p_side] == q.bow[q_side] {
        (p.register(p_side) - q.register(q_side)).abs()
    } else {
        1000.0
    };
    problem.weights.shift * (apart / 1000.0).min(1.0)
}

/// The pairs of sides that meet along a seam: port with port, starboard with starboard, and a centre course with both.
#[inline]
pub fn meeting_sides(p: [u32; 2], q: [u32; 2]) -> &'static [(usize, usize)] {
    match (p[1] == NONE, q[1] == NONE) {
        (false, false) => &[(0, 0), (1, 1)],
        (true, false) => &[(0, 0), (0, 1)],
        (false, true) => &[(0, 0), (1, 0)],
        (true, true) => &[(0, 0)],
    }
}

/// The seam between two courses.
pub fn seam(problem: &Problem, profile: &Profile, one: &[Part], next: &[Part]) -> f64 {
    let mut sum = 0.0;
    for p in one {
        for q in next {
            let met = profile.between(p.x_from.max(q.x_from), p.x_to.min(q.x_to));
            if met <= 0.0 {
                continue;
            }
            for &(i, j) in meeting_sides(p.wood, q.wood) {
                sum += met
                    * (problem.seam_rate(p.wood[i], q.wood[j]) + shift_rate(problem, p, i, q, j));
            }
        }
    }
    sum
}

/// The part of a course's seams that the place of one part's cuts decides: register alone.
pub fn shift(problem: &Problem, part: &Part, side: usize, beside: &Beside<'_>) -> f64 {
    let mut sum = 0.0;
    for (profile, others) in beside {
        for q in *others {
            let mut met = None;
            for &(i, j) in meeting_sides(part.wood, q.wood) {
                if i != side || !problem.one_board(part.wood[i], q.wood[j]) {
                    continue;
                }
                let met = *met.get_or_insert_with(|| {
                    profile.between(part.x_from.max(q.x_from), part.x_to.min(q.x_to))
                });
                sum += met * shift_rate(problem, part, i, q, j);
            }
        }
    }
    sum
}

/// Mates against each other across the boat.
pub fn matching(problem: &Problem, row: usize, timber: &[Part]) -> f64 {
    let look = &problem.rows[row].look;
    timber
        .iter()
        .filter(|part| part.wood[1] != NONE)
        .map(|part| {
            look.between(part.x_from, part.x_to) * problem.match_rate(part.wood[0], part.wood[1])
        })
        .sum()
}

/// What a joint costs at weight 1 between two pairs of strips.
#[inline]
pub fn joint_rate(problem: &Problem, fore: [u32; 2], aft: [u32; 2]) -> f64 {
    let step = if fore[1] == NONE {
        problem.difference(fore[0], aft[0])
    } else {
        0.5 * (problem.difference(fore[0], aft[0]) + problem.difference(fore[1], aft[1]))
    };
    problem.weights.joint + step
}

/// The joints of a course.
pub fn joints(problem: &Problem, row: usize, timber: &[Part]) -> f64 {
    timber
        .windows(2)
        .map(|pair| {
            problem.rows[row].weight(pair[1].x_from)
                * joint_rate(problem, pair[0].wood, pair[1].wood)
        })
        .sum()
}
