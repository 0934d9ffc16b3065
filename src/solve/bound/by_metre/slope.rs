//! Where paths and boards disagree, and what is used more than there is of it.

use super::{Boards, ByMetre};
use crate::solve::bound::chain::Chain;
use crate::solve::bound::ladder::Descent;
use crate::solve::bound::slope::slope;

impl ByMetre<'_> {
    /// How much more is taken of each strip than there is; and after that, how much more paths cover than boards do, boards end than paths
    /// change, and ends there are than joints allow.
    pub(super) fn slope(&self, charged: &[Chain], paths: &[Descent], boards: &Boards) -> Vec<f64> {
        let mut all = slope(&self.terms(), charged, paths);
        let tolls = &self.at.tolls;
        let mut slope = vec![0.0; tolls.count()];
        let named = self.pairs.boards.len();
        for ((chain, descent), span) in charged.iter().zip(paths).zip(&self.spans) {
            let metres = (span.1 - span.0) / 1000.0;
            let board = |l: usize| {
                let node = &chain.links[l].nodes[descent.path[l]];
                self.pairs.all[node.pair as usize].board
            };
            for (l, link) in chain.links.iter().enumerate() {
                let here = board(l);
                if let Some(c) = self.field.of_row[link.row].filter(|_| here < named) {
                    slope[tolls.price_place(here, c)] += metres;
                }
                let Some(before) = l.checked_sub(1).filter(|&before| board(before) != here) else {
                    continue;
                };
                let seam = self.field.seam_between(chain.links[before].row, link.row);
                for end in [board(before), here].into_iter().filter(|&b| b < named) {
                    if let Some(s) = seam {
                        slope[tolls.edge_place(end, s)] -= metres;
                    }
                }
            }
        }
        for (board, share) in boards.shares.iter().enumerate() {
            for (c, metres) in share.metres.iter().enumerate() {
                slope[tolls.price_place(board, c)] -= metres;
                slope[tolls.part_place(c)] += f64::from(share.ends[c]);
            }
            for (s, metres) in share.edges.iter().enumerate() {
                slope[tolls.edge_place(board, s)] += metres;
            }
        }
        for (c, course) in self.field.courses.iter().enumerate() {
            slope[tolls.part_place(c)] -= boards.joints[course.row].ends as f64;
        }
        all.extend(slope);
        all
    }
}
