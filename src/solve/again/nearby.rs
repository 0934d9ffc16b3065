//! What else is worth its labels near a repair: courses around one that changed are cooled again, for as long as that
//! gains.

use crate::solve::anneal::{Cooling, Walk, anneal};
use crate::solve::moves::OperatorWeights;
use crate::solve::rng::SearchRng;
use crate::solve::state::State;
use crate::solve::tuning::nearby::{COLD, MOST, NEAR, TEMPERATURES, TRIES, WORSE};
use rand::RngExt;

/// So many times; the state is left with the best plan met. Unit of `label`: ΔE00·metre.
pub(super) fn around_repairs<'p>(
    state: &mut State<'p>,
    first: &State<'p>,
    times: u64,
    label: f64,
    rng: &mut SearchRng,
    stop: &dyn Fn() -> bool,
) {
    let mut walk = Walk::new(state);
    for k in 0..times {
        let rows = neighbourhood(state, first, rng);
        if stop() || rows.is_empty() {
            break;
        }
        let cooling = Cooling {
            tries: TRIES[0] + TRIES[1] * rows.len() as u64,
            hot: TEMPERATURES[k as usize % TEMPERATURES.len()] * label,
            cold: COLD * label,
            weights: OperatorWeights::of(state.problem.most > 0),
        };
        state.work_on(rows);
        let found = anneal(state, &cooling, rng, stop);
        state.work_on(Vec::new());
        let worse = WORSE * label * (1.0 - k as f64 / times as f64);
        walk.judge_by_threshold(state, found, worse);
    }
    walk.best().restore(state);
}

/// A course that changed, some beside it, and some that share its boards.
fn neighbourhood<'p>(state: &State<'p>, first: &State<'p>, rng: &mut SearchRng) -> Vec<usize> {
    let problem = state.problem;
    let changed: Vec<usize> = (0..problem.rows.len())
        .filter(|&row| state.timber(row) != first.timber(row))
        .collect();
    if changed.is_empty() {
        return Vec::new();
    }
    let centre = changed[rng.random_range(0..changed.len())];
    let mut rows = vec![centre];
    let add = |rows: &mut Vec<usize>, row: usize| {
        if !rows.contains(&row) {
            rows.push(row);
        }
    };
    let step = |from: usize, onward: bool| match onward {
        true => problem.rows[from].after,
        false => problem.rows[from].before,
    };
    for onward in [false, true] {
        let along = std::iter::successors(step(centre, onward), |&row| step(row, onward));
        along.take(NEAR).for_each(|row| add(&mut rows, row));
    }
    // Those that it could get wood from without changing boards.
    let strips = state.timber(centre).iter().flat_map(|part| part.wood);
    let mut others: Vec<usize> = strips
        .filter_map(|strip| problem.mates.get(strip as usize))
        .flatten()
        .flat_map(|mate| state.rack().serves(*mate))
        .filter(|row| !rows.contains(row))
        .collect();
    others.sort_unstable();
    others.dedup();
    while rows.len() < MOST && !others.is_empty() {
        let at = rng.random_range(0..others.len());
        rows.push(others.swap_remove(at));
    }
    rows
}
