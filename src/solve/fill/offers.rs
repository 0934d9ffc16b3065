//! Which wood to try on an open course: what was just lifted, what would look well beside the neighbours, and some
//! picked from the rack at random.

use super::super::draft::Draft;
use super::super::problem::NONE;
use super::super::rack::longest;
use crate::solve::tuning::fill::FEW;
use crate::units::Length;
use rand::{Rng, RngExt};
use smallvec::SmallVec;

/// How much to try, and how daringly.
#[derive(Clone, Copy, Debug)]
pub struct ConstructionParameters {
    /// Strips to look at beside each neighbour.
    pub alike: usize,
    /// Strips to pick at random.
    pub random: usize,
    /// Pairs of foster mates to try.
    pub foster: usize,
    /// Places for joints to try.
    pub places: usize,
    /// Chance that a course which could be laid in one piece is tried with joints all the same.
    pub joints_for_looks: f64,
    /// Price put on room left over on a strip, so that long strips are kept for long courses. Unit: ΔE00·metre a metre.
    pub thrifty: f64,
    /// Chance that some wood is offered only in part, so that the rest of it is left for other courses.
    pub partial: f64,
    /// How far costs are jittered, as a part of each.
    pub jitter: f64,
}

impl ConstructionParameters {
    /// No wood but what is given, no joint that need not be, nothing left to chance.
    pub const NONE: ConstructionParameters = ConstructionParameters {
        alike: 0,
        random: 0,
        foster: 0,
        places: 0,
        joints_for_looks: 0.0,
        thrifty: 0.0,
        partial: 0.0,
        jitter: 0.0,
    };
}

/// The wood to try, each pair both ways round; what lay there in the earlier plan is always tried.
pub fn offers(
    draft: &Draft,
    row: usize,
    lifted: &[[u32; 2]],
    parameters: &ConstructionParameters,
    rng: &mut impl Rng,
) -> Vec<[u32; 2]> {
    let problem = draft.problem();
    if problem.woods.is_empty() {
        return Vec::new();
    }
    let mirrored = problem.rows[row].mirrored;
    let least = least_length(draft, row);
    let mut found: Vec<[u32; 2]> = Vec::new();
    let mut lonely: Vec<u32> = Vec::new();
    let mut seen: Vec<u32> = Vec::new();
    let mut offer = |strip: u32, found: &mut Vec<[u32; 2]>| {
        if seen.contains(&strip) {
            return;
        }
        seen.push(strip);
        if !mirrored {
            if longest(&draft.room([strip, NONE])) >= least {
                found.push([strip, NONE]);
            }
            return;
        }
        let may = |mate: &u32| {
            let ways = [[strip, *mate], [*mate, strip]];
            ways.into_iter().any(|wood| problem.allowed.wood(row, wood))
        };
        match draft.mates(strip, least).find(may) {
            Some(mate) => found.extend([[strip, mate], [mate, strip]]),
            // Asked for by foster mates alone.
            None if parameters.foster > 0 && longest(&draft.room([strip, NONE])) >= least => {
                lonely.push(strip)
            }
            None => {}
        }
    };
    let earlier: SmallVec<[[u32; 2]; 2]> = problem.labels.wood(row).collect();
    for wood in lifted.iter().chain(&earlier) {
        if mirrored && wood[1] != NONE {
            found.extend([*wood, [wood[1], wood[0]]]);
        } else {
            wood.iter()
                .filter(|&&strip| strip != NONE)
                .for_each(|&strip| offer(strip, &mut found));
        }
    }
    for part in draft
        .beside(row)
        .into_iter()
        .flat_map(|neighbour| neighbour.parts)
    {
        for side in part.sides() {
            let beside = problem.alike(part.wood[side]);
            for _ in 0..parameters.alike.min(beside.len()) {
                // The square leans toward the best of the list.
                let at = rng.random::<f64>().powi(2) * beside.len() as f64;
                offer(beside[at as usize], &mut found);
            }
        }
    }
    match problem.allowed.choice(row) {
        Some(choice) if choice.len() <= FEW => {
            choice.iter().for_each(|&strip| offer(strip, &mut found))
        }
        choice => {
            let count = choice.map_or(problem.woods.len(), <[u32]>::len);
            for _ in 0..parameters.random {
                let at = rng.random_range(0..count);
                offer(choice.map_or(at as u32, |choice| choice[at]), &mut found);
            }
        }
    }
    if mirrored && parameters.foster > 0 && problem.woods.len() > 1 {
        lonely.extend(lifted.iter().flatten().filter(|&&strip| strip != NONE));
        foster(
            draft,
            row,
            least,
            lonely,
            parameters.foster,
            &mut found,
            rng,
        );
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// Pairs of strips that are no mates by birth: those whose own mates are gone first.
fn foster(
    draft: &Draft,
    row: usize,
    least: Length,
    mut lonely: Vec<u32>,
    count: usize,
    found: &mut Vec<[u32; 2]>,
    rng: &mut impl Rng,
) {
    let choice = draft.problem().allowed.choice(row);
    let strips = choice.map_or(draft.problem().woods.len(), <[u32]>::len);
    for _ in 0..if strips > 0 { 4 * count } else { 0 } {
        let at = rng.random_range(0..strips as u32);
        let strip = choice.map_or(at, |choice| choice[at as usize]);
        if longest(&draft.room([strip, NONE])) >= least {
            lonely.push(strip);
        }
    }
    for _ in 0..if lonely.len() > 1 { count } else { 0 } {
        let a = lonely[rng.random_range(0..lonely.len())];
        let b = lonely[rng.random_range(0..lonely.len())];
        if a != b && !draft.problem().one_board(a, b) {
            found.extend([[a, b], [b, a]]);
        }
    }
}

/// The shortest length of strip that could serve on this course at all.
fn least_length(draft: &Draft, row: usize) -> Length {
    let problem = draft.problem();
    let r = &problem.rows[row];
    if r.joint_windows.is_empty() {
        return r.one_piece();
    }
    r.one_piece().min(
        problem.shortest + problem.half_scarf + problem.half_scarf.min(r.allow[0]).min(r.allow[1]),
    )
}
