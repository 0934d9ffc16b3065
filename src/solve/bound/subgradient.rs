//! Subgradient ascent on the prices of strips.
//!
//! Sources: M. Held, P. Wolfe and H. P. Crowder, "Validation of subgradient optimization", Mathematical Programming 6
//! (1974); the direction is deflected as in P. M. Camerini, L. Fratta and F. Maffioli, "On improving relaxation
//! methods by modified gradient techniques", Mathematical Programming Study 3 (1975) (citations from memory).

use super::dual::{DualState, Level};
use super::instance::Instance;
use super::subproblem::Solved;
use crate::solve::tuning::subgradient::{CLOSED, PATIENCE, PROGRESS, SHORTEST_STEP};

/// How an ascent goes about it.
#[derive(Clone, Copy)]
pub struct Ascent {
    /// What paths remember.
    pub level: Level,
    /// Steps at most.
    pub steps: usize,
    /// How far above the best value the first steps aim, in parts of the plan's cost.
    pub step_length: f64,
    /// How far above the best value paths are followed at first, in parts of the plan's cost.
    pub slack: f64,
}

impl Ascent {
    /// So many steps, the first so long, following paths so far above the best value; all in parts of the plan's cost.
    pub const fn new(level: Level, steps: usize, step_length: f64, slack: f64) -> Ascent {
        Ascent {
            level,
            steps,
            step_length,
            slack,
        }
    }
}

impl DualState<'_> {
    /// Moves the prices, from some at which the value `from` is known; leaves the best found, and gives back the value
    /// there.
    pub fn ascend(
        &mut self,
        instance: &mut Instance,
        ascent: &Ascent,
        from: f64,
        cutoff: f64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> f64 {
        let mut best = from;
        let mut best_prices = self.prices.clone();
        let mut direction = vec![0.0; self.sharing.parts().len() * self.problem.woods.len()];
        let mut best_subgradient = direction.clone();
        let (mut step_length, mut slack, mut stale) = (ascent.step_length, ascent.slack, 0);
        let mut steps = 0;
        while steps < ascent.steps && step_length >= SHORTEST_STEP {
            // Paths above this are cut off. Where none is left, it is a bound itself: it is taken, and more is allowed.
            let most = (best + slack * cutoff).min(cutoff);
            let (value, path) = match instance.solve(self, ascent.level, most, stop) {
                Solved::Bound(value, path) => (value, path),
                Solved::AboveCutoff if most < cutoff => {
                    best = most;
                    best_prices.clone_from(&self.prices);
                    slack *= 1.5;
                    continue;
                }
                Solved::AboveCutoff => {
                    best = cutoff;
                    best_prices.clone_from(&self.prices);
                    break;
                }
                Solved::TooMany if step_length > SHORTEST_STEP && best > from => {
                    // The last step went too far.
                    step_length *= 0.25;
                    slack = ascent.slack;
                    self.prices.clone_from(&best_prices);
                    direction.fill(0.0);
                    let target = (best + step_length * cutoff).min(cutoff);
                    self.prices.step(&best_subgradient, target - best);
                    steps += 1;
                    continue;
                }
                Solved::TooMany | Solved::Stopped => break,
            };
            steps += 1;
            // Less is allowed again, but never less than at first.
            slack = ascent.slack.max(slack * 0.5);
            let progress = value > best + PROGRESS * cutoff;
            stale = if progress { 0 } else { stale + 1 };
            let too_long = stale > 0 && stale % PATIENCE == 0;
            if too_long {
                step_length *= 0.5;
            }
            let subgradient = self.subgradient(instance, ascent.level, &path.nodes);
            if value > best {
                best = value;
                best_prices.clone_from(&self.prices);
                best_subgradient.clone_from(&subgradient);
            } else if too_long {
                self.prices.clone_from(&best_prices);
                direction.fill(0.0);
            }
            if self.keeps_path(ascent.level) {
                self.note(&instance.graph, &path.nodes);
            }
            if ascent.level == Level::Ways && self.learn(&instance.graph, &path.nodes) {
                continue;
            }
            let complementary = self.prices.along(&subgradient) > -CLOSED * cutoff;
            if complementary && subgradient.iter().all(|&surplus| surplus <= 0.0) {
                // The path is a plan, and costs what the bound says.
                break;
            }
            deflect(&mut direction, &subgradient);
            let target = (best + step_length * cutoff).min(cutoff);
            self.prices.step(&direction, target - value);
        }
        self.prices = best_prices;
        best
    }

    /// By constraint and strip, how much more than the whole strip is taken; -1 where it is not taken.
    pub fn subgradient(&self, instance: &Instance, level: Level, path: &[usize]) -> Vec<f64> {
        let (strips, parts) = (self.problem.woods.len(), self.sharing.parts());
        let mut surplus = vec![-1.0; parts.len() * strips];
        let mut paid = vec![false; strips];
        let pays_whole = level == Level::Ways && instance.graph.pays_whole();
        for (layer, &at) in instance.graph.layers.iter().zip(path) {
            let used = &self.pairs.all[layer.nodes[at].pair as usize];
            for strip in used.strips() {
                let strip = strip as usize;
                if pays_whole && !layer.long {
                    if !std::mem::replace(&mut paid[strip], true) {
                        for constraint in 0..parts.len() {
                            surplus[constraint * strips + strip] += 1.0;
                        }
                    }
                    continue;
                }
                for (constraint, parts) in parts.iter().enumerate() {
                    surplus[constraint * strips + strip] += parts[layer.row][strip];
                }
            }
        }
        surplus
    }
}

/// Turns the direction of the step before towards the subgradient, never against it. The factor 1.5 is that of
/// Camerini, Fratta and Maffioli 1975 (from memory).
fn deflect(direction: &mut [f64], subgradient: &[f64]) {
    let along: f64 = direction.iter().zip(subgradient).map(|(d, s)| d * s).sum();
    let square: f64 = direction.iter().map(|d| d * d).sum();
    let keep = if along < 0.0 && square > 0.0 {
        -1.5 * along / square
    } else {
        0.0
    };
    for (direction, surplus) in direction.iter_mut().zip(subgradient) {
        *direction = surplus + keep * *direction;
    }
}
