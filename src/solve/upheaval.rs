//! Whole boards thrown over: a large move, the courses around it tidied up, and only then a judgement.
//!
//! Why: which board goes where is settled while the plan is hot, and on its own no small move can change it later. A board in a
//! new place costs more until its courses are cut to suit; judged before that, nearly every such move is lost.
//!
//! Source: H. R. Lourenço, O. C. Martin and T. Stützle, "Iterated Local Search", Handbook of Metaheuristics (2003) (citation
//! from memory).

use super::anneal::{Best, Cooling, anneal};
use super::moves::{Dice, Move};
use super::state::State;
use rand::RngExt;

/// Large moves, each as often as it stands here.
const LARGE: [Move; 10] = [
    Move::SwapBoards,
    Move::SwapBoards,
    Move::SwapBoards,
    Move::SwapBoards,
    Move::SwapRuns,
    Move::PushRun,
    Move::PushRun,
    Move::ReverseRun,
    Move::SwapWood,
    Move::PassWood,
];
/// Losses that no tidying makes good, in parts of what a course costs on average.
const HOPELESS: f64 = 10.0;
/// How much worse a plan may be kept at first and at last, in parts of what a course costs.
const HEAT: [f64; 2] = [0.5, 0.02];
/// Moves tried in tidying up, in all and for each course.
const TIDYING: [u64; 2] = [400, 30];
/// Heat at the beginning and at the end of tidying up, in parts of what a course costs.
const TIDYING_HEAT: [f64; 2] = [0.05, 0.005];

/// So many large moves in a plan with joints, one after the other; the state is left wherever that ends, and the best on the way comes back.
pub fn upheave(state: &mut State, times: u64, dice: &mut Dice, stop: &dyn Fn() -> bool) -> Best {
    let mut best = Best::of(state);
    let mut now = best.clone();
    let a_course = (best.cost / (state.problem.rows.len() as f64).max(1.0)).max(1e-3);
    let fall = (HEAT[1] / HEAT[0]).ln() / times.max(1) as f64;
    for k in 0..times {
        if stop() {
            break;
        }
        let large = LARGE[dice.random_range(0..LARGE.len())];
        let Some(change) = large.propose(state, dice) else {
            continue;
        };
        if state.price(&change) > HOPELESS * a_course {
            continue;
        }
        let rows = around(state, change.iter().map(|(row, _)| *row));
        state.make(change);
        let cooling = Cooling {
            tries: TIDYING[0] + TIDYING[1] * rows.len() as u64,
            hot: TIDYING_HEAT[0] * a_course,
            cold: TIDYING_HEAT[1] * a_course,
            jointed: true,
        };
        state.work_on(rows);
        let found = anneal(state, &cooling, dice, stop);
        state.work_on(Vec::new());
        let heat = HEAT[0] * a_course * (fall * k as f64).exp();
        let by = found.worth - now.worth;
        if by <= 0.0 || dice.random::<f64>() < (-by / heat).exp() {
            now = found;
            if now.worth < best.worth - 1e-9 {
                best = now.clone();
            }
        }
        now.restore(state);
    }
    best
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
