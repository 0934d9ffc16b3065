//! Courses of one board slide along their strips together, until they are in register with the course beside them.

use super::pick;
use crate::plan::BowEnd;
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rng::SearchRng;
use crate::solve::state::{Change, State};
use crate::solve::timber::Part;
use crate::units::Length;
use rand::RngExt;

/// A seam within a board is drawn, and the courses of that board on one side of it slide as far as they have to, or as
/// the wood lets them. One course alone would be out of register with the others.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let problem = state.problem;
    let next = |row: usize, onward: bool| match onward {
        true => problem.rows[row].after,
        false => problem.rows[row].before,
    };
    let onward = rng.random_bool(0.5);
    let beside = pick::laid(state, rng)?;
    let first = next(beside, onward)?;
    let mut by = slip(state, first, beside).filter(|slip| *slip != 0.0)?;
    let mut run = vec![first];
    while let Some(row) = next(run[run.len() - 1], onward) {
        match slip(state, row, run[run.len() - 1]) {
            Some(_) => run.push(row),
            None => break,
        }
    }
    run.iter().for_each(|&row| draft.strip(row));
    for part in run.iter().flat_map(|&row| state.timber(row)) {
        let (back, on) = reach(&draft, part)?;
        by = by.clamp(-back, on);
    }
    for row in run {
        let slid: Vec<Part> = state
            .timber(row)
            .iter()
            .map(|part| slid(part, by))
            .collect();
        if by == 0.0 || !draft.place_all(row, &slid) {
            return None;
        }
    }
    Some(draft.finish())
}

/// By how much the figure of a course lies aft of that of the course beside it; `None` where they don't meet as strips
/// of one board, the same end to the bow. Unit: mm.
fn slip(state: &State, row: usize, beside: usize) -> Option<f64> {
    let (part, other) = (state.timber(row).first()?, state.timber(beside).first()?);
    let kin = |&(i, j): &(usize, usize)| {
        let wood = [part.wood[i], other.wood[j]];
        let known = !wood.contains(&NONE) && state.problem.one_board(wood[0], wood[1]);
        known && part.bow[i] == other.bow[j]
    };
    let (i, j) = [(0, 0), (0, 1), (1, 0), (1, 1)].into_iter().find(kin)?;
    Some(part.register(i) - other.register(j))
}

/// How far the figure of a part could slide aft and forward. Unit: mm.
fn reach(draft: &Draft, part: &Part) -> Option<(f64, f64)> {
    let (mut aft, mut forward) = (f64::INFINITY, f64::INFINITY);
    for side in part.sides() {
        let (from, to) = part.span(side);
        let room = draft.room([part.wood[side], NONE]);
        let &(a, b) = room.iter().find(|&&(a, b)| a <= from && to <= b)?;
        let (toward_mark, toward_plain) = ((from - a).mm(), (b - to).mm());
        let (back, on) = match part.bow[side] {
            BowEnd::Mark => (toward_mark, toward_plain),
            BowEnd::Plain => (toward_plain, toward_mark),
        };
        (aft, forward) = (aft.min(back), forward.min(on));
    }
    Some((aft, forward))
}

/// A part whose figure lies so much further forward. Unit: mm.
fn slid(part: &Part, by: f64) -> Part {
    let cut = |side: usize| match part.bow[side] {
        BowEnd::Mark => part.cut[side] + Length::from_mm(by),
        BowEnd::Plain => part.cut[side] - Length::from_mm(by),
    };
    Part {
        cut: [cut(0), cut(1)],
        ..*part
    }
}
