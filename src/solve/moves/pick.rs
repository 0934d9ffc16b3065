//! What the moves pick at random: a laid course, a part of it, wood that would look well there.

use crate::solve::draft::Draft;
use crate::solve::problem::{NONE, Problem};
use crate::solve::rack::longest;
use crate::solve::rng::SearchRng;
use crate::solve::state::State;
use crate::solve::timber::Part;
use crate::solve::tuning::moves::{FROM_WANT, MOST_BOARDS};
use crate::units::Length;
use rand::RngExt;

/// Any course that the work is on.
pub fn any(state: &State, rng: &mut SearchRng) -> usize {
    match state.focus() {
        [] => rng.random_range(0..state.problem.rows.len()),
        focus => focus[rng.random_range(0..focus.len())],
    }
}

/// A course that is laid; `None` where luck has it that an open one was drawn.
pub fn laid(state: &State, rng: &mut SearchRng) -> Option<usize> {
    let row = any(state, rng);
    (!state.timber(row).is_empty()).then_some(row)
}

/// A part of a laid course.
pub fn part(state: &State, rng: &mut SearchRng) -> Option<(usize, usize)> {
    let row = laid(state, rng)?;
    Some((row, rng.random_range(0..state.timber(row).len())))
}

/// A strip that would look well beside one of the neighbours of a part, and the side that it should go on.
pub fn alike(state: &State, row: usize, part: &Part, rng: &mut SearchRng) -> Option<(u32, usize)> {
    let r = &state.problem.rows[row];
    // Where a want leaves little choice, what looks well beside the neighbours is mostly not to be had.
    if let Some(choice) = state.problem.allowed.choice(row)
        && !choice.is_empty()
        && rng.random_bool(FROM_WANT)
    {
        let side = usize::from(r.mirrored && rng.random_bool(0.5));
        return Some((choice[rng.random_range(0..choice.len())], side));
    }
    let seams = &state.problem.seams;
    let on_stop_side = rng.random_range(0..2) == 1;
    let mut on_side = r
        .seams
        .iter()
        .map(|seam| &seams[*seam])
        .filter(|seam| (seam.upper == row) == on_stop_side);
    let seam = match on_side.clone().count() {
        0 => return None,
        1 => on_side.next(),
        several => on_side.nth(rng.random_range(0..several)),
    };
    let timber = state.timber(seam?.beside(row));
    let meets = |p: &&Part| p.x_from < part.x_to && part.x_from < p.x_to;
    let met = match timber.iter().filter(meets).count() {
        0 => return None,
        count => timber
            .iter()
            .filter(meets)
            .nth(rng.random_range(0..count))?,
    };
    let side = if met.wood[1] == NONE {
        0
    } else {
        rng.random_range(0..2)
    };
    Some((beside(state.problem, met.wood[side], rng)?, side))
}

/// A strip that would look well beside another, the better the likelier.
pub fn beside(problem: &Problem, strip: u32, rng: &mut SearchRng) -> Option<u32> {
    let list = problem.alike(strip);
    if list.is_empty() {
        return None;
    }
    let at = rng.random::<f64>().powi(2) * list.len() as f64;
    Some(list[at as usize])
}

/// The part of a course that is cut from a strip.
pub fn part_of(state: &State, row: usize, strip: u32) -> Option<usize> {
    state
        .timber(row)
        .iter()
        .position(|part| part.wood.contains(&strip))
}

/// The first piece that is cut from a strip; `None` where it is whole, or all that is cut from it is glued on a course
/// that is open.
pub fn place_of(state: &State, strip: u32) -> Option<(usize, usize)> {
    let row = state.rack().serves(strip).next()?;
    Some((row, part_of(state, row, strip)?))
}

/// The pieces at some places.
pub fn parts(state: &State, places: &[(usize, usize)]) -> Vec<Part> {
    let part = |&(row, at): &(usize, usize)| state.timber(row)[at];
    places.iter().map(part).collect()
}

/// A run of laid courses that follow each other in one panel, all mirrored or all centre: any, or one that begins and
/// ends where one board takes over from another.
pub fn run(state: &State, longest: usize, rng: &mut SearchRng) -> Option<Vec<usize>> {
    let first = laid(state, rng)?;
    let run = if rng.random_bool(0.6) {
        board_run(state, first, longest, rng)
    } else {
        let want = rng.random_range(2..=longest.max(2));
        onward(state, first, want)
    };
    (run.len() > 1).then_some(run)
}

/// A laid course and those after it that are laid and of the same kind, at most so many.
pub fn onward(state: &State, first: usize, most: usize) -> Vec<usize> {
    let onward = std::iter::successors(Some(first), |&row| next(state, row, Way::Onward));
    onward.take(most).collect()
}

/// Which way along a panel.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Way {
    /// Towards the stop line.
    Onward,
    /// Towards the start line.
    Back,
}

/// The laid course beside one, where it is of the same kind, mirrored or centre.
fn next(state: &State, row: usize, way: Way) -> Option<usize> {
    let rows = &state.problem.rows;
    let next = match way {
        Way::Onward => rows[row].after?,
        Way::Back => rows[row].before?,
    };
    (!state.timber(next).is_empty() && rows[next].mirrored == rows[row].mirrored).then_some(next)
}

