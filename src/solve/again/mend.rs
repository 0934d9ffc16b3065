//! Open courses closed by their best replacement.

use super::Upset;
use super::ejection_chain::chain;
use crate::solve::anneal::{Cooling, anneal};
use crate::solve::clock::Clock;
use crate::solve::cover::{may_do, too_short};
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
use crate::units::Length;
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// Closes the courses that are open: each by the replacement that costs least, and where none is left, by changing
/// others. `was` is what the earlier plan has on a course.
pub fn mend(
    state: &mut State,
    was: &dyn Fn(usize) -> Option<Timber>,
    upset: Upset,
    rng: &mut SearchRng,
    clock: &Clock,
) {
    close_each(state, was, upset, rng, clock);
    if upset == Upset::ReplacedOnly {
        return;
    }
    let temperatures = match too_short(state.problem).is_some() {
        // The wood is too short for all: one temperature will do to leave the shortest course open.
        true => &TEMPERATURES[..1],
        false => &TEMPERATURES[..],
    };
    let stop = || clock.stop();
    for &temperature in temperatures {
        if state.is_covered() || stop() {
            return;
        }
        by_one_other(state, rng, &stop);
        if state.is_covered() {
            return;
        }
        let cooling = Cooling {
            tries: TRIES,
            hot: temperature,
            cold: 0.1,
            weights: OperatorWeights::of(state.problem.most > 0),
        };
        let best = anneal(state, &cooling, rng, &stop);
        best.restore(state);
    }
}

/// Closes each open course from what is free, the longest first; those that are begun before the others. Once the end
/// is due, by the first way found.
fn close_each(
    state: &mut State,
    was: &dyn Fn(usize) -> Option<Timber>,
    upset: Upset,
    rng: &mut SearchRng,
    clock: &Clock,
) {
    let stop = || clock.stop();
    for row in open(state) {
        if clock.is_over() {
            return;
        }
        let links = match upset {
            Upset::Least => LINKS,
            Upset::ReplacedOnly => 0,
        };
        let along = was(row).and_then(|was| chain(state, row, &was, links, &stop));
        let instead = replacement(state, row, rng, &stop);
        let all = along.into_iter().chain(instead);
        if let Some((_, change)) = all.min_by(|a, b| a.0.total_cmp(&b.0)) {
            state.make(change);
        }
    }
}

