//! Prices on the use of strips.

use super::pairs::{Pair, Pairs};
use super::sharing::Sharing;
use crate::solve::problem::NONE;

/// A price for each constraint on a strip, never below nothing. Unit: ΔE00·metre.
#[derive(Clone, PartialEq, Debug)]
pub struct Prices {
    /// By constraint and strip.
    each: Vec<f64>,
    strips: usize,
    /// What is paid for each strip that is cut into.
    cut: f64,
}

/// What strips cost on one course.
pub struct PricesOnRow {
    strips: Vec<f64>,
    /// The least in each board.
    boards: Vec<f64>,
}

impl Prices {
    /// Every strip for nothing.
    pub fn none(sharing: &Sharing, strips: usize, cut: f64) -> Prices {
        Prices {
            each: vec![0.0; sharing.parts().len() * strips],
            strips,
            cut,
        }
    }

    /// What a strip costs as a whole, thrift included.
    pub fn whole(&self, strip: u32) -> f64 {
        let each = self.each.iter().skip(strip as usize);
        self.cut + each.step_by(self.strips).sum::<f64>()
    }

    /// What strips cost on a row, thrift included.
    pub fn on(&self, sharing: &Sharing, pairs: &Pairs, row: usize) -> PricesOnRow {
        let mut strips: Vec<f64> = (0..self.strips as u32)
            .map(|strip| self.cut * sharing.share(row, strip))
            .collect();
        for (parts, prices) in sharing
            .parts()
            .iter()
            .zip(self.each.chunks(self.strips.max(1)))
        {
            for ((sum, part), price) in strips.iter_mut().zip(&parts[row]).zip(prices) {
                *sum += part * price;
            }
        }
        let least = |of: &Vec<u32>| {
            let all = of.iter().map(|&strip| strips[strip as usize]);
            all.fold(f64::INFINITY, f64::min)
        };
        let is_short = !sharing.long[row];
        PricesOnRow {
            boards: pairs
                .boards
                .iter()
                .map(|board| if is_short { 0.0 } else { least(&board.strips) })
                .collect(),
            strips,
        }
    }

    /// All strips together.
    pub fn sum(&self) -> f64 {
        self.each.iter().sum()
    }

    /// How much a step along the subgradient changes the bound.
    pub fn along(&self, subgradient: &[f64]) -> f64 {
        self.each.iter().zip(subgradient).map(|(p, s)| p * s).sum()
    }

    /// Raises what is used more than once and lowers what lies idle, a step in the direction of `subgradient` that
    /// would change the bound by `by`, were it straight.
    pub fn step(&mut self, subgradient: &[f64], by: f64) {
        let moving = |(price, subgradient): &(&f64, &f64)| **price > 0.0 || **subgradient > 0.0;
        let able = self.each.iter().zip(subgradient).filter(moving);
        let square: f64 = able.map(|(_, subgradient)| subgradient * subgradient).sum();
        if square <= 0.0 {
            return;
        }
        let far = by / square;
        for (price, subgradient) in self.each.iter_mut().zip(subgradient) {
            *price = (*price + far * subgradient).max(0.0);
        }
    }
}

impl PricesOnRow {
    /// The price of each strip.
    pub fn of_strips(self) -> Vec<f64> {
        self.strips
    }

    /// The price of a pair; for strips of different boards, what any two of them cost at least.
    pub fn of(&self, pair: &Pair) -> f64 {
        if pair.wood[0] == NONE {
            return pair.sides.iter().map(|&board| self.boards[board]).sum();
        }
        pair.strips().map(|strip| self.strips[strip as usize]).sum()
    }
}
