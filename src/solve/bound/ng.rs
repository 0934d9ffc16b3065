//! The boards that a path remembers while it is in a board: the neighbourhoods of the ng-path relaxation.

use super::bits::Bits;
use super::layers::LayeredGraph;
use super::pairs::Pairs;

/// For each board, the boards that a path still remembers while it is in that board. Of each, the number of slices
/// taken is remembered.
#[derive(Clone, Debug)]
pub struct Neighbourhoods {
    /// By board, the slots of the boards remembered. The entry after the last is for strips of two boards.
    keep: Vec<Bits>,
    /// Whether strips of two boards on a long course count: one slice of each.
    pub counts_two_boards: bool,
}

impl Neighbourhoods {
    /// Every board remembers itself and so many boards that are most like it. Where strips of two boards are counted,
    /// every board is remembered beside them.
    pub fn of_nearest(pairs: &Pairs, count: usize, counts_two_boards: bool) -> Neighbourhoods {
        let boards = pairs.boards.len();
        let keep = |board: usize| {
            let mut others: Vec<usize> = (0..boards).filter(|&other| other != board).collect();
            let apart = |other: &usize| pairs.between(board, *other);
            others.sort_by(|a, b| apart(a).total_cmp(&apart(b)).then(a.cmp(b)));
            let kept = others.into_iter().take(count).chain([board]);
            kept.fold(Bits::NONE, |all, other| all.or(&pairs.boards[other].all))
        };
        let counted = pairs.boards.iter().filter(|_| counts_two_boards);
        let two_boards = counted.fold(Bits::NONE, |all, board| all.or(&board.all));
        Neighbourhoods {
            keep: (0..boards).map(keep).chain([two_boards]).collect(),
            counts_two_boards,
        }
    }

    /// What is remembered on entering a board: the slices taken of other boards, and how many of this one. One past
    /// the last board stands for strips of two boards.
    #[inline]
    pub fn entering(&self, pairs: &Pairs, board: usize, taken: &Bits) -> (Bits, u32) {
        let remembered = taken.and(&self.keep[board]);
        match pairs.boards.get(board) {
            Some(b) => {
                let of_this = remembered.window(b.first, b.slices).count_ones();
                (remembered.without(&b.all), of_this)
            }
            None => (remembered, 0),
        }
    }

    /// What is remembered of numbers of slices on entering a board on a short course.
    pub fn entering_short(&self, board: usize, taken: &Bits) -> Bits {
        taken.and(&self.keep[board])
    }

    /// Whether a path in one board remembers another.
    #[cfg(test)]
    pub fn remembers(&self, pairs: &Pairs, board: usize, other: usize) -> bool {
        pairs.boards[other].all.within(&self.keep[board])
    }

    /// Where a path comes back to a strip, every board on the way learns to remember that strip's board. `false` where
    /// there was nothing to learn.
    pub fn learn(&mut self, pairs: &Pairs, graph: &LayeredGraph, path: &[usize]) -> bool {
        let mut learned = false;
        let pair = |l: usize| &pairs.all[graph.layers[l].nodes[path[l]].pair as usize];
        let long = |l: &usize| graph.layers[*l].long;
        for l in (0..path.len()).filter(long) {
            let board = pair(l).board;
            let Some(slots) = pairs.boards.get(board).map(|board| board.all) else {
                continue;
            };
            let again =
                |&m: &usize| long(&m) && pair(m).board == board && pair(m).mask & pair(l).mask != 0;
            let back = (l + 1..path.len()).find(again).unwrap_or(l);
            for way in (l + 1..back).map(|m| pair(m).board) {
                if way != board && !slots.within(&self.keep[way]) {
                    self.keep[way] = self.keep[way].or(&slots);
                    learned = true;
                }
            }
        }
        learned
    }
}
