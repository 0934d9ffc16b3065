//! What is better even with the price of new labels, and labels that need not have been lost.

use super::nearby::around_repairs;
use crate::solve::anneal::{Best, Cooling, anneal};
use crate::solve::clock::Clock;
use crate::solve::holds::holds;
use crate::solve::moves::OperatorWeights;
use crate::solve::rng::SearchRng;
use crate::solve::state::{Change, State};
use crate::solve::timber::{Part, Timber};
use crate::solve::tuning::again::TRIES;
use crate::solve::tuning::settle::{LABEL, NEIGHBOURHOODS, TEMPERATURES};

/// Tries what other changes are worth their labels; keeps the best plan met.
pub fn settle<'p>(
    state: &mut State<'p>,
    first: &State<'p>,
    attempt: usize,
    rounds: u64,
    rng: &mut SearchRng,
    clock: &Clock,
) {
    let (problem, stop) = (state.problem, &|| clock.stop());
    let over = || clock.is_over();
    let label = if problem.weights.relabel > 0.0 {
        problem.weights.relabel
    } else {
        LABEL
    };
    give_back(state, first, &over);
    let mut best = Best::of(state);
    for _ in 0..rounds {
        if stop() {
            break;
        }
        if attempt.is_multiple_of(2) {
            let cooling = Cooling {
                tries: TRIES * problem.rows.len() as u64,
                hot: TEMPERATURES[attempt / 2 % TEMPERATURES.len()] * label,
                cold: 0.005 * label,
                weights: OperatorWeights::of(problem.most > 0),
            };
            anneal(state, &cooling, rng, stop).restore(state);
        } else {
            around_repairs(state, first, NEIGHBOURHOODS, label, rng, stop);
        }
        give_back(state, first, &over);
        best.keep_better(Best::of(state));
    }
    best.restore(state);
}

/// Courses go back to what they were before, wherever that can be and is not worse, until it is `over`.
pub(super) fn give_back<'p>(state: &mut State<'p>, first: &State<'p>, over: &dyn Fn() -> bool) {
    all_that_kept_their_wood(state, first);
    // Where one course has gone back, another may follow.
    for _ in 0..state.problem.rows.len() {
        let mut changed = false;
        for row in 0..state.problem.rows.len() {
            let was = first.timber(row);
            if state.timber(row) == was {
                continue;
            }
            if over() {
                return;
            }
            if let Some(change) = restored(state, row, was)
                && state.price(&change) <= 1e-9
            {
                state.make(change);
                changed = true;
            }
        }
        if !changed {
            return;
        }
    }
}

/// All at once, those courses whose wood is as it was: joints that slid for nothing slide back together.
fn all_that_kept_their_wood<'p>(state: &mut State<'p>, first: &State<'p>) {
    let rows = 0..state.problem.rows.len();
    let woods = |timber: &[Part]| timber.iter().map(|part| part.wood).collect::<Vec<_>>();
    let other = |row: &usize| woods(first.timber(*row)) != woods(state.timber(*row));
    let changed: Vec<usize> = rows.filter(other).collect();
    let mut trial = first.clone();
    for &row in &changed {
        trial.lay(row, Timber::new());
    }
    let laid = changed.iter().all(|&row| {
        let timber = state.timber(row).clone();
        let holds = timber.is_empty() || holds(&trial, row, &timber);
        if holds {
            trial.lay(row, timber);
        }
        holds
    });
    if laid && trial.worth() <= state.worth() + 1e-9 {
        *state = trial;
    }
}

/// Lays a course as it was before, where that still can be; gives the price.
fn restored(state: &State, row: usize, was: &Timber) -> Option<Change> {
    let mut bare = state.clone();
    bare.lay(row, Timber::new());
    let whole = !was.is_empty() && holds(&bare, row, was);
    whole.then(|| [(row, was.clone())].into_iter().collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::again::mend::close_quickly;
    use crate::solve::jobs::long_boat;
    use crate::solve::problem::Problem;
    use crate::solve::rng::stream;

    #[test]
    fn a_course_gets_its_wood_back_until_the_time_is_up() {
        let problem = Problem::new(&long_boat(3, 12, 1));
        let mut first = State::bare(&problem);
        close_quickly(&mut first, &mut stream(1, 0), &|| false);
        let mut state = first.clone();
        state.lay(0, Timber::new());
        let opened = state.open();
        give_back(&mut state, &first, &|| true);
        assert_eq!(state.open(), opened);
        give_back(&mut state, &first, &|| false);
        assert!(state.timber(0) == first.timber(0) && state.open() < opened);
    }
}
