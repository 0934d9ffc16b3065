//! Paths that know the same, side by side: a cost for each pair that they may be at.

use crate::solve::bound::bits::Bits;
use std::collections::HashMap;

/// What paths know: of the other boards, and how many slices are gone of the board that they are in.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Known {
    /// Of other boards.
    pub others: Bits,
    /// Slices of this board that are gone.
    pub gone: u32,
}

impl Known {
    /// What a path knows before its first course.
    pub const NOTHING: Known = Known {
        others: Bits::NONE,
        gone: 0,
    };

    fn no_more_than(&self, other: &Known) -> bool {
        self.gone <= other.gone && self.others.within(&other.others)
    }
}

/// More groups than this are not held against each other, which takes time that grows with their square.
const MANY: usize = 2_000;

/// Groups of paths that are in one crew, on one link.
#[derive(Clone, Default)]
pub struct Groups {
    known: Vec<Known>,
    number: HashMap<Known, u32>,
    costs: Vec<f64>,
}

impl Groups {
    /// How many there are.
    pub fn len(&self) -> usize {
        self.known.len()
    }

    /// What the paths of each know, and what they cost by pair, of `n` pairs.
    pub fn all(&self, n: usize) -> impl Iterator<Item = (&Known, &[f64])> {
        self.known.iter().zip(self.costs.chunks_exact(n.max(1)))
    }

    /// The costs of the paths that know just this, of `n` pairs; infinite where there were none.
    pub fn of(&mut self, known: Known, n: usize) -> &mut [f64] {
        let at = *self.number.entry(known).or_insert_with(|| {
            self.known.push(known);
            self.costs.resize(self.costs.len() + n, f64::INFINITY);
            self.known.len() as u32 - 1
        }) as usize;
        &mut self.costs[at * n..(at + 1) * n]
    }

    /// Makes every cost infinite that reaches `limit` with what the rest costs at least, by pair.
    pub fn prune(&mut self, rest: &[f64], limit: f64) {
        for costs in self.costs.chunks_exact_mut(rest.len().max(1)) {
            for (cost, rest) in costs.iter_mut().zip(rest) {
                if *cost + rest >= limit {
                    *cost = f64::INFINITY;
                }
            }
        }
    }

    /// Keeps what is needed: a path goes where another that knows no more costs no more, and a group where none of its paths is left. No more
    /// can be added afterwards.
    pub fn settle(&mut self, n: usize) {
        self.drop_dead(n);
        self.thin(n);
        self.drop_dead(n);
        self.known.shrink_to_fit();
        self.costs.shrink_to_fit();
        self.number = HashMap::new();
    }

    fn thin(&mut self, n: usize) {
        if !(2..=MANY).contains(&self.len()) {
            return;
        }
        let mut order: Vec<usize> = (0..self.len()).collect();
        order.sort_by_key(|&i| self.known[i].others.count() + self.known[i].gone);
        for (at, &more) in order.iter().enumerate() {
            for &less in &order[..at] {
                if !self.known[less].no_more_than(&self.known[more]) {
                    continue;
                }
                for i in 0..n {
                    if self.costs[less * n + i] <= self.costs[more * n + i] {
                        self.costs[more * n + i] = f64::INFINITY;
                    }
                }
            }
        }
    }

    fn drop_dead(&mut self, n: usize) {
        let mut kept = 0;
        for at in 0..self.len() {
            let costs = at * n..(at + 1) * n;
            if self.costs[costs.clone()]
                .iter()
                .any(|cost| cost.is_finite())
            {
                self.costs.copy_within(costs, kept * n);
                self.known[kept] = self.known[at];
                kept += 1;
            }
        }
        self.known.truncate(kept);
        self.costs.truncate(kept * n);
    }

    /// The least cost of each of `n` pairs.
    pub fn least(&self, n: usize) -> Vec<f64> {
        let mut least = vec![f64::INFINITY; n];
        for costs in self.costs.chunks_exact(n.max(1)) {
            for (least, cost) in least.iter_mut().zip(costs) {
                *least = least.min(*cost);
            }
        }
        least
    }
}
