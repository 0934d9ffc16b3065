//! How good the best plan is known to be, round by round.

use super::anneal::Best;
use super::bound::{Prover, no_bound_for};
use super::problem::Problem;

/// A gap below this part of the cost counts as none. Why: sums of many terms differ in their last digits.
const CLOSED: f64 = 1e-6;

/// The proof under way.
pub struct Proof<'a> {
    /// The bound so far. Unit: ΔE00·metre.
    pub bound: Option<f64>,
    /// How it was found, or why there is none.
    pub reason: String,
    prover: Option<Prover<'a>>,
    /// What the plan cost that the bound was last held against.
    held_against: f64,
}

impl<'a> Proof<'a> {
    /// Nothing proven yet.
    pub fn new(problem: &'a Problem) -> Proof<'a> {
        let again = problem
            .is_again()
            .then_some("wood is laid or labelled already, for which no bound is worked out yet");
        let (prover, reason) = match again.or_else(|| no_bound_for(problem)) {
            Some(reason) => (None, reason),
            None => match Prover::new(problem) {
                Some(prover) => (
                    Some(prover),
                    "a course is open, and a bound holds only for plans that cover all",
                ),
                None => (None, "the job is too large for the bound"),
            },
        };
        Proof {
            bound: None,
            reason: reason.to_string(),
            prover,
            held_against: f64::INFINITY,
        }
    }

    /// Whether the plan has not been held against the bound yet.
    pub fn is_due(&self, best: &Best) -> bool {
        self.prover.is_some() && !self.is_closed(best) && self.held_against > best.worth
    }

    /// Works on the bound, when the plan has not been held against it yet.
    pub fn advance(&mut self, best: &Best, covered: bool, stop: &dyn Fn() -> bool) {
        if !covered || self.is_closed(best) || self.held_against <= best.worth {
            return;
        }
        if best.worth <= 0.0 {
            self.bound = Some(0.0);
            self.reason = "no term of the cost can be less than nothing".to_string();
            return;
        }
        let Some(prover) = &mut self.prover else {
            return;
        };
        let bound = prover.prove(best.worth, stop);
        if bound <= 0.0 {
            self.reason = "the time was up before a bound was found".to_string();
            return;
        }
        self.bound = Some(bound);
        self.held_against = best.worth;
        self.reason =
            "prices on the use of each strip, with paths that remember the strips they took"
                .to_string();
    }

    /// Whether there is hope for a bound.
    pub fn is_possible(&self) -> bool {
        self.prover.is_some()
    }

    /// What could lie on each course, by row, for a plan that may be better than the best so far; see [`Prover::path`].
    pub fn hint(&mut self, best: &Best, stop: &dyn Fn() -> bool) -> Option<&[Vec<[u32; 2]>]> {
        let prover = self.prover.as_mut()?;
        if best.worth > 0.0 {
            prover.rehearse(best.worth, stop);
        }
        prover.path()
    }

    /// Whether the plan is proven to be the best there is.
    pub fn is_closed(&self, best: &Best) -> bool {
        self.bound
            .is_some_and(|bound| bound >= best.worth - CLOSED * best.worth.abs())
    }
}
