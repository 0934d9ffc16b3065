//! Two boards change places, or one gives way to a board that lies idle; the joints of the courses are placed anew.

use super::pick;
use super::place_joints::{Lying, place_joints};
use crate::solve::draft::Draft;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::swapped;
use rand::RngExt;

/// A run of pieces of one board is drawn, and one of another board whose wood would look well there, or any. They
/// exchange their wood piece for piece, either of them in the opposite order now and then; the courses beside them
/// keep theirs.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let problem = state.problem;
    let first = pick::part(state, rng)?;
    let part = state.timber(first.0)[first.1];
    let strip = match rng.random_bool(0.5) {
        true => pick::alike(state, first.0, &part, rng)?.0,
        false => rng.random_range(0..problem.woods.len() as u32),
    };
    if part.wood[0] == strip || problem.one_board(part.wood[0], strip) {
        return None;
    }
    let lying = |&(row, at): &(usize, usize)| Lying::of(&state.timber(row)[at]);
    let mut one = pick::of_board(state, first);
    let mut other = Vec::new();
    let mut comes: Vec<Lying> = if state.rack().is_whole(strip) {
        let strips = pick::slices(problem, strip);
        let pairs = pick::pairs(&draft, first.0, &strips, problem.shortest, one.len());
        let lies = one.iter().map(lying);
        { lies.zip(pairs) }
            .map(|(lying, wood)| Lying { wood, ..lying })
            .collect()
    } else {
        other = pick::of_board(state, pick::place_of(state, strip)?);
        shorten(&mut other, one.len(), rng);
        other.iter().map(lying).collect()
    };
    shorten(&mut one, comes.len(), rng);
    let mirrored = |row: usize| problem.rows[row].mirrored;
    let kind = mirrored(first.0);
    let places: Vec<(usize, usize)> = one.iter().chain(&other).copied().collect();
    if one.is_empty()
        || one.iter().any(|place| other.contains(place))
        || places.iter().any(|&(row, _)| mirrored(row) != kind)
    {
        return None;
    }
    let mut goes: Vec<Lying> = one.iter().map(lying).collect();
    for woods in [&mut comes, &mut goes] {
        if rng.random_bool(0.5) {
            woods.reverse();
        }
        if rng.random_bool(0.5) {
            for lying in woods {
                lying.wood = swapped(lying.wood);
                lying.lies.swap(0, 1);
            }
        }
    }
    let mut rows: Vec<usize> = Vec::new();
    for &(row, _) in &places {
        let r = &problem.rows[row];
        let around = [r.before, Some(row), r.after].into_iter().flatten();
        rows.extend(around.filter(|&row| !state.timber(row).is_empty() && mirrored(row) == kind));
    }
    rows.sort_unstable();
    rows.dedup();
    rows.retain(|&row| problem.glued[row].is_empty());
    let mut wood: Vec<Vec<Lying>> = { rows.iter() }
        .map(|&row| state.timber(row).iter().map(Lying::of).collect())
        .collect();
    for ((row, at), lying) in places.into_iter().zip(comes.into_iter().chain(goes)) {
        let row = rows.iter().position(|other| *other == row)?;
        wood[row][at] = lying;
    }
    rows.iter().for_each(|&row| draft.strip(row));
    place_joints(&mut draft, &rows, &wood, rng).then(|| draft.finish())
}

/// Leaves so many of a run at one of its ends.
fn shorten(run: &mut Vec<(usize, usize)>, count: usize, rng: &mut SearchRng) {
    let more = run.len().saturating_sub(count);
    match rng.random_bool(0.5) {
        true => drop(run.drain(..more)),
        false => run.truncate(count),
    }
}
