//! One pass along the chain, from stay to stay.

use super::field::Field;
use super::groups::{Groups, Known};
use super::table::Stays;
use crate::solve::bound::bits::{Bits, low};
use crate::solve::bound::memory::Memory;
use crate::solve::bound::pairs::Pairs;
use rayon::prelude::*;

/// From the first course to the last, or back.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Way {
    /// From the first course on.
    Down,
    /// From the last course on.
    Up,
}

impl Way {
    /// The other way.
    pub fn back(self) -> Way {
        match self {
            Way::Down => Way::Up,
            Way::Up => Way::Down,
        }
    }
}

/// What a pass found at least, by link, crew and pair; infinite where no path below the limit came.
pub struct Bounds {
    /// Up to entering a crew with a pair, the pair itself left out.
    pub entry: Vec<Vec<Vec<f64>>>,
    /// Up to leaving a crew after a pair, the pair included.
    pub exit: Vec<Vec<Vec<f64>>>,
}

/// What came of a pass.
pub enum Found {
    /// What the cheapest path costs, prices included.
    Path(f64),
    /// Every path costs the limit at least.
    AboveLimit,
    /// There are more paths than can be kept.
    TooMany,
    /// Stopped before it was done.
    Stopped,
}

/// A pass.
pub struct Pass<'p> {
    /// The chain.
    pub field: &'p Field,
    /// The stays at the prices that the pass is made at.
    pub stays: &'p Stays,
    /// All pairs.
    pub pairs: &'p Pairs,
    /// What paths remember.
    pub memory: &'p Memory,
    /// Which way it goes.
    pub way: Way,
    /// What a pass the other way found, that remembers no more; `None` where there was none.
    pub rest: Option<&'p Bounds>,
    /// Paths that are sure to cost this or more are given up.
    pub limit: f64,
    /// Paths entering each crew, by step and crew.
    pub entered: Vec<Vec<Groups>>,
    /// Paths leaving each crew, by step and crew.
    pub left: Vec<Vec<Groups>>,
}

