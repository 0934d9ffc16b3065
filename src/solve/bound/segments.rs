//! What the segments in each board cost at least, at some prices.

use super::classes::{Classes, Kind};
use super::dual::DualState;
use super::labelling::Direction;
use super::subset_dp::PairClass;
use rayon::prelude::*;

/// The cheapest segments at some prices.
pub struct Segments {
    /// By layer and class, cost and price of each pair; infinite where it is not among the nodes.
    pub entry: Vec<Vec<Vec<f64>>>,
    /// By class and upper layer, and by the number of courses less one: a row for each pair that lies uppermost, and
    /// in it the cost of the cheapest segment that has each pair lowest. No slice is taken twice in it.
    tables: Vec<Vec<Vec<Vec<f64>>>>,
}

impl Segments {
    /// Works all of them out; `None` where it was stopped.
    pub fn new(
        classes: &Classes,
        dual: &DualState,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<Segments> {
        let layer = |(cost, row): (&Vec<Vec<f64>>, &usize)| {
            let prices = dual.prices.on(&dual.sharing, &dual.pairs, *row);
            let priced = |(class, cost): (&PairClass, &Vec<f64>)| -> Vec<f64> {
                let all = class.pairs.iter().zip(cost);
                all.map(|(pair, cost)| cost + prices.of(&dual.pairs.all[*pair as usize]))
                    .collect()
            };
            classes.all.iter().zip(cost).map(priced).collect()
        };
        let entry: Vec<Vec<Vec<f64>>> = classes.cost.iter().zip(&classes.rows).map(layer).collect();
        let tables = (0..classes.all.len()).into_par_iter().map(|class| {
            let mut costs = vec![f64::INFINITY; classes.all[class].last.len()];
            let mut table = |l| {
                (!stop()).then(|| match classes.kind(class) {
                    Kind::Runs(_) => runs(classes, &entry, class, l),
                    _ => table(classes, &entry, class, l, &mut costs),
                })
            };
            (0..classes.layers())
                .map(&mut table)
                .collect::<Option<Vec<_>>>()
        });
        Some(Segments {
            tables: tables.collect::<Option<Vec<_>>>()?,
            entry,
        })
    }

    /// Segments in a class of so many courses less one, the uppermost on this layer; `None` where the graph or the
    /// board is too short.
    pub fn table(&self, class: usize, upper: usize, more: usize) -> Option<&[f64]> {
        self.tables[class][upper].get(more).map(Vec::as_slice)
    }
}

/// The tables for segments whose uppermost course is on one layer. `costs` is infinite for every state, before and
/// after.
fn table(
    classes: &Classes,
    entry: &[Vec<Vec<f64>>],
    class: usize,
    l: usize,
    costs: &mut [f64],
) -> Vec<Vec<f64>> {
    let n = classes.size(class);
    let c = &classes.all[class];
    let longest = classes.longest(class, l);
    // What it costs to go on from each pair to each, entry included.
    let onward: Vec<Vec<f64>> = (l + 1..l + longest)
        .map(|next| {
            let all = (0..n).flat_map(|q| (0..n).map(move |r| (q, r)));
            let step = |(q, r): (usize, usize)| match entry[next][class][r] {
                entry if entry.is_finite() => classes.seam(class, next - 1, q, r) + entry,
                _ => f64::INFINITY,
            };
            all.map(step).collect()
        })
        .collect();
    let mut tables = vec![vec![f64::INFINITY; n * n]; longest];
    let (mut now, mut next): (Vec<u32>, Vec<u32>) = (Vec::new(), Vec::new());
    for p in (0..n).filter(|p| entry[l][class][*p].is_finite()) {
        now.clear();
        now.push(p as u32);
        costs[p] = entry[l][class][p];
        for (more, table) in tables.iter_mut().enumerate() {
            next.clear();
            for &state in &now {
                let cost = std::mem::replace(&mut costs[state as usize], f64::INFINITY);
                let q = c.last[state as usize] as usize;
                let least = &mut table[p * n + q];
                *least = least.min(cost);
                let Some(onward) = onward.get(more) else {
                    continue;
                };
                let onward = &onward[q * n..(q + 1) * n];
                for &(to, r) in &c.transitions[state as usize] {
                    let cost = cost + onward[r as usize];
                    let least = &mut costs[to as usize];
                    if cost < *least {
                        if least.is_infinite() {
                            next.push(to);
                        }
                        *least = cost;
                    }
                }
            }
            std::mem::swap(&mut now, &mut next);
        }
    }
    tables
}

/// The tables of runs: courses one after another from the same strips, for as long as their lengths have room.
fn runs(classes: &Classes, entry: &[Vec<Vec<f64>>], class: usize, l: usize) -> Vec<Vec<f64>> {
    let n = classes.size(class);
    let mut tables: Vec<Vec<f64>> = Vec::new();
    for p in 0..n {
        let mut cost = entry[l][class][p];
        for more in 0..classes.run(class, l, p) {
            if more > 0 {
                cost += classes.stay(class, l + more - 1, p) + entry[l + more][class][p];
            }
            if tables.len() <= more {
                tables.push(vec![f64::INFINITY; n * n]);
            }
            tables[more][p * n + p] = cost;
        }
    }
    tables
}

/// The cheapest segments of a board around slices that are taken already, all that begin on one layer.
pub struct Around {
    /// By the number of courses less one, the cost of the cheapest that ends with each pair.
    ends: Vec<Vec<f64>>,
}

impl Around {
    /// Goes on from pairs on a layer, with what each cost on coming there, and takes none of the slices barred; along
    /// so many courses less one at most.
    pub fn new(
        classes: &Classes,
        segments: &Segments,
        class: usize,
        (way, layer): (Direction, usize),
        begun: impl Iterator<Item = (usize, f64)>,
        barred: u64,
        most: usize,
    ) -> Around {
        let c = &classes.all[class];
        let free = |pair: usize| c.masks[pair] & barred == 0;
        let entry = |l: usize, pair: usize| segments.entry[l][class][pair];
        let mut costs = vec![f64::INFINITY; c.last.len()];
        let mut now: Vec<u32> = Vec::new();
        for (pair, cost) in begun.filter(|(pair, _)| free(*pair)) {
            costs[pair] = cost + entry(layer, pair);
            if costs[pair].is_finite() {
                now.push(pair as u32);
            }
        }
        let mut ends = Vec::new();
        let mut l = layer;
        while !now.is_empty() {
            let onward = match way {
                _ if ends.len() == most => None,
                Direction::Down => Some(l + 1).filter(|l| *l < classes.layers()),
                Direction::Up => l.checked_sub(1),
            };
            let mut least = vec![f64::INFINITY; classes.size(class)];
            let mut next = Vec::new();
            for &state in &now {
                let cost = std::mem::replace(&mut costs[state as usize], f64::INFINITY);
                let last = c.last[state as usize] as usize;
                least[last] = cost.min(least[last]);
                let Some(onward) = onward else {
                    continue;
                };
                for &(to, pair) in c.transitions[state as usize]
                    .iter()
                    .filter(|one| free(one.1 as usize))
                {
                    let pair = pair as usize;
                    let seam = match way {
                        Direction::Down => classes.seam(class, l, last, pair),
                        Direction::Up => classes.seam(class, onward, pair, last),
                    };
                    let cost = cost + (seam + entry(onward, pair));
                    let least = &mut costs[to as usize];
                    if cost < *least {
                        if least.is_infinite() {
                            next.push(to);
                        }
                        *least = cost;
                    }
                }
            }
            ends.push(least);
            l = onward.unwrap_or(l);
            now = next;
        }
        Around { ends }
    }

    /// What segments of so many courses less one cost at least, by the pair that they end with; `None` where there are
    /// none.
    pub fn ends(&self, more: usize) -> Option<&[f64]> {
        self.ends.get(more).map(Vec::as_slice)
    }
}
