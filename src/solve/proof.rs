//! How good the best plan is known to be, round by round.

use super::anneal::Best;
use super::bound::{ByMetre, Prover, Scope, scope};
use super::problem::Problem;

/// A gap below this part of the cost counts as none. Why: sums of many terms differ in their last digits.
const CLOSED: f64 = 1e-6;

/// The proof under way.
pub struct Proof<'a> {
    /// The bound so far. Unit: ΔE00·metre.
    pub bound: Option<f64>,
    /// How it was found, or why there is none.
    pub reason: String,
    way: Way<'a>,
    /// What the plan cost that the bound was last held against; infinite while the bound still rises.
    held_against: f64,
    /// Whether the bound rose when it was last worked on.
    rises: bool,
}

/// Less than this part of the cost is no rise worth going on for.
const RISE: f64 = 1e-3;

enum Way<'a> {
    ByCourse(Box<Prover<'a>>),
    ByMetre(Box<ByMetre<'a>>),
    None,
}

impl<'a> Proof<'a> {
    /// Nothing proven yet. Where a plan is only tried out, no time is spent on a bound that can't better it.
    pub fn new(problem: &'a Problem, trial: bool) -> Proof<'a> {
        let again = problem
            .is_again()
            .then_some("wood is laid or labelled already, for which no bound is worked out yet");
        let too_large = (Way::None, "the job is too large for the bound");
        let open = "a course is open, and a bound holds only for plans that cover all";
        let (way, reason) = match (again, scope(problem)) {
            (Some(reason), _) | (None, Scope::Nothing(reason)) => (Way::None, reason),
            (None, Scope::ByCourse) => Prover::new(problem)
                .map_or(too_large, |prover| (Way::ByCourse(Box::new(prover)), open)),
            (None, Scope::ByMetre) if trial => {
                (Way::None, "the plan is one of several that were tried")
            }
            (None, Scope::ByMetre) => ByMetre::new(problem)
                .map_or(too_large, |prover| (Way::ByMetre(Box::new(prover)), open)),
        };
        Proof {
            bound: None,
            reason: reason.to_string(),
            way,
            held_against: f64::INFINITY,
            rises: false,
        }
    }

    /// Whether the plan has not been held against the bound yet.
    pub fn is_due(&self, best: &Best) -> bool {
        let there = !matches!(self.way, Way::None);
        there && !self.is_closed(best) && self.held_against > best.worth
    }

    /// Whether the bound rose when it was last worked on, and may rise again.
    pub fn rises(&self) -> bool {
        self.rises
    }

    /// Works on the bound, when the plan has not been held against it yet.
    pub fn advance(&mut self, best: &Best, covered: bool, stop: &(dyn Fn() -> bool + Sync)) {
        self.rises = false;
        if !covered || self.is_closed(best) || self.held_against <= best.worth {
            return;
        }
        if best.worth <= 0.0 {
            self.bound = Some(0.0);
            self.reason = "no term of the cost can be less than nothing".to_string();
            return;
        }
        let (bound, reason, held_against) = match &mut self.way {
            Way::ByCourse(prover) => (
                prover.prove(best.worth, stop),
                "prices on the use of each strip, with paths that remember the strips they took",
                best.worth,
            ),
            // What it finds does not depend on the plan.
            Way::ByMetre(prover) => (
                prover.prove(stop).min(best.worth),
                "prices on each metre of strip, with paths across the boat at every place along it",
                f64::NEG_INFINITY,
            ),
            Way::None => return,
        };
        if bound <= 0.0 {
            self.reason = "no bound better than nothing was found in the time".to_string();
            return;
        }
        let before = self.bound.unwrap_or(0.0);
        self.rises = self.gives_hints() && bound > before + RISE * best.worth;
        self.bound = Some(bound);
        self.held_against = match self.rises {
            true => f64::INFINITY,
            false => held_against,
        };
        self.reason = reason.to_string();
    }

    /// Whether the proof has plans of its own to hint at.
    pub fn gives_hints(&self) -> bool {
        matches!(self.way, Way::ByCourse(_))
    }

    /// Whether the bound is best left to the end: it hints at nothing, and does not depend on the plan.
    pub fn comes_last(&self) -> bool {
        matches!(self.way, Way::ByMetre(_))
    }

    /// What could lie on each course, by row, for a plan that may be better than the best so far; see [`Prover::path`].
    pub fn hint(
        &mut self,
        best: &Best,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<&[Vec<[u32; 2]>]> {
        let Way::ByCourse(prover) = &mut self.way else {
            return None;
        };
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
