//! How good the best plan is known to be, round by round.

use super::anneal::Best;
use super::asked::BoundReason;
use super::bound::{Prover, Scope, scope};
use super::problem::Problem;
use crate::solve::tuning::optimality::{CLOSED, RISE};

/// The proof of optimality under way.
pub struct Optimality<'a> {
    /// The bound so far, on the plans that it holds for. Unit: ΔE00·metre.
    least: Option<f64>,
    scope: Scope,
    /// What a plan outside the scope costs at least, which has a joint; infinite where there is none outside. Unit:
    /// ΔE00·metre.
    outside: f64,
    /// How the bound was found, or why there is none.
    reason: BoundReason,
    prover: Option<Box<Prover<'a>>>,
    /// What the plan cost that the bound was last held against; infinite while the bound still rises.
    held_against: f64,
    /// Whether the bound rose when it was last worked on.
    rises: bool,
}

impl<'a> Optimality<'a> {
    /// Nothing proven yet. `needs_joints` is whether joints are needed, as far as is known.
    pub fn new(problem: &'a Problem, needs_joints: bool) -> Optimality<'a> {
        let scope = scope(problem, needs_joints);
        let prover = scope.ok().and_then(|_| Prover::new(problem));
        let reason = match (scope, &prover) {
            (Err(reason), _) => reason,
            (Ok(_), None) => BoundReason::TooLarge,
            (Ok(_), Some(_)) => BoundReason::CourseOpen,
        };
        let scope = scope.unwrap_or(Scope::All);
        Optimality {
            least: None,
            scope,
            outside: match scope {
                Scope::All => f64::INFINITY,
                Scope::WithoutJoints => {
                    let joints = problem.rows.iter().filter_map(|row| row.least_at_joint());
                    problem.weights.joint * joints.fold(f64::INFINITY, f64::min)
                }
            },
            reason,
            prover: prover.map(Box::new),
            held_against: f64::INFINITY,
            rises: false,
        }
    }

    /// A bound on all plans: also where joints are allowed, if a single joint costs as much as the bound.
    pub fn bound(&self) -> Option<f64> {
        self.least.filter(|least| *least <= self.outside)
    }

    /// A bound on the plans without joints, where joints are allowed.
    pub fn bound_without_joints(&self) -> Option<f64> {
        self.least.filter(|_| self.scope == Scope::WithoutJoints)
    }

    /// How [`Optimality::bound`] was found, or why there is none.
    pub fn reason(&self) -> BoundReason {
        match (self.least, self.bound()) {
            (Some(_), None) => BoundReason::Joints,
            _ => self.reason,
        }
    }

    /// Whether the plan has not been held against the bound yet.
    pub fn is_due(&self, best: &Best) -> bool {
        self.prover.is_some() && !self.is_reached(best) && self.held_against > best.worth
    }

    /// Whether the bound rose when it was last worked on, and may rise again.
    pub fn rises(&self) -> bool {
        self.rises
    }

    /// Works on the bound, when the plan has not been held against it yet.
    pub fn advance(&mut self, best: &Best, covered: bool, stop: &(dyn Fn() -> bool + Sync)) {
        self.rises = false;
        if !covered || self.is_reached(best) || self.held_against <= best.worth {
            return;
        }
        if best.worth <= 0.0 {
            (self.least, self.reason) = (Some(0.0), BoundReason::CostIsNothing);
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
        let before = self.least.unwrap_or(0.0);
        self.rises = bound > before + RISE * best.worth;
        self.held_against = if self.rises {
            f64::INFINITY
        } else {
            best.worth
        };
        (self.least, self.reason) = (Some(bound), BoundReason::Priced);
    }

    /// Whether the proof has plans of its own to hint at from the first round on.
    pub fn gives_hints(&self) -> bool {
        self.prover.is_some()
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
        self.bound().is_some() && self.is_reached(best)
    }

    /// Whether no plan that the bound holds for is better.
    fn is_reached(&self, best: &Best) -> bool {
        self.least
            .is_some_and(|least| least >= best.worth - CLOSED * best.worth.abs())
    }
}