/// The same with fewer ways tried: enough to see that a course can be closed at all.
pub(super) fn close_quickly(state: &mut State, rng: &mut SearchRng, stop: &dyn Fn() -> bool) {
    for row in open(state) {
        if stop() {
            return;
        }
        if let Some((_, change)) = quick_replacement(state, row, &[], rng, stop) {
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
            if other == row
                || state.timber(other).is_empty()
                || !may_do(state, &[row, other], &[other])
            {
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
                match quick_replacement(&trial, row, &taken, rng, stop) {
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

/// The change that closes an open course at the least price, nothing else being changed; stopped, the best so far, or
/// the first that turns up.
fn replacement(
    state: &State,
    row: usize,
    rng: &mut SearchRng,
    stop: &dyn Fn() -> bool,
) -> Option<(f64, Change)> {
    let mut best = in_one_piece(state, row, stop)?;
    for attempt in 0..JOINED {
        if best.0.is_some() && stop() {
            break;
        }
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
    stop: &dyn Fn() -> bool,
) -> Option<(f64, Change)> {
    let mut best = in_one_piece(state, row, stop)?;
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

/// The best of all wood that can lie on the course in one piece; stopped, of such as was tried by then. `None` where
/// there is not even the length for it in all that is free.
fn in_one_piece(state: &State, row: usize, stop: &dyn Fn() -> bool) -> Option<Cheapest> {
    let (problem, mut best) = (state.problem, Cheapest::default());
    if !may_do(state, &[row], &[]) {
        return None;
    }
    if !problem.glued[row].is_empty() {
        return Some(best);
    }
    let part = Part::whole(problem, row);
    let mut draft = Draft::new(state);
    draft.strip(row);
    for wood in long_enough(&draft, row, part.length(), stop) {
        if best.0.is_some() && stop() {
            break;
        }
        if let Some(seated) = draft.seat(row, &part, wood) {
            let change = [(row, [seated].into_iter().collect())]
                .into_iter()
                .collect();
            best.offer(state, change);
        }
    }
    Some(best)
}

/// Every strip with room for such a length, with some mates, both ways round.
fn long_enough(draft: &Draft, row: usize, least: Length, stop: &dyn Fn() -> bool) -> Vec<[u32; 2]> {
    let problem = draft.problem();
    let strips: Vec<u32> = (0..problem.woods.len() as u32)
        .filter(|&strip| longest(&draft.room([strip, NONE])) >= least)
        .collect();
    // In a rack of thousands, what suits the neighbours goes first: the time may not do for all.
    let large = problem.woods.len() > TABLED;
    let suits = match large {
        true => suits_neighbours(draft, row),
        false => BTreeSet::new(),
    };
    let mut in_order = strips.clone();
    in_order.sort_by_key(|strip| !suits.contains(strip));
    if !problem.rows[row].mirrored {
        return in_order.into_iter().map(|strip| [strip, NONE]).collect();
    }
    let mut found = Vec::new();
    for strip in in_order {
        if !found.is_empty() && stop() {
            break;
        }
        let mates = problem.mates[strip as usize].iter().copied();
        let mates = mates.filter(|mate| longest(&draft.room([strip, *mate])) >= least);
        found.extend(
            mates
                .take(MATES)
                .flat_map(|mate| [[strip, mate], [mate, strip]]),
        );
        for mate in fosters(problem, strip, &strips) {
            found.extend([[strip, mate], [mate, strip]]);
        }
    }
    if !large {
        found.sort_unstable();
        found.dedup();
    }
    found
}

/// The strips that would look best beside what lies next to a course.
fn suits_neighbours(draft: &Draft, row: usize) -> BTreeSet<u32> {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let beside = [r.before, r.after].into_iter().flatten();
    let parts = beside.flat_map(|beside| draft.timber(beside));
    let strips = parts.flat_map(|part| part.sides().map(|side| part.wood[side]));
    let alike = strips.flat_map(|strip| problem.alike(strip).iter().copied());
    alike.collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::asked::{Progress, Quiet, Watch};
    use crate::solve::jobs::long_boat;
    use crate::solve::rng::stream;

    /// Whoever wants it ended before it has begun.
    struct AtOnce;

    impl Watch for AtOnce {
        fn progress(&self, _: &Progress) {}
        fn stop(&self) -> bool {
            true
        }
    }

    #[test]
    fn once_the_time_is_up_a_rack_of_thousands_is_not_gone_through_for_one_course() {
        let problem = Problem::new(&long_boat(3, TABLED + 100, 1));
        let mut state = State::bare(&problem);
        let clock = Clock::new(None, &AtOnce);
        let (was, mut rng) = (|_| None, stream(1, 0));
        mend(&mut state, &was, Upset::Least, &mut rng, &clock);
        let closed = open(&state).len() < problem.rows.len();
        assert!(closed && problem.held_against_others() < 100);
    }

    #[test]
    fn where_all_wood_together_is_shorter_than_a_course_no_joints_are_tried() {
        // A pair of 6.2 m for three courses of about 6 m: two stay open, and 0.4 m is left.
        let mut job = long_boat(3, 2, 1);
        job.rules.joints.shortest_piece = crate::units::Length::ZERO;
        let problem = Problem::new(&job);
        let mut state = State::bare(&problem);
        let mut rng = stream(1, 0);
        close_quickly(&mut state, &mut rng, &|| false);
        assert_eq!(open(&state).len(), 2);
        let drawn = rng.clone();
        let clock = Clock::new(None, &Quiet);
        close_each(&mut state, &|_| None, Upset::Least, &mut rng, &clock);
        assert_eq!((open(&state).len(), rng), (2, drawn));
    }
}
