//! Some courses are stripped and laid anew from what was lifted and what is in the rack.

use super::{Dice, pick};
use crate::solve::draft::Draft;
use crate::solve::fill::{Appetite, fill, offers};
use crate::solve::state::{Change, State};
use rand::RngExt;
use rand::seq::SliceRandom;

/// Courses are drawn by a reason they have in common (a run, a strip, a place) and refilled, mostly from one side to the other.
pub fn propose(mut draft: Draft, dice: &mut Dice) -> Option<Change> {
    let state = draft.state;
    let mut rows = choose(state, dice)?;
    let mut lifted = Vec::new();
    for &row in &rows {
        lifted.extend(state.timber(row).iter().map(|part| part.wood));
        draft.strip(row);
    }
    match dice.random_range(0..3) {
        0 => rows.sort_unstable(),
        1 => rows.sort_unstable_by(|a, b| b.cmp(a)),
        _ => rows.shuffle(dice),
    }
    let was_open = rows.iter().any(|&row| state.timber(row).is_empty());
    let appetite = Appetite {
        alike: 6,
        random: 4,
        foster: usize::from(dice.random_bool(0.1)) * 4,
        places: 12,
        joints_for_looks: 0.3,
        thrifty: if was_open || dice.random_bool(0.2) {
            dice.random_range(0.0..3.0)
        } else {
            0.0
        },
        stint: [0.0, 0.1, 0.35][dice.random_range(0..3)],
        jitter: [0.0, 0.1, 0.8][dice.random_range(0..3)],
    };
    let mut laid = false;
    for &row in &rows {
        let wood = offers(&draft, row, &lifted, &appetite, dice);
        if fill(&mut draft, row, &wood, &appetite, dice) {
            laid = true;
        } else if !state.timber(row).is_empty() && !was_open {
            return None;
        }
    }
    laid.then(|| draft.finish())
}

/// A few courses worth laying anew together.
fn choose(state: &State, dice: &mut Dice) -> Option<Vec<usize>> {
    let problem = state.problem;
    let mut first = pick::any(state, dice);
    let count = dice.random_range(1..=4);
    if state.open() > 0 && dice.random_bool(0.5) {
        // An open course, and some that it might get wood from.
        first = (0..problem.rows.len())
            .cycle()
            .skip(first)
            .find(|&row| state.timber(row).is_empty())?;
        let mut rows = vec![first];
        for _ in 0..dice.random_range(1..=6) {
            let other = dice.random_range(0..problem.rows.len());
            if !rows.contains(&other) {
                rows.push(other);
            }
        }
        return Some(rows);
    }
    let mut rows = vec![first];
    match dice.random_range(0..4) {
        // A run.
        0 | 1 => {
            while rows.len() < count {
                match problem.rows[rows[rows.len() - 1]].after {
                    Some(after) => rows.push(after),
                    None => break,
                }
            }
        }
        // Courses that share strips, or the strips' mates.
        2 => {
            let timber = state.timber(first);
            for part in timber {
                for side in part.sides() {
                    rows.extend(state.rack().serves(part.wood[side]));
                    for &mate in problem.mates[part.wood[side] as usize].iter().take(2) {
                        rows.extend(state.rack().serves(mate));
                    }
                }
            }
            let mut seen = Vec::new();
            rows.retain(|row| {
                !seen.contains(row) && {
                    seen.push(*row);
                    true
                }
            });
            rows.truncate(count.max(2));
        }
        // Courses whose wood would look well here.
        _ => {
            for _ in 0..count - 1 {
                let Some(part) = state.timber(first).first() else {
                    break;
                };
                if let Some((strip, _)) = pick::alike(state, first, part, dice) {
                    rows.extend(
                        state
                            .rack()
                            .serves(strip)
                            .filter(|row| !rows.contains(row))
                            .take(1)
                            .collect::<Vec<_>>(),
                    );
                }
            }
        }
    }
    Some(rows)
}
