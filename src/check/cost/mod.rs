//! The cost of a plan, term by term, from its rows. Source: docs/model.md, "Cost". Unit of all: ΔE00·metre.

mod drift;
mod joint;
mod matching;
mod moved;
mod seam;
mod weight;

use std::collections::BTreeSet;

use super::rows::Rows;
use super::verdict::Verdict;
use crate::plan::Cost;
use crate::stock::{Stock, StripId};

/// Everything of a verdict but the breaches.
pub(super) fn reckon(rows: &Rows) -> Verdict {
    let seams = seam::figures(rows);
    let matches = matching::figures(rows);
    let (joints, joint_cost) = joint::reckon(rows);
    let strips: BTreeSet<StripId> = rows.plan.pieces.iter().map(|piece| piece.strip).collect();
    let weights = rows.job.weights;
    let relabelled = moved::pieces(rows);
    Verdict {
        breaches: Vec::new(),
        cost: Cost {
            seam: added_up(seams.iter().map(|seam| seam.cost)),
            matching: added_up(matches.iter().map(|pair| pair.cost)),
            joint: joint_cost,
            drift: drift::reckon(rows),
            thrift: weights.cut * strips.len() as f64,
            moved: weights.relabel * relabelled as f64,
        },
        seams,
        matches,
        joints,
        strips_cut: strips.len(),
        relabelled,
    }
}

/// A sum that starts from a plain zero: the library's own sum of nothing is minus zero, and would be printed so.
fn added_up(costs: impl Iterator<Item = f64>) -> f64 {
    costs.fold(0.0, |sum, cost| sum + cost)
}

/// How far apart two strips lay in one board; a strip is no distance from itself, and a stray is a board of its own.
fn apart(stock: &Stock, one: StripId, other: StripId) -> Option<u32> {
    if one == other {
        return Some(0);
    }
    stock.seq_apart(one, other)
}

/// A step weighed by the length over which it is met.
#[derive(Default)]
struct Steps {
    met: f64,
    weighed: f64,
    worst: f64,
}

impl Steps {
    fn add(&mut self, step: f64, metres: f64) {
        self.met += metres;
        self.weighed += step * metres;
        self.worst = self.worst.max(step);
    }

    fn mean(&self) -> f64 {
        self.weighed / self.met
    }
}