impl Pass<'_> {
    /// The link of a step of the pass.
    pub fn link(&self, step: usize) -> usize {
        match self.way {
            Way::Down => step,
            Way::Up => self.field.links() - 1 - step,
        }
    }

    /// Metres that the link of a step meets of the link of the step before.
    pub fn met(&self, step: usize) -> f64 {
        match step {
            0 => 0.0,
            _ => self.field.met[self.link(step).min(self.link(step - 1))],
        }
    }

    /// Goes along the chain, keeping no more than about `most` costs.
    pub fn go(&mut self, most: usize, stop: &(dyn Fn() -> bool + Sync)) -> (Found, Bounds) {
        let links = self.field.links();
        let crews = self.field.crews.len();
        let mut bounds = Bounds {
            entry: vec![Vec::new(); links],
            exit: vec![Vec::new(); links],
        };
        // By crew and step, as far as stays that have begun reach.
        let mut leaving: Vec<Vec<Groups>> = vec![vec![Groups::default(); links]; crews];
        let mut kept = 0;
        for step in 0..links {
            if stop() {
                return (Found::Stopped, bounds);
            }
            let l = self.link(step);
            let least = self.least_onward(step);
            let entered: Vec<Groups> = leaving
                .par_iter_mut()
                .enumerate()
                .map(|(crew, leaving)| {
                    let entered = self.enter(step, crew, &least);
                    self.stay(step, crew, &entered, leaving);
                    entered
                })
                .collect();
            let left: Vec<Groups> = leaving
                .par_iter_mut()
                .enumerate()
                .map(|(crew, leaving)| {
                    let mut left = std::mem::take(&mut leaving[step]);
                    left.settle(self.field.size(crew));
                    left
                })
                .collect();
            let least = |(crew, groups): (usize, &Groups)| groups.least(self.field.size(crew));
            bounds.entry[l] = entered.iter().enumerate().map(least).collect();
            bounds.exit[l] = left.iter().enumerate().map(least).collect();
            let size = |(crew, groups): (usize, &Groups)| groups.len() * self.field.size(crew);
            kept += entered.iter().enumerate().map(size).sum::<usize>();
            kept += left.iter().enumerate().map(size).sum::<usize>();
            self.entered.push(entered);
            self.left.push(left);
            if kept > most {
                return (Found::TooMany, bounds);
            }
        }
        let last = &bounds.exit[self.link(links - 1)];
        let cheapest = last.iter().flatten().copied().fold(f64::INFINITY, f64::min);
        let found = match cheapest < self.limit {
            true => Found::Path(cheapest),
            false => Found::AboveLimit,
        };
        (found, bounds)
    }

    /// What going on costs at least for a path that has left a crew on the step before, by crew left, crew entered and pair left;
    /// nothing where no pass came the other way.
    fn least_onward(&self, step: usize) -> Vec<Vec<Vec<f64>>> {
        let (Some(rest), true) = (self.rest, step > 0) else {
            return Vec::new();
        };
        let (met, rest) = (self.met(step), &rest.exit[self.link(step)]);
        let onward = |(rates, rest): (&Vec<f64>, &Vec<f64>)| -> Vec<f64> {
            let rows = rates.chunks_exact(rest.len().max(1));
            let least = |rates: &[f64]| {
                let all = rates.iter().zip(rest);
                all.fold(f64::INFINITY, |least, (rate, rest)| {
                    let cost = seam(met, *rate) + rest;
                    if cost < least { cost } else { least }
                })
            };
            rows.map(least).collect()
        };
        let from = self.field.rates.par_iter();
        from.map(|rates| rates.iter().zip(rest).map(onward).collect())
            .collect()
    }

    /// Whether a path that has left a crew may enter another, or the same again.
    pub fn may_enter(&self, from: usize, to: usize) -> bool {
        from != to || from >= self.field.boards
    }

    /// What is known on entering a crew, by those that have left another.
    pub fn known(&self, from: usize, left: &Known, to: usize) -> Known {
        let home = self.field.home(from);
        let all = match home.map(|board| &self.pairs.boards[board]) {
            Some(board) => left.others.or(&Bits::placed(board.first, low(left.gone))),
            None => left.others,
        };
        let to = self.field.home(to).unwrap_or(self.field.boards);
        let (others, gone) = self.memory.counted(self.pairs, to, &all);
        Known { others, gone }
    }

    fn enter(&self, step: usize, crew: usize, least: &[Vec<Vec<f64>>]) -> Groups {
        let n = self.field.size(crew);
        let mut entered = Groups::default();
        if n == 0 {
            return entered;
        }
        let Some(left) = step.checked_sub(1).map(|before| &self.left[before]) else {
            entered.of(Known::NOTHING, n).fill(0.0);
            return entered;
        };
        let met = self.met(step);
        for (from, groups) in left.iter().enumerate() {
            if !self.may_enter(from, crew) {
                continue;
            }
            let useful = |i: usize, cost: f64| match least.get(from) {
                Some(least) => cost + least[crew][i] < self.limit,
                None => cost.is_finite(),
            };
            for (known, costs) in groups.all(self.field.size(from)) {
                let mut useful = costs.iter().enumerate().filter(|(i, c)| useful(*i, **c));
                let Some(first) = useful.next() else {
                    continue;
                };
                let row = entered.of(self.known(from, known, crew), n);
                for (i, cost) in std::iter::once(first).chain(useful) {
                    let rates = &self.field.rates[from][crew][i * n..(i + 1) * n];
                    for (least, rate) in row.iter_mut().zip(rates) {
                        let cost = cost + seam(met, *rate);
                        *least = if cost < *least { cost } else { *least };
                    }
                }
            }
        }
        if let Some(rest) = self.rest {
            entered.prune(&rest.exit[self.link(step)][crew], self.limit);
        }
        entered.settle(n);
        entered
    }

    /// Every stay that begins on this step.
    fn stay(&self, step: usize, crew: usize, entered: &Groups, leaving: &mut [Groups]) {
        let n = self.field.size(crew);
        let mut out = vec![0.0; n];
        for (known, costs) in entered.all(n) {
            if costs.iter().all(|cost| cost.is_infinite()) {
                continue;
            }
            let mut gone = known.gone;
            for (more, leaving) in leaving[step..].iter_mut().enumerate() {
                let last = self.link(step + more);
                gone += self.field.strips[last];
                let slices = self.field.home(crew).map(|board| self.field.slices[board]);
                let Some(table) = self.stays.table(crew, last.min(self.link(step)), more) else {
                    break;
                };
                if slices.is_some_and(|slices| gone > slices) {
                    break;
                }
                stay(self.way, costs, table, &mut out);
                if let Some(rest) = self.rest {
                    for (cost, rest) in out.iter_mut().zip(&rest.entry[last][crew]) {
                        if *cost + rest >= self.limit {
                            *cost = f64::INFINITY;
                        }
                    }
                }
                if out.iter().all(|cost| cost.is_infinite()) {
                    continue;
                }
                let then = Known {
                    gone: slices.map_or(0, |_| gone),
                    ..*known
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

/// What each pair at the end of a stay costs at least, from what each at its beginning does.
fn stay(way: Way, costs: &[f64], table: &[f64], out: &mut [f64]) {
    let n = costs.len();
    match way {
        Way::Down => {
            out.fill(f64::INFINITY);
            let begun = costs.iter().zip(table.chunks_exact(n));
            for (cost, row) in begun.filter(|(cost, _)| cost.is_finite()) {
                for (least, stay) in out.iter_mut().zip(row) {
                    let cost = cost + stay;
                    *least = if cost < *least { cost } else { *least };
                }
            }
        }
        Way::Up => {
            for (least, row) in out.iter_mut().zip(table.chunks_exact(n)) {
                let all = costs.iter().zip(row).map(|(cost, stay)| cost + stay);
                *least = all.fold(
                    f64::INFINITY,
                    |least, cost| if cost < least { cost } else { least },
                );
            }
        }
    }
}
