//! Short courses cut side by side from as few strips as possible: the start for a job in which one strip serves
//! several courses.

use super::draft::Draft;
use super::exact::{Bars, Filling, Lengths, pack};
use super::problem::{NONE, Problem};
use super::rack::longest;
use super::state::State;
use super::timber::Part;
use crate::units::Length;
use std::collections::BTreeMap;

/// Lays as many courses as the packing covers, each in one piece; the others stay open.
pub fn lay(state: &mut State) {
    for mirrored in [true, false] {
        let bars = bars(state, mirrored);
        let mut rows: BTreeMap<Length, Vec<usize>> = BTreeMap::new();
        for (row, r) in state
            .problem
            .rows
            .iter()
            .enumerate()
            .filter(|(_, r)| r.mirrored == mirrored)
        {
            rows.entry(r.one_piece()).or_default().push(row);
        }
        // Nothing to pack where no strip holds two courses.
        let (Some((&room, _)), Some((&short, _))) = (bars.last_key_value(), rows.first_key_value())
        else {
            continue;
        };
        if short * 2 + state.problem.saw > room {
            continue;
        }
        let classes: Vec<Bars> = bars
            .iter()
            .map(|(&room, woods)| Bars {
                room,
                count: woods.len(),
            })
            .collect();
        let lengths: Vec<Lengths> = rows
            .iter()
            .map(|(&length, rows)| Lengths {
                length,
                count: rows.len(),
            })
            .collect();
        let fillings = pack(&classes, &lengths, state.problem.saw);
        cut(
            state,
            fillings.unwrap_or_default(),
            bars.into_values().collect(),
            rows.into_values().collect(),
        );
    }
}

/// Whole strips by the room on them: disjoint pairs that lay close in their board, or single strips.
fn bars(state: &State, mirrored: bool) -> BTreeMap<Length, Vec<[u32; 2]>> {
    let problem: &Problem = state.problem;
    let draft = Draft::new(state);
    let mut taken = vec![false; problem.woods.len()];
    let mut bars: BTreeMap<Length, Vec<[u32; 2]>> = BTreeMap::new();
    for strip in 0..problem.woods.len() as u32 {
        let free =
            |strip: u32, taken: &[bool]| !taken[strip as usize] && state.rack().is_whole(strip);
        if !free(strip, &taken) {
            continue;
        }
        let mate = if mirrored {
            match problem.mates[strip as usize]
                .iter()
                .find(|&&mate| free(mate, &taken))
            {
                Some(&mate) => mate,
                None => continue,
            }
        } else {
            NONE
        };
        for used in [strip, mate].into_iter().filter(|&used| used != NONE) {
            taken[used as usize] = true;
        }
        let room = longest(&draft.room([strip, mate]));
        if room > Length::ZERO {
            bars.entry(room).or_default().push([strip, mate]);
        }
    }
    bars
}

fn cut(
    state: &mut State,
    fillings: Vec<Filling>,
    mut bars: Vec<Vec<[u32; 2]>>,
    mut rows: Vec<Vec<usize>>,
) {
    for filling in fillings {
        let Some(wood) = bars[filling.bar].pop() else {
            continue;
        };
        for (length, &count) in filling.pieces.iter().enumerate() {
            for _ in 0..count {
                let Some(row) = rows[length].pop() else {
                    continue;
                };
                let part = Part::whole(state.problem, row);
                let mut draft = Draft::new(state);
                draft.strip(row);
                if draft.put(row, &part, wood) {
                    let change = draft.finish();
                    state.make(change);
                }
            }
        }
    }
}
