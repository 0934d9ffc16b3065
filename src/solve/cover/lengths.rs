//! Wood that is too short by its lengths alone: seen at a glance, so that nobody searches for what can't be there.

use crate::solve::problem::{Glued, Problem};
use crate::solve::rack::Rack;
use crate::solve::state::State;
use crate::units::Length;

/// What the lengths alone show to be missing.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TooShort {
    /// In one piece each, the courses ask for more long strips than there are.
    TooFewLong,
    /// All clear wood together is shorter than the courses are, by so much.
    TooLittle(Length),
}

/// Whether the lengths of what is left show that not every course can be covered. Where they don't, nothing follows.
pub fn too_short(problem: &Problem) -> Option<TooShort> {
    let rack = Rack::before(problem);
    let stretches: Vec<Length> = (0..problem.woods.len() as u32)
        .flat_map(|strip| rack.room(problem, strip, &[], &[]))
        .map(|(from, to)| to - from)
        .collect();
    let asked: Vec<Side> = (0..problem.rows.len())
        .flat_map(|row| asked(problem, row))
        .collect();
    if too_few_long(problem, &stretches, &asked) {
        return Some(TooShort::TooFewLong);
    }
    let all: Length = asked.iter().map(|side| side.length).sum();
    let missing = all - stretches.into_iter().sum();
    (missing > Length::ZERO).then_some(TooShort::TooLittle(missing))
}

/// Whether the lengths of what is free leave it possible to lay some open courses, with some others open as well.
pub fn may_do(state: &State, rows: &[usize], open: &[usize]) -> bool {
    let problem = state.problem;
    let asked: Vec<Length> = { rows.iter() }
        .flat_map(|&row| asked(problem, row))
        .map(|side| side.length)
        .collect();
    let shortest = asked.iter().copied().fold(problem.shortest, Length::min);
    let mut missing: Length = asked.into_iter().sum();
    (0..problem.woods.len() as u32).any(|strip| {
        let room = state.rack().room(problem, strip, open, &[]);
        let of_use = room.iter().map(|&(from, to)| to - from);
        missing = missing - of_use.filter(|length| *length >= shortest).sum();
        missing <= Length::ZERO
    })
}

/// What one side of a course still takes.
pub struct Side {
    /// At least so much wood.
    pub length: Length,
    /// Whether it takes that in one piece.
    whole: bool,
}

pub fn asked(problem: &Problem, row: usize) -> impl Iterator<Item = Side> {
    let r = &problem.rows[row];
    let side = move |side: usize| {
        let glued: Length = problem.glued_on(row, side).map(Glued::length).sum();
        Side {
            length: (r.one_piece() - glued).max(Length::ZERO),
            whole: glued == Length::ZERO && (problem.most == 0 || r.joint_windows.is_empty()),
        }
    };
    (0..r.sides()).map(side)
}

/// Whether more pieces of some length are asked for than the stretches hold, however they are cut.
fn too_few_long(problem: &Problem, stretches: &[Length], asked: &[Side]) -> bool {
    let mut whole: Vec<Length> = asked
        .iter()
        .filter(|side| side.whole)
        .map(|side| side.length)
        .collect();
    whole.sort_unstable_by(|a, b| b.cmp(a));
    let mut long = stretches.to_vec();
    long.sort_unstable_by(|a, b| b.cmp(a));
    (1..).zip(&whole).any(|(so_many, least)| {
        // Each stretch that is long enough holds one at least: counting further is worth it only where these are too
        // few.
        let holds_one = |room: &Length| room >= least;
        if long.get(so_many - 1).is_some_and(holds_one) {
            return false;
        }
        let held: i64 = { long.iter().take_while(|room| holds_one(room)) }
            .map(|&room| (room + problem.saw) / (*least + problem.saw).max(Length::NM))
            .sum();
        so_many as i64 > held
    })
}
