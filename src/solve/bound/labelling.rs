//! One pass along the graph, from segment to segment.

use super::bits::{Bits, low};
use super::buckets::{Buckets, ResourceState};
use super::classes::Classes;
use super::ng::Neighbourhoods;
use super::pairs::Pairs;
use super::segments::Segments;
use rayon::prelude::*;

/// From the first course to the last, or back.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Direction {
    /// From the first course on.
    Down,
    /// From the last course on.
    Up,
}

impl Direction {
    /// The other way.
    pub fn back(self) -> Direction {
        match self {
            Direction::Down => Direction::Up,
            Direction::Up => Direction::Down,
        }
    }
}

/// What it costs at least to reach a class with a pair, by layer: the completion bound of the pass the other way.
/// Infinite where no path below the cutoff came.
pub struct CompletionBounds {
    /// Up to entering a class with a pair, the pair itself left out.
    pub entry: Vec<Vec<Vec<f64>>>,
    /// Up to leaving a class after a pair, the pair included.
    pub exit: Vec<Vec<Vec<f64>>>,
}

/// What came of a pass.
pub enum Passed {
    /// What the cheapest path costs, prices included.
    Path(f64),
    /// Every path costs the cutoff at least.
    AboveCutoff,
    /// There are more paths than can be kept.
    TooMany,
    /// Stopped before it was done.
    Stopped,
}

/// A pass.
pub struct Pass<'p> {
    /// The classes of the graph.
    pub classes: &'p Classes,
    /// The segments at the prices that the pass is made at.
    pub segments: &'p Segments,
    /// All pairs.
    pub pairs: &'p Pairs,
    /// What paths remember.
    pub neighbourhoods: &'p Neighbourhoods,
    /// Which way it goes.
    pub way: Direction,
    /// What a pass the other way passed, that remembers no more; `None` where there was none.
    pub completion: Option<&'p CompletionBounds>,
    /// Paths that are sure to cost this or more are given up.
    pub cutoff: f64,
    /// Paths entering each class, by step and class.
    pub entered: Vec<Vec<Buckets>>,
    /// Paths leaving each class, by step and class.
    pub left: Vec<Vec<Buckets>>,
}

