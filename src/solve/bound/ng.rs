//! The boards that a path remembers while it is in a board: the neighbourhoods of the ng-path relaxation.

use super::bits::Bits;
use super::dual::DualState;
use super::layers::LayeredGraph;
use super::pairs::Pairs;

/// For each board, the boards that a path still remembers while it is in that board. Of each, the number of slices
/// taken is remembered.
#[derive(Clone, Debug)]
pub struct Neighbourhoods {
    /// By board, the slots of the boards remembered. The entry after the last is for strips of two boards.
    keep: Vec<Bits>,
    /// The same on short courses, where each slice taken is remembered.
    short: Vec<Bits>,
}

impl Neighbourhoods {
    /// Every board remembers itself and so many boards that are most like it.
    pub fn of_nearest(pairs: &Pairs, count: usize) -> Neighbourhoods {
        let boards = pairs.boards.len();
        let keep = |board: usize| {
            let mut others: Vec<usize> = (0..boards).filter(|&other| other != board).collect();
            let apart = |other: &usize| pairs.between(board, *other);
            others.sort_by(|a, b| apart(a).total_cmp(&apart(b)).then(a.cmp(b)));
            let kept = others.into_iter().take(count).chain([board]);
            kept.fold(Bits::NONE, |all, other| all.or(&pairs.boards[other].all))
        };
        let own = pairs.boards.iter().map(|board| board.all);
        Neighbourhoods {
            keep: (0..boards).map(keep).chain([Bits::NONE]).collect(),
            short: own.chain([Bits::NONE]).collect(),
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

    /// What is remembered of numbers of slices on entering a board on a short course, and which boards' slices are.
    pub fn entering_short(&self, board: usize, taken: &Bits) -> (Bits, &Bits) {
        (taken.and(&self.keep[board]), &self.short[board])
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

    /// The same where short courses take more of a strip than there is.
    pub fn learn_short(&mut self, dual: &DualState, graph: &LayeredGraph, path: &[usize]) -> bool {
        let pairs = &dual.pairs;
        let pair = |l: usize| &pairs.all[graph.layers[l].nodes[path[l]].pair as usize];
        let short: Vec<usize> = (0..path.len()).filter(|&l| !graph.layers[l].long).collect();
        let mut learned = false;
        for &l in &short {
            for strip in pair(l).strips() {
                let mut using = short.clone();
                using.retain(|&m| pair(m).wood.contains(&strip));
                let rows: Vec<usize> = using.iter().map(|&m| graph.layers[m].row).collect();
                if dual.sharing.fit(&rows, strip) {
                    continue;
                }
                let slots = pairs.boards[pair(l).board].all;
                for way in short
                    .iter()
                    .filter(|m| using[0] < **m && Some(*m) < using.last())
                {
                    let keep = &mut self.short[pair(*way).board];
                    learned |= !slots.within(keep);
                    *keep = keep.or(&slots);
                }
            }
        }
        learned
    }
}
