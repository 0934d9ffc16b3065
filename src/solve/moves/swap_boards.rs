//! Two boards change places: each course that one of them serves in a run is cut anew with wood of the other.

use super::relay::cut_anew;
use super::{Dice, pick};
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rack::longest;
use crate::solve::state::Change;
use rand::RngExt;

/// How many pairs of the board each course may choose from: the first that are left, counted from one end.
const CHOICE: usize = 2;

/// A run of pieces of one board is drawn, and one of another board whose wood would look well there; or one that lies idle.
pub fn propose(mut draft: Draft, dice: &mut Dice) -> Option<Change> {
    let state = draft.state;
    let problem = state.problem;
    let first = pick::part(state, dice)?;
    let part = state.timber(first.0)[first.1];
    let going = part.wood[0];
    let coming = if dice.random_bool(0.7) {
        pick::alike(state, first.0, &part, dice)?.0
    } else {
        dice.random_range(0..problem.woods.len() as u32)
    };
    if problem.one_board(going, coming) || going == coming {
        return None;
    }
    let one = pick::of_board(state, first);
    let other = match state.rack().serves(coming).next() {
        Some(row) => pick::of_board(state, (row, pick::part_of(state, row, coming)?)),
        None => Vec::new(),
    };
    let rows = |run: &[(usize, usize)]| run.iter().map(|&(row, _)| row).collect::<Vec<usize>>();
    let (ones, mut others) = (rows(&one), rows(&other));
    // A course that both boards serve goes with the first run.
    others.retain(|row| !ones.contains(row));
    for &row in ones.iter().chain(&others) {
        draft.strip(row);
    }
    for (mut run, strip) in [(ones, coming), (others, going)] {
        if dice.random_bool(0.5) {
            run.reverse();
        }
        let mut strips = slices(&draft, strip);
        if dice.random_bool(0.5) {
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
                .chain(choice(&draft, row, &strips))
                .collect();
            if !cut_anew(&mut draft, row, wood.into_iter(), dice) {
                return None;
            }
        }
    }
    Some(draft.finish())
}

/// All strips of a board, in the order of the saw cuts.
fn slices(draft: &Draft, strip: u32) -> Vec<u32> {
    let problem = draft.problem();
    let mates = problem.mates[strip as usize].iter().copied();
    let mut strips: Vec<u32> = std::iter::once(strip).chain(mates).collect();
    strips.sort_unstable_by_key(|&strip| problem.woods[strip as usize].seq);
    strips
}

/// The first pairs of neighbouring strips with room to speak of; single strips for a centre course.
fn choice(draft: &Draft, row: usize, strips: &[u32]) -> Vec<[u32; 2]> {
    let problem = draft.problem();
    let room = |wood: &[u32; 2]| longest(&draft.room(*wood)) >= problem.shortest;
    if !problem.rows[row].mirrored {
        let all = strips.iter().map(|&strip| [strip, NONE]);
        return all.filter(room).take(CHOICE).collect();
    }
    let mut found: Vec<[u32; 2]> = Vec::new();
    for pair in strips.windows(2).map(|pair| [pair[0], pair[1]]) {
        let shares = found.last().is_some_and(|last| last[1] == pair[0]);
        if !shares && room(&pair) {
            found.push(pair);
            if found.len() == CHOICE {
                break;
            }
        }
    }
    found
}
