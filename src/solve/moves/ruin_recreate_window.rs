//! Some courses in a row are stripped and laid anew by a beam search, from the boards that lie there and a few more.

use super::pick;
use crate::solve::beam;
use crate::solve::draft::Draft;
use crate::solve::problem::{NONE, Problem};
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::Timber;
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
    let glued = rows.iter().position(|&row| !problem.glued[row].is_empty());
    rows.truncate(glued.unwrap_or(most));
    let last = *rows.last()?;
    let mut boards: Vec<Vec<u32>> = Vec::new();
    let beside = [problem.rows[first].before, problem.rows[last].after];
    for row in rows.iter().copied().chain(beside.into_iter().flatten()) {
        let wood = state.timber(row).iter().flat_map(|part| part.wood);
        wood.for_each(|strip| offer(problem, strip, &mut boards));
    }
    if boards.len() > 1 && rng.random_bool(0.5) {
        boards.swap_remove(rng.random_range(0..boards.len()));
    }
    for _ in 0..MORE_BOARDS {
        let strip = rng.random_range(0..problem.woods.len() as u32);
        offer(problem, strip, &mut boards);
    }
    rows.iter().for_each(|&row| draft.strip(row));
    if rng.random_bool(0.5) {
        rows.reverse();
    }
    let change = beam::lay(draft, &rows, &boards)?.finish();
    let is_new = |(row, timber): &(usize, Timber)| state.timber(*row) != timber;
    change.iter().any(is_new).then_some(change)
}

/// Adds the board of a strip, where it is not there yet.
fn offer(problem: &Problem, strip: u32, boards: &mut Vec<Vec<u32>>) {
    let is_of = |board: &Vec<u32>| problem.one_board(board[0], strip);
    if strip != NONE && !boards.iter().any(is_of) {
        boards.push(pick::slices(problem, strip));
    }
}
