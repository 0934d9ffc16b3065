//! What the stays in each board cost at least, at some prices.

use super::field::Field;
use crate::solve::bound::pairs::Pairs;
use crate::solve::bound::prices::Prices;
use rayon::prelude::*;

/// The cheapest stays at some prices.
pub struct Stays {
    /// By link and crew, cost and price of each pair; infinite where it is not among the nodes.
    pub entry: Vec<Vec<Vec<f64>>>,
    /// By crew and upper link, and by the number of courses less one: a row for each pair that lies uppermost, and in it the cost of
    /// the cheapest stay that has each pair lowest. No slice is taken twice in it.
    tables: Vec<Vec<Vec<Vec<f64>>>>,
}

impl Stays {
    /// Works all of them out; `None` where it was stopped.
    pub fn new(
        field: &Field,
        pairs: &Pairs,
        prices: &Prices,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<Stays> {
        let priced = |crew: usize, cost: &[f64]| -> Vec<f64> {
            let all = field.crews[crew].pairs.iter().zip(cost);
            all.map(|(pair, cost)| cost + prices.of(&pairs.all[*pair as usize]))
                .collect()
        };
        let link = |cost: &Vec<Vec<f64>>| {
            let crews = cost.iter().enumerate();
            crews.map(|(crew, cost)| priced(crew, cost)).collect()
        };
        let entry: Vec<Vec<Vec<f64>>> = field.cost.iter().map(link).collect();
        let tables = (0..field.crews.len()).into_par_iter().map(|crew| {
            let mut costs = vec![f64::INFINITY; field.crews[crew].last.len()];
            let mut table = |l| (!stop()).then(|| table(field, &entry, crew, l, &mut costs));
            (0..field.links())
                .map(&mut table)
                .collect::<Option<Vec<_>>>()
        });
        Some(Stays {
            tables: tables.collect::<Option<Vec<_>>>()?,
            entry,
        })
    }

    /// Stays in a crew of so many courses less one, the uppermost on this link; `None` where the chain or the board is too short.
    pub fn table(&self, crew: usize, upper: usize, more: usize) -> Option<&[f64]> {
        self.tables[crew][upper].get(more).map(Vec::as_slice)
    }
}

/// The tables for stays whose uppermost course is on one link. `costs` is infinite for every state, before and after.
fn table(
    field: &Field,
    entry: &[Vec<Vec<f64>>],
    crew: usize,
    l: usize,
    costs: &mut [f64],
) -> Vec<Vec<f64>> {
    let n = field.size(crew);
    let c = &field.crews[crew];
    let longest = field.longest(crew, l);
    // What it costs to go on from each pair to each, entry included.
    let onward: Vec<Vec<f64>> = (l + 1..l + longest)
        .map(|next| {
            let all = (0..n).flat_map(|q| (0..n).map(move |r| (q, r)));
            let step = |(q, r): (usize, usize)| match entry[next][crew][r] {
                entry if entry.is_finite() => field.seam(crew, next - 1, q, r) + entry,
                _ => f64::INFINITY,
            };
            all.map(step).collect()
        })
        .collect();
    let mut tables = vec![vec![f64::INFINITY; n * n]; longest];
    let (mut now, mut next): (Vec<u32>, Vec<u32>) = (Vec::new(), Vec::new());
    for p in (0..n).filter(|p| entry[l][crew][*p].is_finite()) {
        now.clear();
        now.push(p as u32);
        costs[p] = entry[l][crew][p];
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
                for &(to, r) in &c.turns[state as usize] {
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
