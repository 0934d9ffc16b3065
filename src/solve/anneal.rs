//! Simulated annealing: moves are made where they gain, and at first now and then where they lose, less and less.
//!
//! Source: S. Kirkpatrick, C. D. Gelatt and M. P. Vecchi, "Optimization by Simulated Annealing", Science 220 (1983)
//! (citation from memory).

use super::moves::{self, OperatorWeights};
use super::problem::Problem;
use super::rng::SearchRng;
use super::state::State;
use super::timber::Timber;
use rand::RngExt;

/// One cooling.
#[derive(Clone, Copy, Debug)]
pub struct Cooling {
    /// Moves tried.
    pub tries: u64,
    /// Temperature at the start. Unit: ΔE00·metre.
    pub hot: f64,
    /// Temperature at the end.
    pub cold: f64,
    /// What moves are drawn for.
    pub weights: OperatorWeights,
}

/// The best plan of a cooling.
#[derive(Clone, Debug)]
pub struct Best {
    /// What lies on each course.
    pub timber: Vec<Timber>,
    /// See [`State::worth`].
    pub worth: f64,
    /// What is laid costs, open courses aside.
    pub cost: f64,
}

impl Best {
    /// The plan as it is.
    pub fn of(state: &State) -> Best {
        let timber = (0..state.problem.rows.len())
            .map(|row| state.timber(row).clone())
            .collect();
        Best {
            timber,
            worth: state.worth(),
            cost: state.cost(),
        }
    }

    /// Whether it is better than another plan, by more than sums of many terms differ in their last digits.
    pub fn beats(&self, other: &Best) -> bool {
        self.worth < other.worth - 1e-9
    }

    /// Keeps another plan where that is better; whether it was.
    pub fn keep_better(&mut self, found: Best) -> bool {
        let better = found.beats(self);
        if better {
            *self = found;
        }
        better
    }

    /// The plan laid on a bare boat.
    pub fn laid<'a>(&self, problem: &'a Problem) -> State<'a> {
        let mut state = State::bare(problem);
        self.restore(&mut state);
        state
    }

    /// The state with this plan.
    pub fn restore(&self, state: &mut State) {
        let all = self.timber.iter().enumerate();
        let differ = all.filter(|(row, timber)| state.timber(*row) != *timber);
        let change = differ.map(|(row, timber)| (row, timber.clone())).collect();
        state.make(change);
    }
}

/// The courses that were laid anew since a plan was kept.
struct Dirty {
    rows: Vec<usize>,
    is_among: Vec<bool>,
}

impl Dirty {
    fn new(state: &State) -> Dirty {
        Dirty {
            rows: Vec::new(),
            is_among: vec![false; state.problem.rows.len()],
        }
    }

    fn add(&mut self, row: usize) {
        if !std::mem::replace(&mut self.is_among[row], true) {
            self.rows.push(row);
        }
    }

    /// Brings the plan up to date.
    fn keep(&mut self, best: &mut Best, state: &State) {
        for row in self.rows.drain(..) {
            self.is_among[row] = false;
            best.timber[row].clone_from(state.timber(row));
        }
        (best.worth, best.cost) = (state.worth(), state.cost());
    }
}

/// The acceptance rule of simulated annealing: how much more a change may cost. A change that costs d more is accepted
/// with probability exp(-d/T); drawn beforehand, dearer ones need not be worked out to the end.
fn acceptable(temperature: f64, rng: &mut SearchRng) -> f64 {
    -temperature * (1.0 - rng.random::<f64>()).ln()
}

/// An iterated local search: the plan that it goes on from, and the best that it has met.
pub struct Walk {
    /// Where it is.
    pub now: Best,
    best: Best,
}

impl Walk {
    /// Begins with the plan as it is.
    pub fn new(state: &State) -> Walk {
        let now = Best::of(state);
        Walk {
            best: now.clone(),
            now,
        }
    }

    /// Goes on from a plan that was found, by the acceptance rule of simulated annealing; the state is where it goes
    /// on from.
    pub fn judge(&mut self, state: &mut State, found: Best, temperature: f64, rng: &mut SearchRng) {
        let accepted = found.worth - self.now.worth <= acceptable(temperature, rng);
        self.go_on(state, found, accepted);
    }

    /// The same, by whether the plan costs no more than so much more.
    pub fn judge_by_threshold(&mut self, state: &mut State, found: Best, worse: f64) {
        let accepted = found.worth <= self.now.worth + worse;
        self.go_on(state, found, accepted);
    }

    fn go_on(&mut self, state: &mut State, found: Best, accepted: bool) {
        if accepted {
            self.now = found;
            if self.now.beats(&self.best) {
                self.best = self.now.clone();
            }
        }
        self.now.restore(state);
    }

    /// The best plan met.
    pub fn best(self) -> Best {
        self.best
    }
}

/// Cools the state and leaves it wherever it ends; the best on the way comes back.
pub fn anneal(
    state: &mut State,
    cooling: &Cooling,
    rng: &mut SearchRng,
    stop: &dyn Fn() -> bool,
) -> Best {
    let mut best = Best::of(state);
    let mut worth = best.worth;
    let mut better = false;
    let mut since = Dirty::new(state);
    let fall = (cooling.cold / cooling.hot).ln() / cooling.tries as f64;
    for k in 0..cooling.tries {
        if k % 64 == 0 && stop() {
            break;
        }
        let temperature = cooling.hot * (fall * k as f64).exp();
        let ceiling = acceptable(temperature, rng);
        let drawn = moves::draw(cooling.weights, !state.is_covered(), rng);
        let Some(change) = drawn.propose(state, ceiling, rng) else {
            continue;
        };
        let by = state.price(&change);
        if by > ceiling {
            continue;
        }
        if by > 1e-9 && better {
            // Kept only on leaving it: copying at every step downhill would cost more than the search.
            since.keep(&mut best, state);
            better = false;
        }
        change.iter().for_each(|(row, _)| since.add(*row));
        state.make(change);
        worth += by;
        // In tests, now and then: the cost kept up move by move is the cost reckoned from nothing.
        debug_assert!(
            k % 128 != 0
                || (worth - Best::of(state).laid(state.problem).worth()).abs()
                    < 1e-6 * worth.abs().max(1.0),
            "priced {worth}, costs {}",
            state.worth()
        );
        if worth < best.worth - 1e-9 {
            best.worth = worth;
            better = true;
        }
    }
    if better {
        since.keep(&mut best, state);
    }
    best
}
