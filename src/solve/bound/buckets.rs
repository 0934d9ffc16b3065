//! Paths of one resource state, side by side: a cost for each pair that they may be at.

use super::bits::Bits;
use crate::solve::tuning::buckets::MOST_FOR_DOMINANCE;
use rustc_hash::FxHashMap;

/// What paths remember: of the other boards, and how many slices they took of the board that they are in.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct ResourceState {
    /// Slices taken of other boards: as many slots of each as are remembered, from its first on.
    pub others: Bits,
    /// Slices taken of this board.
    pub taken: u32,
    /// Slices of this board that short courses took just before.
    pub barred: u64,
}

impl ResourceState {
    /// Before the first course.
    pub const NOTHING: ResourceState = ResourceState {
        others: Bits::NONE,
        taken: 0,
        barred: 0,
    };

    /// Whether it took no more than another.
    pub fn is_within(&self, other: &ResourceState) -> bool {
        self.taken <= other.taken
            && self.others.within(&other.others)
            && self.barred & !other.barred == 0
    }
}

/// Paths that are in one class on one layer, in a bucket for each resource state.
#[derive(Clone, Default)]
pub struct Buckets {
    states: Vec<ResourceState>,
    number: FxHashMap<ResourceState, u32>,
    costs: Vec<f64>,
}

impl Buckets {
    /// How many there are.
    pub fn len(&self) -> usize {
        self.states.len()
    }

    /// The resource state of each, and what its paths cost by pair, of `n` pairs.
    pub fn all(&self, n: usize) -> impl Iterator<Item = (&ResourceState, &[f64])> {
        self.states.iter().zip(self.costs.chunks_exact(n.max(1)))
    }

    /// The costs of the paths of a resource state, of `n` pairs; infinite where there were none.
    pub fn of(&mut self, state: ResourceState, n: usize) -> &mut [f64] {
        let at = *self.number.entry(state).or_insert_with(|| {
            self.states.push(state);
            self.costs.resize(self.costs.len() + n, f64::INFINITY);
            self.states.len() as u32 - 1
        }) as usize;
        &mut self.costs[at * n..(at + 1) * n]
    }

    /// Makes every cost infinite that reaches `cutoff` with its completion bound, by pair.
    pub fn prune(&mut self, completion: &[f64], cutoff: f64) {
        for costs in self.costs.chunks_exact_mut(completion.len().max(1)) {
            for (cost, completion) in costs.iter_mut().zip(completion) {
                if *cost + completion >= cutoff {
                    *cost = f64::INFINITY;
                }
            }
        }
    }

    /// Drops buckets in which no path is left. Where asked, a path goes too where another that took no more costs no
    /// more (dominance). Nothing can be added afterwards.
    pub fn finish(&mut self, n: usize, by_dominance: bool) {
        self.drop_empty(n);
        if by_dominance {
            self.apply_dominance(n);
            self.drop_empty(n);
        }
        self.states.shrink_to_fit();
        self.costs.shrink_to_fit();
        self.number = FxHashMap::default();
    }

    fn apply_dominance(&mut self, n: usize) {
        if !(2..=MOST_FOR_DOMINANCE).contains(&self.len()) {
            return;
        }
        let mut order: Vec<usize> = (0..self.len()).collect();
        order.sort_by_key(|&i| {
            let state = &self.states[i];
            state.others.count() + state.taken
        });
        for (at, &more) in order.iter().enumerate() {
            for &less in &order[..at] {
                if !self.states[less].is_within(&self.states[more]) {
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

    fn drop_empty(&mut self, n: usize) {
        let mut kept = 0;
        for at in 0..self.len() {
            let costs = at * n..(at + 1) * n;
            if self.costs[costs.clone()]
                .iter()
                .any(|cost| cost.is_finite())
            {
                self.costs.copy_within(costs, kept * n);
                self.states[kept] = self.states[at];
                kept += 1;
            }
        }
        self.states.truncate(kept);
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
