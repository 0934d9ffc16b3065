//! Tolls to begin with.

use super::ByMetre;
use crate::solve::bound::shares::break_even;
use crate::solve::bound::wood::least_joint;
use rayon::prelude::*;

/// The part of the least step between two boards that changes are let off at first.
const LET_OFF: f64 = 0.9;

impl ByMetre<'_> {
    /// Tolls to begin with: what changes are let off is what boards pay for their edges, and a metre is worth what lets a board break even.
    pub(super) fn begin(&mut self) {
        let (problem, field) = (self.problem, &self.field);
        let weight = |c: usize| field.courses[c].weight;
        let near = |board: usize| {
            let others = (0..self.pairs.boards.len()).filter(|&other| other != board);
            let least = others.map(|other| self.pairs.between(board, other));
            let least = least.fold(f64::INFINITY, f64::min);
            if least.is_finite() { least } else { 0.0 }
        };
        let near: Vec<f64> = (0..self.pairs.boards.len()).map(near).collect();
        // A joint between boards, with one piece more, comes to nothing at first.
        // What one board can cover from end to end may have no change at all.
        let stretches = field.stretches();
        let small: Vec<bool> = stretches.iter().map(|all| field.fits_one(all)).collect();
        let mut of = vec![0; field.courses.len()];
        for (number, all) in stretches.iter().enumerate() {
            of[all.clone()].fill(number);
        }
        let edge = |board: usize, seam: usize| match small[of[seam]] {
            true => 0.0,
            false => LET_OFF * near[board] * weight(seam),
        };
        let part = |c: usize| {
            let joint = least_joint(problem, field.courses[c].row);
            0.5 * (joint - self.pieces.charge)
        };
        let mut tolls = self.at.tolls.clone();
        tolls.set(|_, _| 0.0, edge, part);
        let boards = (0..near.len()).into_par_iter();
        let worth: Vec<Vec<f64>> = boards
            .map(|board| {
                let stretches = stretches.iter();
                stretches
                    .map(|all| break_even(field, &tolls, board, all))
                    .collect()
            })
            .collect();
        tolls.set(|board, c| worth[board][of[c]] * weight(c), edge, part);
        self.at.tolls = tolls;
    }
}
