//! Open courses closed by their best replacement.

use super::Upset;
use super::ejection_chain::chain;
use crate::solve::anneal::{Cooling, anneal};
use crate::solve::cover::too_short;
use crate::solve::draft::Draft;
use crate::solve::fill::{ConstructionParameters, fill, offers};
use crate::solve::moves::OperatorWeights;
use crate::solve::problem::{NONE, Problem};
use crate::solve::rack::longest;
use crate::solve::rng::SearchRng;
use crate::solve::state::{Change, State};
use crate::solve::timber::{Part, Timber};
use crate::solve::tuning::ejection_chain::LINKS;
use crate::solve::tuning::mend::{FOSTERS, JOINED, MATES, TEMPERATURES, TRIES};
use crate::solve::tuning::problem::TABLED;
use std::cmp::Reverse;

/// Closes the courses that are open: each by the replacement that costs least, and where none is left, by changing
/// others. `was` is what the earlier plan has on a course.
pub fn mend(
    state: &mut State,
    was: &dyn Fn(usize) -> Option<Timber>,
    upset: Upset,
    rng: &mut SearchRng,
    stop: &dyn Fn() -> bool,
) {
    close_each(state, was, upset, rng);
    if upset == Upset::ReplacedOnly {
        return;
    }
    let temperatures = match too_short(state.problem).is_some() {
        // The wood is too short for all: one temperature will do to leave the shortest course open.
        true => &TEMPERATURES[..1],
        false => &TEMPERATURES[..],
    };
    for &temperature in temperatures {
        if state.open() == 0 || stop() {
            return;
        }
        by_one_other(state, rng, stop);
        if state.open() == 0 {
            return;
        }
        let cooling = Cooling {
            tries: TRIES,
            hot: temperature,
            cold: 0.1,
            weights: OperatorWeights::of(state.problem.most > 0),
        };
        let best = anneal(state, &cooling, rng, stop);
        best.restore(state);
    }
}

/// Closes each open course from what is free, the longest first; those that are begun before the others.
fn close_each(
    state: &mut State,
    was: &dyn Fn(usize) -> Option<Timber>,
    upset: Upset,
    rng: &mut SearchRng,
) {
    for row in open(state) {
        let links = match upset {
            Upset::Least => LINKS,
            Upset::ReplacedOnly => 0,
        };
        let along = was(row).and_then(|was| chain(state, row, &was, links));
        let instead = replacement(state, row, rng);
        let all = along.into_iter().chain(instead);
        if let Some((_, change)) = all.min_by(|a, b| a.0.total_cmp(&b.0)) {
            state.make(change);
        }
    }
}

/// The same with fewer ways tried: enough to see that a course can be closed at all.
pub(super) fn close_quickly(state: &mut State, rng: &mut SearchRng) {
    for row in open(state) {
        if let Some((_, change)) = quick_replacement(state, row, &[], rng) {
            state.make(change);
        }
    }
}

fn open(state: &State) -> Vec<usize> {
    let problem = state.problem;
    let mut open: Vec<usize> = (0..problem.rows.len())
        .filter(|&row| state.timber(row).is_empty())
        .collect();
    open.sort_by_key(|&row| {
        let r = &problem.rows[row];
        (problem.glued[row].is_empty(), Reverse(r.one_piece()), row)
    });
    open
}

/// Closes an open course by taking the wood of one other that can be laid from what is free.
fn by_one_other(state: &mut State, rng: &mut SearchRng, stop: &dyn Fn() -> bool) {
    for row in open(state) {
        let mut best: Option<(f64, Change)> = None;
        for other in 0..state.problem.rows.len() {
            if stop() {
                return;
            }
            if other == row || state.timber(other).is_empty() {
                continue;
            }
            let mut trial = state.clone();
            let before = trial.worth();
            let taken = trial.timber(other).clone();
            if taken.iter().all(|part| part.loose_sides().next().is_none()) {
                continue;
            }
            trial.lay(other, Timber::new());
            let closed = [row, other].into_iter().all(|row| {
                match quick_replacement(&trial, row, &taken, rng) {
                    Some((_, change)) => {
                        trial.make(change);
                        true
                    }
                    None => false,
                }
            });
            let by = trial.worth() - before;
            if closed && best.as_ref().is_none_or(|(least, _)| by < *least - 1e-9) {
                let change = [row, other]
                    .into_iter()
                    .map(|row| (row, trial.timber(row).clone()))
                    .collect();
                best = Some((by, change));
            }
        }
        if let Some((_, change)) = best {
            state.make(change);
        }
    }
}