impl Pass<'_> {
    /// The layer of a step of the pass.
    pub fn layer(&self, step: usize) -> usize {
        match self.way {
            Direction::Down => step,
            Direction::Up => self.classes.layers() - 1 - step,
        }
    }

    /// Metres that the layer of a step meets of the layer of the step before.
    pub fn met(&self, step: usize) -> f64 {
        match step {
            0 => 0.0,
            _ => self.classes.met[self.layer(step).min(self.layer(step - 1))],
        }
    }

    /// The rates between the layer of a step and that of the step before, from there to here.
    pub fn rates(&self, step: usize) -> &[Vec<Vec<f64>>] {
        let upper = self.layer(step).min(self.layer(step.saturating_sub(1)));
        let charge = match (self.classes.charge.get(upper), self.way) {
            (Some(charge), Direction::Down) => charge[0],
            (Some(charge), Direction::Up) => charge[1],
            (None, _) => 0,
        };
        &self.classes.rates[charge]
    }

    /// Goes along the graph, keeping no more than about `most` costs.
    pub fn run(
        &mut self,
        most: usize,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> (Passed, CompletionBounds) {
        let layers = self.classes.layers();
        let classes = self.classes.all.len();
        let mut bounds = CompletionBounds {
            entry: vec![Vec::new(); layers],
            exit: vec![Vec::new(); layers],
        };
        // By class and step, as far as segments that have begun reach.
        let mut leaving: Vec<Vec<Buckets>> = vec![vec![Buckets::default(); layers]; classes];
        let mut kept = 0;
        for step in 0..layers {
            if stop() {
                return (Passed::Stopped, bounds);
            }
            let l = self.layer(step);
            let least = self.completion_by_entry(step);
            let entered: Vec<Buckets> = leaving
                .par_iter_mut()
                .enumerate()
                .map(|(class, leaving)| {
                    let entered = self.enter(step, class, &least);
                    self.segment(step, class, &entered, leaving);
                    entered
                })
                .collect();
            let left: Vec<Buckets> = leaving
                .par_iter_mut()
                .enumerate()
                .map(|(class, leaving)| {
                    let mut left = std::mem::take(&mut leaving[step]);
                    left.finish(self.classes.size(class));
                    left
                })
                .collect();
            let least =
                |(class, buckets): (usize, &Buckets)| buckets.least(self.classes.size(class));
            bounds.entry[l] = entered.iter().enumerate().map(least).collect();
            bounds.exit[l] = left.iter().enumerate().map(least).collect();
            let size =
                |(class, buckets): (usize, &Buckets)| buckets.len() * self.classes.size(class);
            kept += entered.iter().enumerate().map(size).sum::<usize>();
            kept += left.iter().enumerate().map(size).sum::<usize>();
            self.entered.push(entered);
            self.left.push(left);
            if kept > most {
                return (Passed::TooMany, bounds);
            }
        }
        let last = &bounds.exit[self.layer(layers - 1)];
        let cheapest = last.iter().flatten().copied().fold(f64::INFINITY, f64::min);
        let passed = match cheapest < self.cutoff {
            true => Passed::Path(cheapest),
            false => Passed::AboveCutoff,
        };
        (passed, bounds)
    }

    /// What going on costs at least for a path that has left a class on the step before, by class left, class entered
    /// and pair left; nothing where no pass came the other way.
    fn completion_by_entry(&self, step: usize) -> Vec<Vec<Vec<f64>>> {
        let (Some(completion), true) = (self.completion, step > 0) else {
            return Vec::new();
        };
        let (met, completion) = (self.met(step), &completion.exit[self.layer(step)]);
        let onward = |(rates, completion): (&Vec<f64>, &Vec<f64>)| -> Vec<f64> {
            let rows = rates.chunks_exact(completion.len().max(1));
            let least = |rates: &[f64]| {
                let all = rates.iter().zip(completion);
                all.fold(f64::INFINITY, |least, (rate, completion)| {
                    let cost = seam(met, *rate) + completion;
                    if cost < least { cost } else { least }
                })
            };
            rows.map(least).collect()
        };
        let from = self.rates(step).par_iter();
        from.map(|rates| rates.iter().zip(completion).map(onward).collect())
            .collect()
    }

    /// Whether a path that has left a class may enter another, or the same again.
    pub fn may_enter(&self, from: usize, to: usize) -> bool {
        from != to || from >= self.classes.boards
    }

    /// The resource state on entering a class, of a path that has left another.
    pub fn state_entering(&self, from: usize, left: &ResourceState, to: usize) -> ResourceState {
        let home = self.classes.home(from);
        let all = match home.map(|board| &self.pairs.boards[board]) {
            Some(board) => left.others.or(&Bits::placed(board.first, low(left.taken))),
            None => left.others,
        };
        let to = self.classes.home(to).unwrap_or(self.classes.boards);
        let (others, taken) = self.neighbourhoods.entering(self.pairs, to, &all);
        ResourceState { others, taken }
    }

    fn enter(&self, step: usize, class: usize, least: &[Vec<Vec<f64>>]) -> Buckets {
        let n = self.classes.size(class);
        let mut entered = Buckets::default();
        if n == 0 {
            return entered;
        }
        let Some(left) = step.checked_sub(1).map(|before| &self.left[before]) else {
            entered.of(ResourceState::NOTHING, n).fill(0.0);
            return entered;
        };
        let (met, all_rates) = (self.met(step), self.rates(step));
        for (from, buckets) in left.iter().enumerate() {
            if !self.may_enter(from, class) {
                continue;
            }
            let useful = |i: usize, cost: f64| match least.get(from) {
                Some(least) => cost + least[class][i] < self.cutoff,
                None => cost.is_finite(),
            };
            for (state, costs) in buckets.all(self.classes.size(from)) {
                let mut useful = costs.iter().enumerate().filter(|(i, c)| useful(*i, **c));
                let Some(first) = useful.next() else {
                    continue;
                };
                let row = entered.of(self.state_entering(from, state, class), n);
                for (i, cost) in std::iter::once(first).chain(useful) {
                    let rates = &all_rates[from][class][i * n..(i + 1) * n];
                    for (least, rate) in row.iter_mut().zip(rates) {
                        let cost = cost + seam(met, *rate);
                        *least = if cost < *least { cost } else { *least };
                    }
                }
            }
        }
        if let Some(completion) = self.completion {
            entered.prune(&completion.exit[self.layer(step)][class], self.cutoff);
        }
        entered.finish(n);
        entered
    }

    /// Every segment that begins on this step.
    fn segment(&self, step: usize, class: usize, entered: &Buckets, leaving: &mut [Buckets]) {
        let n = self.classes.size(class);
        let mut out = vec![0.0; n];
        for (state, costs) in entered.all(n) {
            if costs.iter().all(|cost| cost.is_infinite()) {
                continue;
            }
            let mut taken = state.taken;
            for (more, leaving) in leaving[step..].iter_mut().enumerate() {
                let last = self.layer(step + more);
                taken += self.classes.strips[last];
                let slices = self
                    .classes
                    .home(class)
                    .map(|board| self.classes.slices[board]);
                let Some(table) = self.segments.table(class, last.min(self.layer(step)), more)
                else {
                    break;
                };
                if slices.is_some_and(|slices| taken > slices) {
                    break;
                }
                segment(self.way, costs, table, &mut out);
                if let Some(completion) = self.completion {
                    for (cost, completion) in out.iter_mut().zip(&completion.entry[last][class]) {
                        if *cost + completion >= self.cutoff {
                            *cost = f64::INFINITY;
                        }
                    }
                }
                if out.iter().all(|cost| cost.is_infinite()) {
                    continue;
                }
                let then = ResourceState {
                    taken: slices.map_or(0, |_| taken),
                    ..*state
                };
                for (least, cost) in leaving.of(then, n).iter_mut().zip(&out) {
                    *least = if cost < least { *cost } else { *least };
                }
            }
        }
    }
}

/// What a seam costs at least; where nothing is met the rate may be infinite and costs nothing all the same.
#[inline]
pub fn seam(met: f64, rate: f64) -> f64 {
    if met > 0.0 { met * rate } else { 0.0 }
}

/// What each pair at the end of a segment costs at least, from what each at its beginning does.
fn segment(way: Direction, costs: &[f64], table: &[f64], out: &mut [f64]) {
    let n = costs.len();
    match way {
        Direction::Down => {
            out.fill(f64::INFINITY);
            let begun = costs.iter().zip(table.chunks_exact(n));
            for (cost, row) in begun.filter(|(cost, _)| cost.is_finite()) {
                for (least, segment) in out.iter_mut().zip(row) {
                    let cost = cost + segment;
                    *least = if cost < *least { cost } else { *least };
                }
            }
        }
        Direction::Up => {
            for (least, row) in out.iter_mut().zip(table.chunks_exact(n)) {
                let all = costs.iter().zip(row).map(|(cost, segment)| cost + segment);
                *least = all.fold(
                    f64::INFINITY,
                    |least, cost| if cost < least { cost } else { least },
                );
            }
        }
    }
}
