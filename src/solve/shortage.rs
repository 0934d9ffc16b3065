//! What is missing where the wood does not cover every course: tried out with wood that is not there, rather than
//! reckoned.

use super::asked::{Grounds, Joined, Remedy, Shortage};
use super::cover::{Decided, decide};
use super::draft::Draft;
use super::fill::{ConstructionParameters, fill, offers};
use super::problem::{NONE, Problem};
use super::rng::SearchRng;
use super::state::State;
use super::timber::Timber;
use crate::hull::CourseId;
use crate::solve::tuning::shortage::{GRAIN, ONE_BY_ONE, ONE_LENGTH};
use crate::units::Length;
use rand::SeedableRng;

/// What is missing, or `None` where every course is covered; `grounds` is how certain that is. Stopped, it leaves out
/// what it would have to try at length.
pub fn on(state: &State, grounds: Grounds, stop: &dyn Fn() -> bool) -> Option<Shortage> {
    let problem = state.problem;
    let open: Vec<usize> = (0..problem.rows.len())
        .filter(|&row| state.timber(row).is_empty())
        .collect();
    if open.is_empty() {
        return None;
    }
    let mut remedies = in_one_piece(state, &open, stop);
    remedies.extend(scarfed(state, &open, stop));
    Some(Shortage {
        open: ids(&open),
        remedies,
        grounds,
    })
}

fn ids(rows: &[usize]) -> Vec<CourseId> {
    rows.iter().map(|&row| CourseId(row)).collect()
}

/// A pair, or a strip, for each open course, so long that it can be cut from it alone: courses of about one length
/// together. A course that is begun is left out where even that would not help, because of its joints.
fn in_one_piece(state: &State, open: &[usize], stop: &dyn Fn() -> bool) -> Vec<Remedy> {
    let problem = state.problem;
    let needed = |row: usize| alone(problem, row).rounded_up(GRAIN);
    let mut rows = open.to_vec();
    rows.retain(|&row| {
        let begun = !problem.glued[row].is_empty() && problem.rows[row].mirrored;
        !begun || would_do(state, &[row], 1, needed(row), stop)
    });
    rows.sort_by_key(|&row| {
        (
            !problem.rows[row].mirrored,
            std::cmp::Reverse(alone(problem, row)),
            row,
        )
    });
    let mut remedies: Vec<Remedy> = Vec::new();
    for row in rows {
        let r = &problem.rows[row];
        let length = needed(row);
        let fits = |last: &&mut Remedy| {
            let same_wants = last
                .courses
                .iter()
                .all(|course| problem.allowed.band(course.0) == problem.allowed.band(row));
            same_wants
                && (last.pairs > 0) == r.mirrored
                && length.mm() >= ONE_LENGTH * last.length.mm()
        };
        match remedies.last_mut().filter(fits) {
            Some(last) => {
                last.pairs += usize::from(r.mirrored);
                last.strips += usize::from(!r.mirrored);
                last.courses.push(CourseId(row));
            }
            None => remedies.push(Remedy {
                pairs: usize::from(r.mirrored),
                strips: usize::from(!r.mirrored),
                length,
                courses: vec![CourseId(row)],
                joined: Joined::OnePiece,
            }),
        }
    }
    for remedy in &mut remedies {
        remedy.courses.sort_unstable();
    }
    remedies
}

/// The length of strip, from end to end, that is enough for one side of a course, in one piece or, where it is begun,
/// round what is glued.
fn alone(problem: &Problem, row: usize) -> Length {
    let joints = problem.most.min(2 * problem.glued[row].len()) as i64;
    let a_joint = problem.half_scarf * 2 + problem.saw;
    problem.rows[row].one_piece() + problem.end_trim * 2 + a_joint * joints
}

