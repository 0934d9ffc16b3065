//! A run of courses passes its wood on: round in a ring, or with a spare pair coming in at one end and one left over
//! at the other.

use super::{Dice, pick};
use crate::solve::draft::Draft;
use crate::solve::problem::NONE;
use crate::solve::rack::longest;
use crate::solve::state::Change;
use rand::RngExt;

/// Longest run that is pushed.
const LONGEST: usize = 24;

/// A run is drawn, and the way it is pushed.
pub fn propose(mut draft: Draft, dice: &mut Dice) -> Option<Change> {
    let run = pick::run(draft.state, LONGEST, dice)?;
    let parts: Vec<_> = run.iter().map(|&row| draft.state.timber(row)[0]).collect();
    let mut woods: Vec<[u32; 2]> = parts.iter().map(|part| part.wood).collect();
    run.iter().for_each(|&row| draft.strip(row));
    if dice.random_bool(0.5) {
        let by = dice.random_range(1..woods.len());
        if dice.random_bool(0.5) {
            woods.rotate_left(by)
        } else {
            woods.rotate_right(by)
        }
    } else {
        let inward = dice.random_bool(0.5);
        let place = if inward { 0 } else { woods.len() - 1 };
        let spare = spare(&draft, run[place], &parts[place], dice)?;
        if inward {
            woods.insert(0, spare);
            woods.pop();
        } else {
            woods.remove(0);
            woods.push(spare);
        }
    }
    for ((row, part), wood) in run.iter().zip(&parts).zip(woods) {
        if !draft.put(*row, part, wood) {
            return None;
        }
    }
    Some(draft.finish())
}

/// A pair with room that would look well beside the neighbours of a part.
fn spare(
    draft: &Draft,
    row: usize,
    part: &crate::solve::timber::Part,
    dice: &mut Dice,
) -> Option<[u32; 2]> {
    let (strip, side) = pick::alike(draft.state, row, part, dice)?;
    let enough = |wood| longest(&draft.room(wood)) >= part.length();
    if part.wood[1] == NONE {
        return enough([strip, NONE]).then_some([strip, NONE]);
    }
    let mate = draft.problem().mates[strip as usize]
        .iter()
        .copied()
        .find(|&mate| enough([strip, mate]))?;
    Some(if side == 0 {
        [strip, mate]
    } else {
        [mate, strip]
    })
}
