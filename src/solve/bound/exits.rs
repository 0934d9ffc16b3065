//! The paths of a pass that come to the tail.

use super::bits::Bits;
use super::buckets::ResourceState;
use super::labelling::{Direction, Pass, segment};

/// Paths that leave a course.
pub struct Exit {
    /// The class that they leave.
    pub class: usize,
    /// The resource state that they leave it in.
    pub state: ResourceState,
    /// What they cost at least, by pair.
    pub costs: Vec<f64>,
    /// How many slices they took of each board, as far as they remember: as many of its slots, from its first on.
    pub taken: Bits,
}

impl Pass<'_> {
    /// The last step before the tail.
    pub fn last_before_tail(&self) -> usize {
        let tail = &self.classes.shorts.tail;
        match self.way {
            Direction::Down => tail.start - 1,
            Direction::Up => self.classes.layers() - tail.end - 1,
        }
    }

    /// The paths that leave the last course before the tail, in a pass that comes to it.
    pub fn exits(&self) -> Vec<Exit> {
        self.exits_at(self.last_before_tail())
    }

    /// The paths that leave the course of a step.
    pub fn exits_at(&self, step: usize) -> Vec<Exit> {
        let mut exits = Vec::new();
        for (class, buckets) in self.left[step].iter().enumerate() {
            let n = self.classes.size(class);
            for (state, costs) in buckets.all(n) {
                let exit = |pair: usize, costs: Vec<f64>| Exit {
                    class,
                    state: *state,
                    costs,
                    taken: self.leaving(step, (class, state, pair)).others,
                };
                if !self.depends_on_pair(class) {
                    exits.push(exit(0, costs.to_vec()));
                    continue;
                }
                for (pair, &cost) in costs
                    .iter()
                    .enumerate()
                    .filter(|(_, cost)| cost.is_finite())
                {
                    let mut alone = vec![f64::INFINITY; n];
                    alone[pair] = cost;
                    exits.push(exit(pair, alone));
                }
            }
        }
        exits
    }

    /// The paths that leave a board on the last course before the tail, where they take none of some of its slices.
    pub fn exits_around(&self, class: usize, barred: u64) -> Vec<Exit> {
        let n = self.classes.size(class);
        let (last, board) = (self.last_before_tail(), self.classes.home(class));
        let mut exits = Vec::new();
        let (mut more, mut strips) = (0, 0);
        for first in (0..=last).rev() {
            strips += self.classes.strips[self.layer(first)];
            let top = self.layer(last).min(self.layer(first));
            let Some(table) = self.segments.table(class, top, more) else {
                break;
            };
            for (state, costs) in self.entered[first][class].all(n) {
                let taken = state.taken + strips;
                if board.is_some_and(|board| taken > self.classes.slices[board]) {
                    continue;
                }
                let is_cheap = |ends: &mut Vec<f64>| {
                    self.complete(last, class, ends);
                    ends.iter().any(|cost| cost.is_finite())
                };
                let mut ends = vec![f64::INFINITY; n];
                segment(self.way, costs, table, &mut ends);
                if !is_cheap(&mut ends) {
                    continue;
                }
                let begun = costs.iter().copied().enumerate();
                let around = self.around((first, class), begun, barred, more);
                let Some(mut ends) = around.ends(more).map(<[f64]>::to_vec) else {
                    continue;
                };
                if is_cheap(&mut ends) {
                    let state = ResourceState {
                        taken,
                        barred,
                        ..*state
                    };
                    exits.push(Exit {
                        class,
                        taken: self.leaving(last, (class, &state, 0)).others,
                        state,
                        costs: ends,
                    });
                }
            }
            more += 1;
        }
        exits
    }
}
