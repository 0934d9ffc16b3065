//! A run of pieces passes its wood along, while every joint stays where it is: round in a ring, in the opposite order,
//! or with a spare pair coming in at one end.

use super::pick;
use crate::solve::draft::Draft;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::swapped;
use crate::solve::tuning::moves::LONGEST_OF_WOOD;
use rand::RngExt;

/// A run is drawn, and the way its wood goes.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let want = rng.random_range(2..=LONGEST_OF_WOOD);
    let first = pick::part(state, rng)?;
    let places = pick::part_run(state, first, want, rng);
    if places.len() < 2 {
        return None;
    }
    let parts = pick::parts(state, &places);
    let mut woods: Vec<[u32; 2]> = parts.iter().map(|part| part.wood).collect();
    pick::lift_all(&mut draft, &places);
    match rng.random_range(0..3) {
        0 => woods.reverse(),
        1 => {
            let by = rng.random_range(1..woods.len());
            woods.rotate_left(by);
        }
        _ => {
            // The last of the run is left over: the run goes either way along the panel.
            woods.pop();
            woods.insert(0, pick::spare(&draft, places[0].0, &parts[0], rng)?);
        }
    }
    let turn = rng.random_bool(0.2);
    for ((&(row, _), part), wood) in places.iter().zip(&parts).zip(woods) {
        let wood = if turn { swapped(wood) } else { wood };
        if !draft.put(row, part, wood) {
            return None;
        }
    }
    Some(draft.finish())
}
