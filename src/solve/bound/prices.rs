//! Prices on the use of strips.

use super::pairs::{Pair, Pairs};
use crate::solve::problem::NONE;

/// A price for each strip, never below nothing. Unit: ΔE00·metre.
#[derive(Clone, PartialEq, Debug)]
pub struct Prices {
    strips: Vec<f64>,
    /// The least price in each board.
    boards: Vec<f64>,
    board_of: Vec<usize>,
}

impl Prices {
    /// Every strip for nothing.
    pub fn none(pairs: &Pairs, strips: usize) -> Prices {
        let mut board_of = vec![0; strips];
        for pair in &pairs.all {
            for strip in pair.wood.into_iter().filter(|&strip| strip != NONE) {
                board_of[strip as usize] = pair.board;
            }
        }
        Prices {
            strips: vec![0.0; strips],
            boards: vec![0.0; pairs.boards.len()],
            board_of,
        }
    }

    /// The price of a pair; for strips of different boards, what any two of them cost at least.
    pub fn of(&self, pair: &Pair) -> f64 {
        if pair.wood[0] == NONE {
            return pair.sides.iter().map(|&board| self.boards[board]).sum();
        }
        let strips = pair.wood.into_iter().filter(|&strip| strip != NONE);
        strips.map(|strip| self.strips[strip as usize]).sum()
    }

    /// All strips together.
    pub fn sum(&self) -> f64 {
        self.strips.iter().sum()
    }

    /// How much a step along the subgradient changes the bound.
    pub fn along(&self, subgradient: &[f64]) -> f64 {
        self.strips
            .iter()
            .zip(subgradient)
            .map(|(p, s)| p * s)
            .sum()
    }

    /// Raises what is used more than once and lowers what lies idle, a step in the direction of `subgradient` that
    /// would change the bound by `by`, were it straight.
    pub fn step(&mut self, subgradient: &[f64], by: f64) {
        let moving = |(price, subgradient): &(&f64, &f64)| **price > 0.0 || **subgradient > 0.0;
        let able = self.strips.iter().zip(subgradient).filter(moving);
        let square: f64 = able.map(|(_, subgradient)| subgradient * subgradient).sum();
        if square <= 0.0 {
            return;
        }
        let far = by / square;
        for (price, subgradient) in self.strips.iter_mut().zip(subgradient) {
            *price = (*price + far * subgradient).max(0.0);
        }
        self.boards.fill(f64::INFINITY);
        for (price, &board) in self.strips.iter().zip(&self.board_of) {
            self.boards[board] = self.boards[board].min(*price);
        }
    }
}
