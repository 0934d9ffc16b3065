//! What a path remembers of the boards that it has left.

use super::bits::{Bits, low};
use super::chain::Chain;
use super::pairs::Pairs;

/// How closely a board is remembered that was left. What is remembered is never more than what was taken.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Grain {
    /// How many slices were taken.
    Number,
    /// Which slices were taken.
    Slices,
}

/// What is remembered where, and how closely.
#[derive(Clone, Debug)]
pub struct Memory {
    /// For each board, the slots that a path still knows of while it is in that board. The entry after the last is for strips of
    /// different boards.
    keep: Vec<Bits>,
    /// How closely each board is remembered.
    grain: Vec<Grain>,
    /// For each pair, what of the slices taken is still known once that pair is taken, while a path stays in a board.
    around: Vec<u64>,
}

impl Memory {
    /// Every board knows of itself and of so many boards that are most like it.
    pub fn of_near(pairs: &Pairs, count: usize) -> Memory {
        let boards = pairs.boards.len();
        let keep = |board: usize| {
            let mut others: Vec<usize> = (0..boards).filter(|&other| other != board).collect();
            let apart = |other: &usize| pairs.between(board, *other);
            others.sort_by(|a, b| apart(a).total_cmp(&apart(b)).then(a.cmp(b)));
            let kept = others.into_iter().take(count).chain([board]);
            kept.fold(Bits::NONE, |all, other| all.or(&pairs.boards[other].all))
        };
        Memory {
            keep: (0..boards).map(keep).chain([Bits::NONE]).collect(),
            grain: vec![Grain::Number; boards],
            around: vec![u64::MAX; pairs.all.len()],
        }
    }

    /// What is still known of slices taken once a pair is taken.
    #[inline]
    pub fn keep(&self, pair: u32, run: u64) -> u64 {
        run & self.around[pair as usize]
    }

    /// The slots that stand for what was taken of a board when it is left: the slices themselves, or as many from its first on.
    #[inline]
    pub fn left(&self, pairs: &Pairs, board: usize, before: u32, run: u64) -> Bits {
        let b = &pairs.boards[board];
        let run = b.once(run);
        let gone = (before + run.count_ones()).min(b.slices);
        let mask = match self.grain[board] {
            Grain::Number => low(gone),
            Grain::Slices => run,
        };
        Bits::placed(b.first, mask)
    }

    /// What is known when a board is entered: of other boards, and how many slices of this one are gone, and which of them can be
    /// told.
    #[inline]
    pub fn entered(&self, pairs: &Pairs, board: usize, left: &Bits) -> (Bits, u32, u64) {
        let known = left.and(&self.keep[board]);
        let Some(b) = pairs.boards.get(board) else {
            return (known, 0, 0);
        };
        let mask = known.window(b.first, b.slices);
        if self.grain[board] == Grain::Slices {
            (known.without(&b.all), 0, mask)
        } else {
            (known, mask.count_ones(), 0)
        }
    }

    /// The same, where of every board only the number of slices gone is told: of other boards, and of this one, where it is one.
    #[inline]
    pub fn counted(&self, pairs: &Pairs, board: usize, left: &Bits) -> (Bits, u32) {
        match pairs.boards.get(board) {
            Some(b) => {
                let known = left.and(&self.keep[board]);
                let gone = known.window(b.first, b.slices).count_ones();
                (known.without(&b.all), gone)
            }
            None => (left.and(&self.keep[pairs.boards.len()]), 0),
        }
    }

    /// Where a path comes back to a strip, every board on the way learns to remember its board, and one that was remembered by
    /// number is remembered slice by slice. `false` where there was nothing to learn.
    pub fn learn(&mut self, pairs: &Pairs, chain: &Chain, path: &[usize]) -> bool {
        let mut learned = false;
        let pair = |l: usize| &pairs.all[chain.links[l].nodes[path[l]].pair as usize];
        for l in 0..path.len() {
            let board = pair(l).board;
            if board == pairs.boards.len() {
                continue;
            }
            let again = |&m: &usize| pair(m).board == board && pair(m).mask & pair(l).mask != 0;
            let Some(back) = (l + 1..path.len()).find(again) else {
                continue;
            };
            let mut known = true;
            for way in (l + 1..back).map(|m| pair(m).board) {
                if way != board && !pairs.boards[board].all.within(&self.keep[way]) {
                    self.keep[way] = self.keep[way].or(&pairs.boards[board].all);
                    known = false;
                    learned = true;
                }
            }
            if known && self.grain[board] != Grain::Slices {
                self.grain[board] = Grain::Slices;
                learned = true;
            }
        }
        learned
    }
}
