//! The pairs of a board, and the orders in which they can be taken.

use super::pairs::Pairs;
use crate::solve::tuning::subset_dp::MOST_TRANSITIONS;
use std::collections::HashMap;

/// The pairs of a board; or pairs of strips of one board with any of others, which are looked at one by one.
pub struct PairClass {
    /// The pairs, in the order of [`Pairs::all`].
    pub pairs: Vec<u32>,
    /// The slices of each.
    pub masks: Vec<u64>,
    /// The pair that a path in this state took last. The first states are those of paths that have taken nothing but
    /// one pair, in the order of the pairs.
    pub last: Vec<u32>,
    /// From each state, by the slices taken and the last pair, those that one more pair leads to, with that pair.
    pub transitions: Vec<Vec<(u32, u32)>>,
}

impl PairClass {
    /// A board's pairs; `None` where there are too many ways through them.
    pub fn of_board(pairs: &Pairs, class: Vec<u32>) -> Option<PairClass> {
        let mask = |i: usize| pairs.all[class[i] as usize].mask;
        let mut states: Vec<(u64, u32)> = (0..class.len()).map(|i| (mask(i), i as u32)).collect();
        let mut number: HashMap<(u64, u32), u32> = states.iter().copied().zip(0..).collect();
        let (mut transitions, mut many) = (Vec::new(), 0);
        while transitions.len() < states.len() {
            let (taken, _) = states[transitions.len()];
            let free = (0..class.len()).filter(|&i| mask(i) & taken == 0);
            let onward: Vec<(u32, u32)> = free
                .map(|i| {
                    let state = (taken | mask(i), i as u32);
                    let number = number.entry(state).or_insert_with(|| {
                        states.push(state);
                        states.len() as u32 - 1
                    });
                    (*number, i as u32)
                })
                .collect();
            many += onward.len();
            if many > MOST_TRANSITIONS {
                return None;
            }
            transitions.push(onward);
        }
        Some(PairClass {
            last: states.iter().map(|state| state.1).collect(),
            masks: (0..class.len()).map(mask).collect(),
            pairs: class,
            transitions,
        })
    }

    /// Pairs of two boards: after each of them comes another segment.
    pub fn of_single_courses(class: Vec<u32>) -> PairClass {
        PairClass {
            transitions: vec![Vec::new(); class.len()],
            masks: vec![0; class.len()],
            last: (0..class.len() as u32).collect(),
            pairs: class,
        }
    }
}
