//! How hot and how long the starts cool, by the size of the job and from round to round.

use super::anneal::{Best, Cooling};
use super::moves::OperatorWeights;
use super::problem::Problem;
use super::state::State;
use crate::solve::tuning::schedule::{FEW, FIRST, FIRST_BEFORE_PROOF, LARGE, SMALL, STARTS};

/// Whether a job is so large that it needs every round.
pub fn is_large(problem: &Problem) -> bool {
    problem.rows.len() > LARGE
}

/// Whether a job is so small that it can have as many tries as it likes.
pub fn is_small(problem: &Problem) -> bool {
    problem.rows.len() <= SMALL
}

/// Whether every course is laid.
pub fn covered(best: &Best) -> bool {
    best.timber.iter().all(|timber| !timber.is_empty())
}

/// Whether a start keeps looking elsewhere rather than refining: more of them the smaller the job.
pub fn explores(problem: &Problem, start: usize) -> bool {
    match problem.rows.len() {
        n if n <= SMALL => start >= STARTS / 2,
        n if n <= FEW => start + 1 == STARTS,
        _ => false,
    }
}

/// How many times longer the first cooling is than those after it.
pub fn first(hints_follow: bool) -> f64 {
    match hints_follow {
        true => FIRST_BEFORE_PROOF,
        false => FIRST,
    }
}

/// The cooling of a start in a round, its best plan so far being this; `first` is how many times longer that of round
/// 0 is.
pub fn cooling(
    problem: &Problem,
    jointed: bool,
    start: usize,
    round: u64,
    first: f64,
    best: &Best,
) -> Cooling {
    let rows = problem.rows.len() as f64;
    let a_course = best.cost / rows.max(1.0);
    // A small job gets more tries a course: what it costs is nothing, and it should come out best.
    let extra = if is_small(problem) { 40_000 } else { 8_000 };
    let tries = (rows * if jointed { 500.0 } else { 4000.0 }) as u64 + extra;
    let temperature = if covered(best) {
        temperature(problem, jointed, start, round as usize)
    } else {
        // To close a course, looks must count for little: the more so the longer it stays open.
        [0.4, 2.0, 10.0, 50.0][(start + round as usize) % 4]
    };
    Cooling {
        tries: match round {
            0 => (tries as f64 * first) as u64,
            _ => tries,
        },
        hot: (temperature * a_course).max(1e-3),
        cold: (0.002 * a_course).max(1e-5),
        weights: OperatorWeights::of(jointed),
    }
}

/// How hot a cooling begins, in parts of what a course costs on average. Hotter: more is undone, and more time is
/// needed to put it together again, which a large job does not get.
fn temperature(problem: &Problem, jointed: bool, start: usize, round: usize) -> f64 {
    let large = is_large(problem);
    match round {
        0 if large && jointed => 0.08,
        0 if large => 0.2,
        0 => 0.4,
        _ if large && jointed => [0.02, 0.04, 0.01][round % 3],
        _ if explores(problem, start) => [0.2, 0.4, 0.8][round % 3],
        _ => [0.05, 0.1, 0.03][round % 3],
    }
}

/// The short cooling that polishes a plan that the proof hints at.
pub fn polishing(problem: &Problem, state: &State) -> Cooling {
    let rows = problem.rows.len();
    let a_course = state.cost() / (rows as f64).max(1.0);
    Cooling {
        tries: rows as u64 * 1000,
        hot: (0.02 * a_course).max(1e-3),
        cold: (0.002 * a_course).max(1e-5),
        weights: OperatorWeights::Whole,
    }
}