/// The board of a piece, on port.
fn board(state: &State, (row, at): (usize, usize)) -> u32 {
    state.problem.board(state.timber(row)[at].wood[0])
}

/// Whole boards at the bow, one after the other, around a course.
fn board_run(state: &State, row: usize, longest: usize, rng: &mut SearchRng) -> Vec<usize> {
    let same = |a: usize, b: usize| board(state, (a, 0)) == board(state, (b, 0));
    let mut first = row;
    while let Some(before) = next(state, first, Way::Back).filter(|&before| same(first, before)) {
        first = before;
    }
    let mut run = vec![first];
    let mut boards = rng.random_range(1..=MOST_BOARDS);
    let mut row = first;
    while let Some(after) = next(state, row, Way::Onward) {
        boards -= usize::from(!same(row, after));
        if boards == 0 || run.len() >= longest {
            break;
        }
        run.push(after);
        row = after;
    }
    run
}

/// Where in a run one board takes over from another at the bow.
pub fn changes(state: &State, run: &[usize]) -> Vec<usize> {
    let changes = |i: &usize| board(state, (run[*i], 0)) != board(state, (run[i - 1], 0));
    (1..run.len()).filter(changes).collect()
}

/// The piece of the course beside it that a piece meets along the greatest length.
fn across(state: &State, (row, at): (usize, usize), way: Way) -> Option<(usize, usize)> {
    let next = next(state, row, way)?;
    let part = &state.timber(row)[at];
    let met = |p: &Part| p.x_to.min(part.x_to) - p.x_from.max(part.x_from);
    let all = state.timber(next).iter().map(met).enumerate();
    let (most, _) = all.max_by(|a, b| a.1.total_cmp(&b.1))?;
    Some((next, most))
}

/// A run of pieces, each on the course beside the one before: at least the first.
pub fn part_run(
    state: &State,
    first: (usize, usize),
    want: usize,
    rng: &mut SearchRng,
) -> Vec<(usize, usize)> {
    let way = match rng.random_bool(0.5) {
        true => Way::Onward,
        false => Way::Back,
    };
    let run = std::iter::successors(Some(first), |&place| across(state, place, way));
    run.take(want).collect()
}

/// The run of pieces of one board around one of them, in the order of the courses.
pub fn of_board(state: &State, first: (usize, usize)) -> Vec<(usize, usize)> {
    let of_it = |way: Way| {
        let on = move |&place: &(usize, usize)| {
            across(state, place, way).filter(|&next| board(state, next) == board(state, first))
        };
        std::iter::successors(Some(first), on)
    };
    let mut run: Vec<(usize, usize)> = of_it(Way::Back).collect();
    run.reverse();
    run.extend(of_it(Way::Onward).skip(1));
    run
}

/// Lifts pieces off their courses.
pub fn lift_all(draft: &mut Draft, places: &[(usize, usize)]) {
    for (i, &(row, _)) in places.iter().enumerate() {
        if places[..i].iter().all(|(other, _)| *other != row) {
            draft.lift(row, |at| places.contains(&(row, at)));
        }
    }
}

/// A pair with room for a part, on a piece's course, that would look well beside the piece's neighbours.
pub fn spare(draft: &Draft, row: usize, part: &Part, rng: &mut SearchRng) -> Option<[u32; 2]> {
    let problem = draft.problem();
    let (strip, side) = alike(draft.state, row, part, rng)?;
    if !problem.rows[row].mirrored {
        let enough = longest(&draft.room([strip, NONE])) >= part.length();
        return enough.then_some([strip, NONE]);
    }
    let mate = draft.mates(strip, part.length()).next()?;
    Some(if side == 0 {
        [strip, mate]
    } else {
        [mate, strip]
    })
}

/// All strips of a board, in the order of the saw cuts.
pub fn slices(problem: &Problem, strip: u32) -> Vec<u32> {
    let mates = problem.mates[strip as usize].iter().copied();
    let mut strips: Vec<u32> = std::iter::once(strip).chain(mates).collect();
    strips.sort_unstable_by_key(|&strip| problem.woods[strip as usize].seq);
    strips
}

/// The first pairs of neighbours among some strips that have so much room, at most so many and no strip twice; single
/// strips for a centre course.
pub fn pairs(draft: &Draft, row: usize, all: &[u32], least: Length, most: usize) -> Vec<[u32; 2]> {
    let room = |wood: &[u32; 2]| longest(&draft.room(*wood)) >= least;
    if !draft.problem().rows[row].mirrored {
        let single = all.iter().map(|&strip| [strip, NONE]);
        return single.filter(room).take(most).collect();
    }
    let mut found: Vec<[u32; 2]> = Vec::new();
    let mut left = all;
    while found.len() < most
        && let [one, mate, ..] = left
    {
        let pair = [*one, *mate];
        let fits = room(&pair);
        if fits {
            found.push(pair);
        }
        left = &left[if fits { 2 } else { 1 }..];
    }
    found
}
