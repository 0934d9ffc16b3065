//! Iterated local search: a large move, a short cooling of the courses around it, and only then a judgement.
//!
//! Why: which board goes where is settled while the plan is hot, and on its own no small move can change it later. A
//! board in a new place costs more until its courses are cut to suit; judged before that, nearly every such move is
//! lost.
//!
//! Source: H. R. Lourenço, O. C. Martin and T. Stützle, "Iterated Local Search", Handbook of Metaheuristics (2003)
//! (citation from memory).

use super::anneal::{Best, Cooling, Walk, anneal};
use super::moves::{OperatorWeights, by_weight};
use super::rng::SearchRng;
use super::state::State;
use crate::solve::tuning::perturbation::{
    DRAWN, EARLY, FAR_OFF, HOPELESS, LARGE, LOCAL_SEARCH, LOCAL_TEMPERATURE, SAME, TEMPERATURE,
};

/// So many large moves in a plan with joints, one after the other; the state is left wherever that ends, and the best
/// on the way comes back.
pub fn perturb(
    state: &mut State,
    times: u64,
    rng: &mut SearchRng,
    stop: &dyn Fn() -> bool,
) -> Best {
    let mut walk = Walk::new(state);
    let a_course = (walk.now.cost / (state.problem.rows.len() as f64).max(1.0)).max(1e-3);
    let fall = (TEMPERATURE[1] / TEMPERATURE[0]).ln() / times.max(1) as f64;
    let hopeless = HOPELESS * a_course;
    let mut k = 0;
    for _ in 0..DRAWN * times {
        if k == times || stop() {
            break;
        }
        let Some(change) = by_weight(&LARGE, rng).propose(state, hopeless, rng) else {
            continue;
        };
        if state.price(&change) > hopeless {
            continue;
        }
        k += 1;
        let temperature = TEMPERATURE[0] * a_course * (fall * k as f64).exp();
        let rows = around(state, change.iter().map(|(row, _)| *row));
        state.make(change);
        state.work_on(rows);
        let far_off = walk.now.worth + FAR_OFF * (a_course + temperature);
        let found = local_search(state, a_course, &walk.now, far_off, rng, stop);
        state.work_on(Vec::new());
        walk.judge(state, found, temperature, rng);
    }
    walk.best()
}

/// A short cooling of the courses that the work is on. Where after a while it has come back to the plan before the
/// large move, `now`, or the plan still costs more than `far_off`, it is given up.
fn local_search(
    state: &mut State,
    a_course: f64,
    now: &Best,
    far_off: f64,
    rng: &mut SearchRng,
    stop: &dyn Fn() -> bool,
) -> Best {
    let tries = LOCAL_SEARCH[0] + LOCAL_SEARCH[1] * state.focus().len() as u64;
    let first = (EARLY * tries as f64) as u64;
    let [hot, cold] = LOCAL_TEMPERATURE;
    let between = (hot * cold).sqrt();
    let cooling = |tries: u64, hot: f64, cold: f64| Cooling {
        tries,
        hot: hot * a_course,
        cold: cold * a_course,
        weights: OperatorWeights::Local,
    };
    let found = anneal(state, &cooling(first, hot, between), rng, stop);
    let undone = (found.worth - now.worth).abs() < SAME;
    if undone || found.worth > far_off {
        return found;
    }
    found.restore(state);
    let further = anneal(state, &cooling(tries - first, between, cold), rng, stop);
    match further.worth < found.worth {
        true => further,
        false => found,
    }
}

/// Courses and those beside them.
fn around(state: &State, rows: impl Iterator<Item = usize>) -> Vec<usize> {
    let mut around: Vec<usize> = Vec::new();
    for row in rows {
        let r = &state.problem.rows[row];
        for row in [Some(row), r.before, r.after].into_iter().flatten() {
            if !around.contains(&row) {
                around.push(row);
            }
        }
    }
    around
}