/// The fewest and then the shortest new pairs with which every open course can be laid, together with what is left in
/// the rack; `None` where joints don't help, or centre courses are open as well.
fn scarfed(state: &State, open: &[usize], stop: &dyn Fn() -> bool) -> Option<Remedy> {
    let problem = state.problem;
    if problem.most == 0 || open.iter().any(|&row| !problem.rows[row].mirrored) {
        return None;
    }
    let whole = |row: &usize| problem.rows[*row].one_piece() + problem.end_trim * 2;
    let longest = open.iter().map(whole).max()?.rounded_up(GRAIN);
    let pairs = fewest(open.len(), |pairs| {
        would_do(state, open, pairs, longest, stop)
    })?;
    let (mut short, mut enough) = (Length::ZERO, longest);
    while enough - short > GRAIN {
        if stop() {
            return None;
        }
        let middle = short + (enough - short) / 2;
        if would_do(state, open, pairs, middle, stop) {
            enough = middle
        } else {
            short = middle
        }
    }
    let length = enough.rounded_up(GRAIN);
    // The binary search trusts that longer wood is never worse; the answer itself is tried, not trusted.
    let better = pairs < open.len() || length.mm() < 0.95 * longest.mm();
    (better && would_do(state, open, pairs, length, stop)).then(|| Remedy {
        pairs,
        strips: 0,
        length,
        courses: ids(open),
        joined: Joined::Scarfed,
    })
}

/// The fewest, up to so many, with which it will do: tried one after the other, and beyond a few by doubling and
/// halving, which trusts that more are never worse.
fn fewest(most: usize, will_do: impl Fn(usize) -> bool) -> Option<usize> {
    if let Some(few) = (1..=most.min(ONE_BY_ONE)).find(|&many| will_do(many)) {
        return Some(few);
    }
    let mut too_few = ONE_BY_ONE;
    while too_few < most {
        let many = (2 * too_few).min(most);
        if will_do(many) {
            let mut enough = many;
            while enough - too_few > 1 {
                let middle = too_few + (enough - too_few) / 2;
                match will_do(middle) {
                    true => enough = middle,
                    false => too_few = middle,
                }
            }
            return Some(enough);
        }
        too_few = many;
    }
    None
}

/// Whether the open courses can be laid when so many pairs of such a length are added. Stopped, it finds that they
/// can't.
fn would_do(
    state: &State,
    open: &[usize],
    pairs: usize,
    length: Length,
    stop: &dyn Fn() -> bool,
) -> bool {
    let more = state.problem.with_more_pairs(pairs, length);
    let mut trial = State::bare(&more);
    let laid: Vec<(usize, Timber)> = (0..more.rows.len())
        .map(|row| (row, state.timber(row).clone()))
        .collect();
    trial.make(laid.into_iter().collect());
    let first = state.problem.woods.len() as u32;
    let new: Vec<[u32; 2]> = (0..pairs as u32)
        .map(|i| [first + 2 * i, first + 2 * i + 1])
        .collect();
    let mut rng = SearchRng::seed_from_u64(0);
    let parameters = ConstructionParameters {
        alike: 12,
        random: 60,
        places: 24,
        joints_for_looks: 1.0,
        thrifty: 1.0,
        ..ConstructionParameters::NONE
    };
    let mut rows = open.to_vec();
    rows.sort_by_key(|&row| std::cmp::Reverse(more.rows[row].one_piece()));
    rows.iter().all(|&row| {
        if stop() {
            return false;
        }
        let mut draft = Draft::new(&trial);
        draft.strip(row);
        let wood = offers(&draft, row, &new, &parameters, &mut rng);
        debug_assert!(wood.iter().all(|wood| wood[1] != NONE));
        let done = fill(&mut draft, row, &wood, &parameters, &mut rng);
        let change = match done {
            true => Some(draft.finish()),
            false if more.glued[row].is_empty() => None,
            // Round what is glued there may be a way that the usual one misses.
            false => match decide(&trial, &[row], stop) {
                Decided::Covered(change) => Some(*change),
                _ => None,
            },
        };
        let done = change.is_some();
        trial.make(change.unwrap_or_default());
        done
    })
}
