//! Two boards change places: each course that one of them serves in a run is cut anew with wood of the other.

use super::pick;
use super::relay::cut_anew;
use crate::solve::draft::Draft;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::tuning::moves::CHOICE;
use rand::RngExt;

/// A run of pieces of one board is drawn, and one of another board whose wood would look well there; or one that lies
/// idle.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let problem = state.problem;
    let first = pick::part(state, rng)?;
    let part = state.timber(first.0)[first.1];
    let going = part.wood[0];
    let coming = if rng.random_bool(0.7) {
        pick::alike(state, first.0, &part, rng)?.0
    } else {
        rng.random_range(0..problem.woods.len() as u32)
    };
    if problem.one_board(going, coming) || going == coming {
        return None;
    }
    let one = pick::of_board(state, first);
    let other = match state.rack().is_whole(coming) {
        true => Vec::new(),
        false => pick::of_board(state, pick::place_of(state, coming)?),
    };
    let rows = |run: &[(usize, usize)]| run.iter().map(|&(row, _)| row).collect::<Vec<usize>>();
    let (ones, mut others) = (rows(&one), rows(&other));
    // A course that both boards serve goes with the first run.
    others.retain(|row| !ones.contains(row));
    for &row in ones.iter().chain(&others) {
        draft.strip(row);
    }
    for (mut run, strip) in [(ones, coming), (others, going)] {
        if rng.random_bool(0.5) {
            run.reverse();
        }
        let mut strips = pick::slices(problem, strip);
        if rng.random_bool(0.5) {
            strips.reverse();
        }
        for row in run {
            let stays = |wood: &[u32; 2]| {
                [going, coming]
                    .iter()
                    .all(|&gone| wood[0] != gone && !problem.one_board(wood[0], gone))
            };
            let lay = state.timber(row).iter().map(|part| part.wood);
            let wood: Vec<[u32; 2]> = lay
                .filter(stays)
                .chain(pick::pairs(&draft, row, &strips, problem.shortest, CHOICE))
                .collect();
            if !cut_anew(&mut draft, row, wood.into_iter(), rng) {
                return None;
            }
        }
    }
    Some(draft.finish())
}
