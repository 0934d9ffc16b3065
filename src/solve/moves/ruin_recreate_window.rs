//! Some courses in a row are stripped and laid anew by a beam search, from the boards that lie there and a few more.

use super::pick;
use crate::solve::beam;
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::tuning::moves::{MORE_BOARDS, WINDOW};
use rand::RngExt;

/// A window is drawn, and boards: those on its courses and beside them, of which one may have to make room, and some
/// at random.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let problem = state.problem;
    let first = pick::laid(state, rng)?;
    let most = rng.random_range(WINDOW[0]..=WINDOW[1]);
    let mut rows = pick::onward(state, first, most);
    rows.truncate(
        { rows.iter() }
            .take_while(|&&row| problem.glued[row].is_empty())
            .count(),
    );
    let (&first, &last) = (rows.first()?, rows.last()?);
    let beside = [problem.rows[first].before, problem.rows[last].after];
    let mut boards: Vec<Vec<u32>> = Vec::new();
    let offer = |strip: u32, boards: &mut Vec<Vec<u32>>| {
        if strip != NONE
            && !boards
                .iter()
                .any(|board| problem.one_board(board[0], strip))
        {
            boards.push(pick::slices(problem, strip));
        }
    };
    let there = rows.iter().copied().chain(beside.into_iter().flatten());
    for part in there.flat_map(|row| state.timber(row)) {
        part.wood
            .iter()
            .for_each(|&strip| offer(strip, &mut boards));
    }
    if boards.len() > 1 && rng.random_bool(0.5) {
        boards.swap_remove(rng.random_range(0..boards.len()));
    }
    for _ in 0..MORE_BOARDS {
        offer(rng.random_range(0..problem.woods.len() as u32), &mut boards);
    }
    for &row in &rows {
        draft.strip(row);
    }
    if rng.random_bool(0.5) {
        rows.reverse();
    }
    let change = beam::lay(draft, &rows, &boards)?.finish();
    let same = change
        .iter()
        .all(|(row, timber)| state.timber(*row) == timber);
    (!same).then_some(change)
}
