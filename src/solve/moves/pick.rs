//! What the moves pick at random: a laid course, a part of it, wood that would look well there.

use super::Dice;
use crate::solve::problem::NONE;
use crate::solve::state::State;
use crate::solve::timber::Part;
use rand::RngExt;

/// A course that is laid; `None` where luck has it that an open one was drawn.
pub fn laid(state: &State, dice: &mut Dice) -> Option<usize> {
    let row = dice.random_range(0..state.problem.rows.len());
    (!state.timber(row).is_empty()).then_some(row)
}

/// A part of a laid course.
pub fn part(state: &State, dice: &mut Dice) -> Option<(usize, usize)> {
    let row = laid(state, dice)?;
    Some((row, dice.random_range(0..state.timber(row).len())))
}

/// A strip that would look well beside one of the neighbours of a part, and the side that it should go on.
pub fn alike(state: &State, row: usize, part: &Part, dice: &mut Dice) -> Option<(u32, usize)> {
    let r = &state.problem.rows[row];
    let seams = &state.problem.seams;
    let on_stop_side = dice.random_range(0..2) == 1;
    let mut on_side = r
        .seams
        .iter()
        .map(|seam| &seams[*seam])
        .filter(|seam| (seam.upper == row) == on_stop_side);
    let beside = match on_side.clone().count() {
        0 => return None,
        1 => on_side.next(),
        several => on_side.nth(dice.random_range(0..several)),
    };
    let beside = beside?.beside(row);
    let met: Option<&Part> = {
        let timber = state.timber(beside);
        let meets = |p: &&Part| p.x_from < part.x_to && part.x_from < p.x_to;
        let count = timber.iter().filter(meets).count();
        if count == 0 {
            None
        } else {
            timber.iter().filter(meets).nth(dice.random_range(0..count))
        }
    };
    let met = met?;
    let side = if met.wood[1] == NONE {
        0
    } else {
        dice.random_range(0..2)
    };
    let list = &state.problem.alike[met.wood[side] as usize];
    if list.is_empty() {
        return None;
    }
    let at = dice.random::<f64>().powi(2) * list.len() as f64;
    Some((list[at as usize], side))
}

/// The part of a course that is cut from a strip.
pub fn part_of(state: &State, row: usize, strip: u32) -> Option<usize> {
    state
        .timber(row)
        .iter()
        .position(|part| part.wood.contains(&strip))
}

/// A run of laid courses that follow each other in one panel, all mirrored or all centre.
pub fn run(state: &State, longest: usize, dice: &mut Dice) -> Option<Vec<usize>> {
    let mut row = laid(state, dice)?;
    let fits = |row: usize| !state.timber(row).is_empty();
    let mirrored = state.problem.rows[row].mirrored;
    let want = dice.random_range(2..=longest.max(2));
    let mut run = Vec::with_capacity(want);
    while run.len() < want && fits(row) && state.problem.rows[row].mirrored == mirrored {
        run.push(row);
        match state.problem.rows[row].after {
            Some(after) => row = after,
            None => break,
        }
    }
    (run.len() > 1).then_some(run)
}

/// The wood the other way round, port for starboard.
pub fn swapped(wood: [u32; 2]) -> [u32; 2] {
    if wood[1] == NONE {
        wood
    } else {
        [wood[1], wood[0]]
    }
}
