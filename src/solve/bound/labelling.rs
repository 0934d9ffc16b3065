//! One pass along the graph, from segment to segment.

use super::bits::{Bits, low};
use super::buckets::{Buckets, ResourceState};
use super::classes::{Classes, Kind};
use super::ng::Neighbourhoods;
use super::pairs::{Pair, Pairs};
use super::segments::{Around, Segments};
use super::tails::{Tail, Tails};
use rayon::prelude::*;
use std::sync::atomic::{AtomicUsize, Ordering};

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
    /// What paths remember of boards.
    pub neighbourhoods: &'p Neighbourhoods,
    /// Which way it goes.
    pub way: Direction,
    /// What a pass the other way passed, that remembers no more; `None` where there was none.
    pub completion: Option<&'p CompletionBounds>,
    /// Paths that are sure to cost this or more are given up.
    pub cutoff: f64,
    /// All ways to lay the courses of the first steps, where those are gone through one by one.
    pub tails: Option<&'p Tails>,
    /// How many steps it goes.
    pub steps: usize,
    /// By class, what paths remember that left it on the last step, where that depends on the pair.
    pub after: Vec<Vec<ResourceState>>,
    /// Paths entering each class, by step and class; none on the steps of tails.
    pub entered: Vec<Vec<Buckets>>,
    /// Paths leaving each class, by step and class.
    pub left: Vec<Vec<Buckets>>,
}

