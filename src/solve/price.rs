//! The cost of timber against its neighbours: the one place where the search works out what a plan is worth.
//!
//! Source of every formula: model, "Cost". Unit: ΔE00·metre.

use super::problem::{Charge, NONE, Problem, Seam, Steps};
use super::profile::Profile;
use super::relabel::new_labels;
use super::timber::{Lie, Part};
use smallvec::SmallVec;

/// What lies beyond a seam of a course.
#[derive(Clone, Copy)]
pub struct Neighbour<'s> {
    /// Weight along the seam.
    pub look: &'s Profile,
    /// What is charged along it, the course itself being the upper one.
    pub charge: Charge,
    /// The timber on its other side.
    pub parts: &'s [Part],
}

/// The seams of a course.
pub type Beside<'s> = SmallVec<[Neighbour<'s>; 2]>;

/// What a metre of seam between two pieces of one board costs for figure out of register.
#[inline]
fn shift_rate(problem: &Problem, p: Lie, q: Lie) -> f64 {
    let apart = if p.0 == q.0 {
        (p.1 - q.1).abs()
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

/// The seam between two courses, the upper first.
pub fn seam(problem: &Problem, seam: &Seam, one: &[Part], next: &[Part]) -> f64 {
    let mut sum = 0.0;
    for p in one {
        for q in next {
            let met = met(&seam.look, p, q);
            if met <= 0.0 {
                continue;
            }
            for &(i, j) in meeting_sides(p.wood, q.wood) {
                let shift = match seam.charge.steps != Steps::Apart
                    && problem.one_board(p.wood[i], q.wood[j])
                {
                    true => shift_rate(problem, p.lie(i), q.lie(j)),
                    false => 0.0,
                };
                sum += met * (problem.rate(seam.charge, p.wood[i], q.wood[j]) + shift);
            }
        }
    }
    sum
}

/// The part of a seam for shade that goes the wrong way.
pub fn drift(problem: &Problem, seam: &Seam, one: &[Part], next: &[Part]) -> f64 {
    let mut sum = 0.0;
    if seam.charge.drift == 0.0 {
        return sum;
    }
    for (p, q) in one.iter().flat_map(|p| next.iter().map(move |q| (p, q))) {
        for &(i, j) in meeting_sides(p.wood, q.wood) {
            sum += met(&seam.look, p, q) * problem.drift_rate(seam.charge, p.wood[i], q.wood[j]);
        }
    }
    sum
}

#[inline]
fn met(profile: &Profile, p: &Part, q: &Part) -> f64 {
    profile.between(p.x_from.max(q.x_from), p.x_to.min(q.x_to))
}

/// A piece of the same board that a part meets along a seam: what it is in register with or not.
#[derive(Clone, Copy, Debug)]
pub struct Kin {
    /// The side of the part that it meets.
    pub side: usize,
    /// How it lies.
    pub lie: Lie,
    /// Whether being in register with it is worth a try: of two sides that meet one piece, the first has the say.
    pub leads: bool,
    /// Weight of the seam where they meet.
    pub met: f64,
}

/// What some sides of a part meet along the seams of its course that comes from the same board.
pub fn kin(
    problem: &Problem,
    part: &Part,
    sides: &[usize],
    beside: &Beside<'_>,
) -> SmallVec<[Kin; 4]> {
    let mut kin = SmallVec::new();
    for neighbour in beside
        .iter()
        .filter(|neighbour| neighbour.charge.steps != Steps::Apart)
    {
        for q in neighbour.parts {
            let meeting = meeting_sides(part.wood, q.wood);
            let abreast = part.x_to > q.x_from && q.x_to > part.x_from;
            for &side in sides {
                let facing = meeting.iter().filter(|(i, _)| *i == side);
                for (k, &(i, j)) in facing.enumerate() {
                    if problem.one_board(part.wood[i], q.wood[j]) {
                        kin.push(Kin {
                            side,
                            lie: q.lie(j),
                            leads: k == 0 && abreast,
                            met: met(neighbour.look, part, q),
                        });
                    }
                }
            }
        }
    }
    kin
}

/// The part of a course's seams that the place of one part's cut on some side decides: register alone.
pub fn shift(problem: &Problem, side: usize, lie: Lie, kin: &[Kin]) -> f64 {
    let mut sum = 0.0;
    for kin in kin.iter().filter(|kin| kin.side == side) {
        sum += kin.met * shift_rate(problem, lie, kin.lie);
    }
    sum
}

/// What a course costs by itself: its mates, its joints and its new labels.
pub fn own(problem: &Problem, row: usize, timber: &[Part]) -> f64 {
    let labels = problem.weights.relabel * new_labels(problem, row, timber) as f64;
    matching(problem, row, timber) + joints(problem, row, timber) + labels
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
