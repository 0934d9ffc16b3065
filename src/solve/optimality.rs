//! How good the best plan is known to be, round by round.

use super::anneal::Best;
use super::asked::BoundReason;
use super::bound::{Prover, out_of_scope};
use super::problem::Problem;
use crate::solve::tuning::optimality::{CLOSED, RISE};

/// The proof of optimality under way.
pub struct Optimality<'a> {
    /// The bound so far. Unit: ΔE00·metre.
    pub bound: Option<f64>,
    /// How it was found, or why there is none.
    pub reason: BoundReason,
    prover: Option<Box<Prover<'a>>>,
    /// What the plan cost that the bound was last held against; infinite while the bound still rises.
    held_against: f64,
    /// Whether the bound rose when it was last worked on.
    rises: bool,
}

impl<'a> Optimality<'a> {
    /// Nothing proven yet.
    pub fn new(problem: &'a Problem) -> Optimality<'a> {
        let out = out_of_scope(problem);
        let prover = out.map_or_else(|| Prover::new(problem), |_| None);
        let reason = match (out, &prover) {
            (Some(reason), _) => reason,
            (None, None) => BoundReason::TooLarge,
            (None, Some(_)) => BoundReason::CourseOpen,
        };
        Optimality {
            bound: None,
            reason,
            prover: prover.map(Box::new),
            held_against: f64::INFINITY,
            rises: false,
        }
    }

    /// Whether the plan has not been held against the bound yet.
    pub fn is_due(&self, best: &Best) -> bool {
        self.prover.is_some() && !self.is_closed(best) && self.held_against > best.worth
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
            (self.bound, self.reason) = (Some(0.0), BoundReason::CostIsNothing);
            return;
        }
        let Some(prover) = &mut self.prover else {
            return;
        };
        let bound = prover.prove(best.worth, stop);
        if bound <= 0.0 {
            self.reason = BoundReason::TimeUp;
            return;
        }
        let before = self.bound.unwrap_or(0.0);
        self.rises = bound > before + RISE * best.worth;
        self.held_against = if self.rises {
            f64::INFINITY
        } else {
            best.worth
        };
        (self.bound, self.reason) = (Some(bound), BoundReason::Priced);
    }

    /// Whether the proof has plans of its own to hint at from the first round on.
    pub fn gives_hints(&self) -> bool {
        self.prover.is_some() && !self.is_dear()
    }

    /// Whether the bound takes so long that the search goes first, for as long as it finds better plans.
    pub fn is_dear(&self) -> bool {
        self.prover
            .as_ref()
            .is_some_and(|prover| prover.has_short_courses())
    }

    /// What could lie on each course, by row, for a plan that may be better than the best so far; see [`Prover::path`].
    pub fn hint(
        &mut self,
        best: &Best,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<&[Vec<[u32; 2]>]> {
        let prover = self.prover.as_mut()?;
        if best.worth > 0.0 {
            prover.ascend_over_likely(best.worth, stop);
        }
        prover.path()
    }

    /// Whether the plan is proven to be the best there is.
    pub fn is_closed(&self, best: &Best) -> bool {
        self.bound
            .is_some_and(|bound| bound >= best.worth - CLOSED * best.worth.abs())
    }
}