/// The change that closes an open course at the least price, nothing else being changed.
fn replacement(state: &State, row: usize, rng: &mut SearchRng) -> Option<(f64, Change)> {
    let mut best = Cheapest::default();
    in_one_piece(state, row, &mut best);
    for attempt in 0..JOINED {
        joined(state, row, &[], attempt, rng, &mut best);
    }
    best.0
}

/// The same with fewer ways tried; `wood` is what would be a pity not to try.
fn quick_replacement(
    state: &State,
    row: usize,
    wood: &[Part],
    rng: &mut SearchRng,
) -> Option<(f64, Change)> {
    let mut best = Cheapest::default();
    in_one_piece(state, row, &mut best);
    if best.0.is_none() {
        let wood: Vec<[u32; 2]> = wood.iter().map(|part| part.wood).collect();
        for attempt in 0..3 {
            joined(state, row, &wood, attempt, rng, &mut best);
        }
    }
    best.0
}

/// The cheapest change so far.
#[derive(Default)]
struct Cheapest(Option<(f64, Change)>);

impl Cheapest {
    fn offer(&mut self, state: &State, change: Change) {
        let by = state.price(&change);
        if self.0.as_ref().is_none_or(|(least, _)| by < *least - 1e-9) {
            self.0 = Some((by, change));
        }
    }
}

/// All wood that can lie on the course in one piece.
fn in_one_piece(state: &State, row: usize, best: &mut Cheapest) {
    let problem = state.problem;
    if !problem.glued[row].is_empty() {
        return;
    }
    let part = Part::whole(problem, row);
    let mut draft = Draft::new(state);
    draft.strip(row);
    for wood in long_enough(&draft, row, part.length()) {
        if let Some(seated) = draft.seat(row, &part, wood) {
            let change = [(row, [seated].into_iter().collect())]
                .into_iter()
                .collect();
            best.offer(state, change);
        }
    }
}

/// Every strip with room for such a length, with some mates, both ways round.
fn long_enough(draft: &Draft, row: usize, length: i64) -> Vec<[u32; 2]> {
    let problem = draft.problem();
    let strips: Vec<u32> = (0..problem.woods.len() as u32)
        .filter(|&strip| longest(&draft.room([strip, NONE])) >= length)
        .collect();
    if !problem.rows[row].mirrored {
        return strips.into_iter().map(|strip| [strip, NONE]).collect();
    }
    let mut found = Vec::new();
    for &strip in &strips {
        let mates = problem.mates[strip as usize].iter().copied();
        let mates = mates.filter(|mate| longest(&draft.room([strip, *mate])) >= length);
        found.extend(
            mates
                .take(MATES)
                .flat_map(|mate| [[strip, mate], [mate, strip]]),
        );
        for mate in fosters(problem, strip, &strips) {
            found.extend([[strip, mate], [mate, strip]]);
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// The strips of other boards that would match a strip best.
fn fosters(problem: &Problem, strip: u32, strips: &[u32]) -> Vec<u32> {
    // In a rack of thousands, not every strip is held against every other.
    let large = strips.len() > TABLED;
    let near = if large { problem.alike(strip) } else { strips };
    let is_long_enough = |other: &&u32| !large || strips.binary_search(other).is_ok();
    let mut others: Vec<(f64, u32)> = { near.iter().filter(is_long_enough) }
        .filter(|other| !problem.one_board(strip, **other))
        .map(|other| (problem.match_rate(strip, *other), *other))
        .collect();
    others.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    others
        .into_iter()
        .take(FOSTERS)
        .map(|(_, other)| other)
        .collect()
}

/// The course joined from several pieces of what is free.
fn joined(
    state: &State,
    row: usize,
    wood: &[[u32; 2]],
    attempt: usize,
    rng: &mut SearchRng,
    best: &mut Cheapest,
) {
    let parameters = ConstructionParameters {
        alike: 8,
        random: 30,
        foster: [0, 4, 12][attempt % 3],
        places: 16,
        joints_for_looks: 0.5,
        thrifty: [0.0, 0.5, 2.0][attempt / 3 % 3],
        partial: 0.0,
        jitter: if attempt == 0 { 0.0 } else { 0.3 },
    };
    let mut draft = Draft::new(state);
    draft.strip(row);
    let wood = offers(&draft, row, wood, &parameters, rng);
    if fill(&mut draft, row, &wood, &parameters, rng) {
        best.offer(state, draft.finish());
    }
}
