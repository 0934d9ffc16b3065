//! Prices up, prices down: the subgradient method on the prices of strips.
//!
//! Source: M. Held, P. Wolfe and H. P. Crowder, "Validation of subgradient optimization", Mathematical Programming 6 (1974) (citation
//! from memory).

use super::ground::Ground;
use super::ladder::Look;
use super::ledger::{Ledger, Rungs};
use super::slope::{deflect, slope};

/// Rounds without a better bound after which the steps get shorter.
const PATIENCE: usize = 4;
/// Steps that reach less far than this are not worth a pass.
const SHORTEST_REACH: f64 = 1e-3;
/// A better value than this part of the plan's cost counts as progress.
const PROGRESS: f64 = 1e-4;
/// Prices of idle strips below this part of the plan's cost count as none.
const CLOSED: f64 = 1e-8;

/// How a climb goes about it.
#[derive(Clone, Copy)]
pub struct Climb {
    /// What paths remember.
    pub rungs: Rungs,
    /// Rounds of price changes at most.
    pub rounds: usize,
    /// How far above the best value the first steps reach, in parts of the plan's cost.
    pub reach: f64,
    /// How far above the best value paths are followed at first, in parts of the plan's cost.
    pub slack: f64,
}

impl Ledger<'_> {
    /// Price rounds on some ground, from prices at which the value `from` is known; leaves the best prices found, and gives back the value there.
    pub fn climb(
        &mut self,
        ground: &mut Ground,
        climb: &Climb,
        from: f64,
        limit: f64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> f64 {
        let mut best = from;
        let mut best_prices = self.prices.clone();
        let mut direction = vec![0.0; self.problem.woods.len()];
        let (mut reach, mut slack, mut stale) = (climb.reach, climb.slack, 0);
        let mut best_slope = direction.clone();
        let mut round = 0;
        while round < climb.rounds && reach >= SHORTEST_REACH {
            // Paths far above the best value so far tell nothing; where all are, the value is further up.
            let most = (best + slack * limit).min(limit);
            let memories = self.memories(climb.rungs);
            let (value, paths) = match ground.look(&self.terms(), &memories, most, stop) {
                Look::Bound(value, paths) => (value, paths),
                Look::AboveLimit if most < limit => {
                    best = most;
                    best_prices.clone_from(&self.prices);
                    slack *= 1.5;
                    continue;
                }
                Look::AboveLimit => {
                    best = limit;
                    best_prices.clone_from(&self.prices);
                    break;
                }
                Look::TooMany if reach > SHORTEST_REACH && best > from => {
                    // The last step went too far.
                    reach *= 0.25;
                    slack = climb.slack;
                    self.prices.clone_from(&best_prices);
                    direction.fill(0.0);
                    let target = (best + reach * limit).min(limit);
                    self.prices.step(&best_slope, target - best);
                    round += 1;
                    continue;
                }
                Look::TooMany | Look::Stopped => break,
            };
            round += 1;
            // Where much was to be gained there is likely to be more.
            slack = climb.slack.max(slack * 0.5);
            stale = if value > best + PROGRESS * limit {
                0
            } else {
                stale + 1
            };
            let tired = stale > 0 && stale % PATIENCE == 0;
            if tired {
                reach *= 0.5;
            }
            let slope = slope(&self.terms(), &ground.chains, &paths);
            if value > best {
                best = value;
                best_prices.clone_from(&self.prices);
                best_slope.clone_from(&slope);
            } else if tired {
                self.prices.clone_from(&best_prices);
                direction.fill(0.0);
            }
            if self.keeps_path(climb.rungs) {
                self.note(&ground.chains, &paths);
            }
            if climb.rungs == Rungs::All && self.learn(&ground.chains, &paths) {
                continue;
            }
            if slope.iter().all(|&slope| slope <= 0.0)
                && self.prices.along(&slope) > -CLOSED * limit
            {
                // The path is a plan, and costs what the bound says.
                break;
            }
            deflect(&mut direction, &slope);
            let target = (best + reach * limit).min(limit);
            self.prices.step(&direction, target - value);
        }
        self.prices = best_prices;
        best
    }
}