impl<'p> Pass<'p> {
    /// A pass over the whole graph that nothing cuts off, not made yet.
    pub fn new(
        classes: &'p Classes,
        segments: &'p Segments,
        pairs: &'p Pairs,
        neighbourhoods: &'p Neighbourhoods,
        way: Direction,
    ) -> Pass<'p> {
        Pass {
            classes,
            segments,
            pairs,
            neighbourhoods,
            way,
            completion: None,
            cutoff: f64::INFINITY,
            tails: None,
            steps: classes.layers(),
            after: Vec::new(),
            entered: Vec::new(),
            left: Vec::new(),
        }
    }

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
        for _ in 0..self.first_step() {
            self.entered.push(vec![Buckets::default(); classes]);
            self.left.push(vec![Buckets::default(); classes]);
        }
        for step in self.first_step()..self.steps {
            if stop() {
                return (Passed::Stopped, bounds);
            }
            let l = self.layer(step);
            let least = self.completion_by_entry(step);
            // Costs of paths that have begun something on this step, before those that lead nowhere are dropped.
            let begun = Begun {
                costs: AtomicUsize::new(0),
                most: most.saturating_mul(2),
            };
            let entered: Vec<Buckets> = leaving
                .par_iter_mut()
                .enumerate()
                .map(|(class, leaving)| {
                    let entered = self.enter(step, class, &least, &begun, stop);
                    self.segment(step, class, &entered, leaving);
                    entered
                })
                .collect();
            if begun.are_too_many() {
                return (Passed::TooMany, bounds);
            }
            if stop() {
                return (Passed::Stopped, bounds);
            }
            let left: Vec<Buckets> = leaving
                .par_iter_mut()
                .enumerate()
                .map(|(class, leaving)| {
                    let mut left = std::mem::take(&mut leaving[step]);
                    left.finish(self.classes.size(class), !self.depends_on_pair(class));
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
            let after = left.par_iter().enumerate();
            self.after = after
                .map(|(class, left)| self.after_pairs(step, class, left))
                .collect();
            self.entered.push(entered);
            self.left.push(left);
            if kept > most {
                return (Passed::TooMany, bounds);
            }
        }
        let last = &bounds.exit[self.layer(self.steps - 1)];
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

    /// The resource state on entering a class, of a path that has left another on the step before, after a pair.
    pub fn state_entering(
        &self,
        step: usize,
        (from, left, pair): (usize, &ResourceState, usize),
        to: usize,
    ) -> ResourceState {
        self.entering(step, &self.leaving(step - 1, (from, left, pair)), to)
    }

    /// The resource state of a path that leaves a class on a step, after a pair: it is in no class.
    pub fn leaving(
        &self,
        step: usize,
        (from, left, pair): (usize, &ResourceState, usize),
    ) -> ResourceState {
        let mut all = ResourceState { barred: 0, ..*left };
        if let Some(board) = self.classes.home(from) {
            let b = &self.pairs.boards[board];
            all.others = all.others.or(&Bits::placed(b.first, low(left.taken)));
        }
        if self.depends_on_pair(from) && !self.classes.shorts.is_short(self.layer(step)) {
            let pair = &self.pairs.all[self.classes.all[from].pairs[pair] as usize];
            for board in pair.sides.map(|board| &self.pairs.boards[board]) {
                let taken = all.others.window(board.first, board.slices).count_ones();
                let more = (taken + 1).min(board.slices);
                all.others = all.others.or(&Bits::placed(board.first, low(more)));
            }
        }
        all
    }

    /// The segments of a class that begin on a step, with what each pair cost on coming there, and take none of the
    /// slices barred; of so many courses less one at most.
    pub fn around(
        &self,
        (step, class): (usize, usize),
        begun: impl Iterator<Item = (usize, f64)>,
        barred: u64,
        most: usize,
    ) -> Around {
        let from = (self.way, self.layer(step));
        Around::new(
            self.classes,
            self.segments,
            class,
            from,
            begun,
            barred,
            most,
        )
    }

    /// Makes every cost on a step infinite that reaches the cut-off with its completion bound, by pair.
    pub fn complete(&self, step: usize, class: usize, costs: &mut [f64]) {
        if let Some(completion) = self.completion {
            let completion = &completion.entry[self.layer(step)][class];
            for (cost, completion) in costs.iter_mut().zip(completion) {
                if *cost + completion >= self.cutoff {
                    *cost = f64::INFINITY;
                }
            }
        }
    }

    /// The same of a path that is in no class, on entering one.
    fn entering(&self, step: usize, all: &ResourceState, to: usize) -> ResourceState {
        let shorts = &self.classes.shorts;
        if shorts.is_short(self.layer(step)) {
            let board = match self.classes.kind(to) {
                Kind::Runs(board) => board,
                _ => self.classes.boards,
            };
            return ResourceState {
                others: self.neighbourhoods.entering_short(board, &all.others),
                taken: 0,
                ..*all
            };
        }
        let to = self.classes.home(to).unwrap_or(self.classes.boards);
        let (others, taken) = self.neighbourhoods.entering(self.pairs, to, &all.others);
        ResourceState {
            others,
            taken,
            ..*all
        }
    }

    /// The resource state on entering a class after a tail.
    pub fn after_tail(&self, step: usize, tail: &Tail, to: usize) -> ResourceState {
        let mut state = ResourceState::NOTHING;
        for b in &self.pairs.boards {
            let count = tail.taken.window(b.first, b.slices).count_ones();
            state.others = state.others.or(&Bits::placed(b.first, low(count)));
        }
        let barred = match self.classes.kind(to) {
            Kind::Board(board) => {
                let b = &self.pairs.boards[board];
                tail.slices.window(b.first, b.slices)
            }
            _ => 0,
        };
        ResourceState {
            barred,
            ..self.entering(step, &state, to)
        }
    }

    /// The step on which the first segment begins: the one after the tail, where that is gone through.
    pub fn first_step(&self) -> usize {
        let before = self.classes.layers() - self.classes.shorts.tail.start;
        self.tails.map_or(0, |_| before)
    }

    /// Whether both boards of a pair of two have a slice left for a long course.
    fn fits(&self, state: &ResourceState, pair: &Pair) -> bool {
        pair.sides.into_iter().all(|board| {
            let b = &self.pairs.boards[board];
            state.others.window(b.first, b.slices).count_ones() < b.slices
        })
    }

    /// For a class where that depends on the pair, what paths remember that leave it on a step, one after the other.
    fn after_pairs(&self, step: usize, class: usize, left: &Buckets) -> Vec<ResourceState> {
        let mut after = Vec::new();
        if self.depends_on_pair(class) {
            for (state, costs) in left.all(self.classes.size(class)) {
                for (pair, _) in costs
                    .iter()
                    .enumerate()
                    .filter(|(_, cost)| cost.is_finite())
                {
                    after.push(self.leaving(step, (class, state, pair)));
                }
            }
        }
        after
    }

    /// Whether the resource state after a class depends on the pair that it was left after.
    pub fn depends_on_pair(&self, from: usize) -> bool {
        self.neighbourhoods.counts_two_boards && self.classes.kind(from) == Kind::TwoBoards
    }

    fn enter(
        &self,
        step: usize,
        class: usize,
        least: &[Vec<Vec<f64>>],
        begun: &Begun,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Buckets {
        let n = self.classes.size(class);
        let mut entered = Buckets::default();
        if n == 0 {
            return entered;
        }
        if step == self.first_step() {
            match self.tails {
                Some(tails) => self.enter_after(tails, step, class, &mut entered),
                None => entered.of(ResourceState::NOTHING, n).fill(0.0),
            }
            self.cut_off(step, class, &mut entered);
            return entered;
        }
        let left = &self.left[step - 1];
        let (met, all_rates) = (self.met(step), self.rates(step));
        for (from, buckets) in left.iter().enumerate() {
            if begun.are_too_many() || stop() {
                return Buckets::default();
            }
            if !self.may_enter(from, class) {
                continue;
            }
            let before = entered.len();
            let useful = |i: usize, cost: f64| match least.get(from) {
                Some(least) => cost + least[class][i] < self.cutoff,
                None => cost.is_finite(),
            };
            let onward = |row: &mut [f64], i: usize, cost: f64| {
                let rates = &all_rates[from][class][i * n..(i + 1) * n];
                for (least, rate) in row.iter_mut().zip(rates) {
                    let cost = cost + seam(met, *rate);
                    *least = if cost < *least { cost } else { *least };
                }
            };
            if self.depends_on_pair(from) {
                let finite = buckets.all(self.classes.size(from)).flat_map(|(_, costs)| {
                    let costs = costs.iter().copied().enumerate();
                    costs.filter(|(_, cost)| cost.is_finite())
                });
                for ((i, cost), after) in finite.zip(&self.after[from]) {
                    if useful(i, cost) {
                        let state = self.entering(step, after, class);
                        onward(entered.of(state, n), i, cost);
                    }
                }
                begun.add((entered.len() - before) * n);
                continue;
            }
            for (state, costs) in buckets.all(self.classes.size(from)) {
                let mut useful = costs.iter().enumerate().filter(|(i, c)| useful(*i, **c));
                let Some(first) = useful.next() else {
                    continue;
                };
                let row = entered.of(self.state_entering(step, (from, state, first.0), class), n);
                for (i, cost) in std::iter::once(first).chain(useful) {
                    onward(row, i, *cost);
                }
            }
            begun.add((entered.len() - before) * n);
        }
        self.cut_off(step, class, &mut entered);
        entered
    }

    /// Every tail, with the seam between it and the first long course.
    fn enter_after(&self, tails: &Tails, step: usize, class: usize, entered: &mut Buckets) {
        let n = self.classes.size(class);
        let (met, all_rates) = (self.met(step), self.rates(step));
        for tail in &tails.all {
            let state = self.after_tail(step, tail, class);
            let (from, i) = tail.at[0];
            let Some(cost) = tail.cost(self.classes, class) else {
                continue;
            };
            let rates = &all_rates[from][class][i * n..(i + 1) * n];
            for (least, rate) in entered.of(state, n).iter_mut().zip(rates) {
                let cost = cost + seam(met, *rate);
                *least = if cost < *least { cost } else { *least };
            }
        }
    }

    /// Drops paths that reach the cut-off, or that others dominate.
    fn cut_off(&self, step: usize, class: usize, entered: &mut Buckets) {
        if let Some(completion) = self.completion {
            entered.prune(&completion.exit[self.layer(step)][class], self.cutoff);
        }
        entered.finish(self.classes.size(class), true);
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
            let around = (state.barred != 0).then(|| {
                let begun = costs.iter().copied().enumerate();
                self.around((step, class), begun, state.barred, self.steps)
            });
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
                match &around {
                    Some(around) => match around.ends(more) {
                        Some(ends) => out.copy_from_slice(ends),
                        None => break,
                    },
                    None => segment(self.way, costs, table, &mut out),
                }
                if self.depends_on_pair(class) && !self.classes.shorts.is_short(last) {
                    for (cost, &pair) in out.iter_mut().zip(&self.classes.all[class].pairs) {
                        let pair = &self.pairs.all[pair as usize];
                        if cost.is_finite() && !self.fits(state, pair) {
                            *cost = f64::INFINITY;
                        }
                    }
                }
                self.complete(step + more, class, &mut out);
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

/// How many costs a step has begun.
struct Begun {
    costs: AtomicUsize,
    most: usize,
}

impl Begun {
    fn add(&self, costs: usize) {
        self.costs.fetch_add(costs, Ordering::Relaxed);
    }

    fn are_too_many(&self) -> bool {
        self.costs.load(Ordering::Relaxed) > self.most
    }
}

/// What a seam costs at least; where nothing is met the rate may be infinite and costs nothing all the same.
#[inline]
pub fn seam(met: f64, rate: f64) -> f64 {
    if met > 0.0 { met * rate } else { 0.0 }
}

/// What each pair at the end of a segment costs at least, from what each at its beginning does.
pub fn segment(way: Direction, costs: &[f64], table: &[f64], out: &mut [f64]) {
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
