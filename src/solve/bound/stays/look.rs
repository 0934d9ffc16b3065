//! A look at all chains: passes down and up, each remembering more than the one before.

use super::walk::walk;
use super::{Bounds, Field, Found, Pass, Stays, Way};
use crate::solve::bound::chain::Chain;
use crate::solve::bound::labels::Terms;
use crate::solve::bound::ladder::{Descent, Look};
use crate::solve::bound::memory::Memory;
use crate::solve::bound::prices::Prices;

/// What is found of chains at some prices before anything is remembered of boards that were left.
pub struct Begun {
    prices: Prices,
    first: Vec<First>,
}

impl Begun {
    /// The first look, which nothing limits; `memory` is best one that forgets boards once they are left. `None` where it was stopped.
    pub fn new(
        chains: &[Chain],
        fields: &[Field],
        terms: &Terms,
        memory: &Memory,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<Begun> {
        let each = chains.iter().zip(fields);
        let first = each.map(|(chain, field)| First::new(chain, field, terms, memory, stop));
        Some(Begun {
            prices: terms.prices.clone(),
            first: first.collect::<Option<Vec<First>>>()?,
        })
    }

    /// Whether it was found at these prices.
    pub fn is_at(&self, prices: &Prices) -> bool {
        self.prices == *prices
    }
}

/// The same as [`crate::solve::bound::ladder::look`], by stays: of boards that were left only the number of slices is remembered, whatever
/// the memory says. What the first rung finds has `begun` already.
///
/// `most` is how many costs may be kept.
pub fn look(
    fields: &[Field],
    begun: &Begun,
    terms: &Terms,
    rungs: &[&Memory],
    limit: f64,
    most: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Look {
    let all_prices = terms.prices.sum();
    let mut others: f64 = begun.first.iter().map(|first| first.cost).sum();
    if others - all_prices >= limit {
        return Look::AboveLimit;
    }
    let (mut value, mut paths) = (-all_prices, Vec::new());
    for (first, field) in begun.first.iter().zip(fields) {
        // What the other chains cost at least: those passed already by their paths, the rest loosely.
        others -= first.cost;
        let limit = limit - (value + others);
        match climb(field, terms, rungs, first, limit, most, stop) {
            Ok((cost, descent)) => {
                value += cost;
                paths.push(descent);
            }
            Err(Found::Stopped) => return Look::Stopped,
            Err(Found::TooMany) => return Look::TooMany,
            Err(_) => return Look::AboveLimit,
        }
    }
    Look::Bound(value, paths)
}

/// The first pass of a chain, downwards.
struct First {
    stays: Stays,
    /// What the cheapest path costs, prices included; infinite where there is none.
    cost: f64,
    bounds: Bounds,
    path: Vec<(usize, usize)>,
    /// Nodes of each link.
    nodes: Vec<usize>,
}

impl First {
    fn new(
        chain: &Chain,
        field: &Field,
        terms: &Terms,
        memory: &Memory,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<First> {
        let stays = Stays::new(field, terms.pairs, terms.prices, stop)?;
        let mut pass = Pass {
            field,
            stays: &stays,
            pairs: terms.pairs,
            memory,
            way: Way::Down,
            rest: None,
            limit: f64::INFINITY,
            entered: Vec::new(),
            left: Vec::new(),
        };
        let (cost, bounds) = match pass.go(usize::MAX, stop) {
            (Found::Path(cost), bounds) => (cost, bounds),
            (Found::AboveLimit, bounds) => (f64::INFINITY, bounds),
            _ => return None,
        };
        Some(First {
            path: walk(&pass).unwrap_or_default(),
            nodes: chain.links.iter().map(|link| link.nodes.len()).collect(),
            cost,
            bounds,
            stays,
        })
    }
}

fn climb(
    field: &Field,
    terms: &Terms,
    rungs: &[&Memory],
    first: &First,
    limit: f64,
    most: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Result<(f64, Descent), Found> {
    let (mut cost, mut path) = (first.cost, None);
    let mut way = Way::Down;
    // What the last two passes found.
    let (mut last, mut before): (Option<Bounds>, Option<Bounds>) = (None, None);
    for memory in rungs.iter().skip(1) {
        way = way.back();
        let rest = last.as_ref().unwrap_or(&first.bounds);
        let mut pass = Pass {
            field,
            stays: &first.stays,
            pairs: terms.pairs,
            memory,
            way,
            rest: Some(rest),
            limit,
            entered: Vec::new(),
            left: Vec::new(),
        };
        let (found, bounds) = pass.go(most, stop);
        let Found::Path(least) = found else {
            return Err(found);
        };
        cost = least;
        path = Some(walk(&pass).ok_or(Found::TooMany)?);
        before = last.replace(bounds);
    }
    if cost >= limit {
        return Err(Found::AboveLimit);
    }
    let idle = match &last {
        Some(last) => {
            let before = before.as_ref().unwrap_or(&first.bounds);
            let (down, up) = match way {
                Way::Down => (last, before),
                Way::Up => (before, last),
            };
            idle(field, first, down, up, limit)
        }
        None => Vec::new(),
    };
    let node = |(l, &(crew, at)): (usize, &(usize, usize))| field.node[l][crew][at] as usize;
    let path = path.as_ref().unwrap_or(&first.path).iter();
    let path = path.enumerate().map(node).collect();
    Ok((cost, Descent { path, idle }))
}

/// The nodes of each link through which nothing below the limit goes: by what it costs at least to enter a board somewhere before and
/// get to the node, and from there to leave the board somewhere after.
fn idle(field: &Field, first: &First, down: &Bounds, up: &Bounds, limit: f64) -> Vec<Vec<bool>> {
    let (stays, down, up) = (&first.stays, &down.entry, &up.entry);
    let mut idle: Vec<Vec<bool>> = first.nodes.iter().map(|nodes| vec![true; *nodes]).collect();
    for crew in 0..field.crews.len() {
        let n = field.size(crew);
        let blank = vec![vec![f64::INFINITY; n]; field.links()];
        let (mut above, mut below) = (blank.clone(), blank);
        for upper in 0..field.links() {
            let tables = (0..).map_while(|more| stays.table(crew, upper, more));
            for (lower, table) in (upper..).zip(tables) {
                for (p, row) in table.chunks_exact(n.max(1)).enumerate() {
                    let (from, to) = (down[upper][crew][p], &up[lower][crew]);
                    for (q, stay) in row.iter().enumerate() {
                        above[lower][q] = above[lower][q].min(from + stay);
                        below[upper][p] = below[upper][p].min(stay + to[q]);
                    }
                }
            }
        }
        for (l, idle) in idle.iter_mut().enumerate() {
            for i in 0..n {
                let whole = above[l][i] + below[l][i] - stays.entry[l][crew][i];
                if whole < limit {
                    idle[field.node[l][crew][i] as usize] = false;
                }
            }
        }
    }
    idle
}
