//! Some courses are stripped and laid anew from what was lifted and what is in the rack.

use super::pick;
use crate::solve::draft::Draft;
use crate::solve::fill::{ConstructionParameters, fill_within, offers};
use crate::solve::rng::SearchRng;
use crate::solve::state::{Change, State};
use crate::solve::tuning::moves::RUINED;
use rand::RngExt;
use rand::seq::SliceRandom;

/// Courses are drawn by a reason they have in common (a run, a strip, a place) and refilled, mostly from one side to
/// the other.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let mut rows = choose(state, rng)?;
    let mut lifted = Vec::new();
    for &row in &rows {
        lifted.extend(state.timber(row).iter().map(|part| part.wood));
        draft.strip(row);
    }
    match rng.random_range(0..3) {
        0 => rows.sort_unstable(),
        1 => rows.sort_unstable_by(|a, b| b.cmp(a)),
        _ => rows.shuffle(rng),
    }
    let was_open = rows.iter().any(|&row| state.timber(row).is_empty());
    let parameters = ConstructionParameters {
        alike: 6,
        random: 4,
        foster: usize::from(rng.random_bool(0.1)) * 4,
        places: 12,
        joints_for_looks: 0.3,
        thrifty: if was_open || rng.random_bool(0.2) {
            rng.random_range(0.0..3.0)
        } else {
            0.0
        },
        partial: [0.0, 0.1, 0.35][rng.random_range(0..3)],
        jitter: [0.0, 0.1, 0.8][rng.random_range(0..3)],
    };
    let mut laid = false;
    for &row in &rows {
        let most = draft.cut_off(row);
        if most <= 0.0 {
            return None;
        }
        let wood = offers(&draft, row, &lifted, &parameters, rng);
        if fill_within(&mut draft, row, &wood, &parameters, most, rng) {
            laid = true;
        } else if !state.timber(row).is_empty() && !was_open {
            return None;
        }
    }
    laid.then(|| draft.finish())
}

/// A few courses worth laying anew together.
fn choose(state: &State, rng: &mut SearchRng) -> Option<Vec<usize>> {
    let problem = state.problem;
    let mut first = pick::any(state, rng);
    let count = match state.is_covered() {
        true => RUINED[rng.random_range(0..RUINED.len())],
        // Where a course is open, several have to make room.
        false => rng.random_range(1..=4),
    };
    if !state.is_covered() && rng.random_bool(0.5) {
        // An open course, and some that it might get wood from.
        first = (0..problem.rows.len())
            .cycle()
            .skip(first)
            .find(|&row| state.timber(row).is_empty())?;
        let mut rows = vec![first];
        for _ in 0..rng.random_range(1..=6) {
            let other = rng.random_range(0..problem.rows.len());
            if !rows.contains(&other) {
                rows.push(other);
            }
        }
        return Some(rows);
    }
    let mut rows = vec![first];
    match rng.random_range(0..4) {
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
                if let Some((strip, _)) = pick::alike(state, first, part, rng) {
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
