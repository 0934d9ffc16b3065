//! A stretch of a panel is planked anew with another board, as far as that reaches; the courses that the board served
//! elsewhere are laid with what suits them best of all that is left.

use super::pick;
use super::relay::cut_anew;
use crate::solve::draft::Draft;
use crate::solve::fill::{fill, offers};
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::tuning::moves::{CHOICE, LONGEST_ANEW, MOST_ELSEWHERE, REST};
use rand::RngExt;

/// A stretch is drawn, and a board that would look well at one end of it, or any.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let problem = state.problem;
    let mut run = pick::stretch(state, LONGEST_ANEW, rng)?;
    if rng.random_bool(0.5) {
        run.reverse();
    }
    let first = run[0];
    let beside = match rng.random_bool(0.8) {
        true => {
            let r = &problem.rows[first];
            let outer = [r.before, r.after].into_iter().flatten();
            outer
                .filter(|row| !run.contains(row))
                .find_map(|row| state.timber(row).first().copied())
        }
        false => None,
    };
    let coming = match beside {
        Some(part) => pick::beside(problem, part.wood[0], rng)?,
        None => rng.random_range(0..problem.woods.len() as u32),
    };
    let mut strips = pick::slices(problem, coming);
    let going = problem.board(state.timber(first).first()?.wood[0]);
    if problem.board(coming) == going {
        return None;
    }
    let mut elsewhere: Vec<usize> = Vec::new();
    for &strip in &strips {
        for row in state.rack().serves(strip) {
            if !run.contains(&row) && !elsewhere.contains(&row) {
                elsewhere.push(row);
            }
        }
    }
    if elsewhere.len() > MOST_ELSEWHERE {
        return None;
    }
    elsewhere.sort_unstable();
    if rng.random_bool(0.5) {
        elsewhere.reverse();
    }
    let mut lifted: Vec<[u32; 2]> = Vec::new();
    for &row in &elsewhere {
        lifted.extend(state.timber(row).iter().map(|part| part.wood));
        draft.strip(row);
    }
    // Nearest to the neighbour first.
    let nearer = |end: Option<&u32>| match (beside, end) {
        (Some(part), Some(&strip)) => problem.seam_rate(part.wood[0], strip),
        _ => 0.0,
    };
    let back = nearer(strips.last()) < nearer(strips.first());
    if back != rng.random_bool(0.15) {
        strips.reverse();
    }
    // As far as the board reaches; the courses after that stay as they are.
    let mut rest = elsewhere;
    for &row in &run {
        let pairs = pick::pairs(&draft, row, &strips, problem.shortest, CHOICE);
        if pairs.is_empty() {
            // Even at the first course: then only those are laid anew that the board served elsewhere, which was found
            // to do as much good as drawing another board would.
            break;
        }
        lifted.extend(state.timber(row).iter().map(|part| part.wood));
        draft.strip(row);
        if !cut_anew(&mut draft, row, pairs.into_iter(), rng) {
            rest.insert(0, row);
            break;
        }
    }
    for row in rest {
        let wood = offers(&draft, row, &lifted, &REST, rng);
        if !fill(&mut draft, row, &wood, &REST, rng) {
            return None;
        }
    }
    Some(draft.finish())
}
