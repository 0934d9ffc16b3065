//! The cheapest paths at some prices, found by several passes that remember more and more.

use super::chain::Chain;
use super::labels::{Labels, Passed, Terms, entries, to_go, twice_in_a_row};
use super::memory::Memory;

/// What one look at all chains found.
pub enum Look {
    /// The bound at these prices, and what is behind it.
    Bound(f64, Vec<Descent>),
    /// No plan costs less than the limit.
    AboveLimit,
    /// There are more paths than can be kept.
    TooMany,
    /// Stopped before it was done.
    Stopped,
}

/// The cheapest path along a chain.
pub struct Descent {
    /// The node that it takes on each link.
    pub path: Vec<usize>,
    /// For each link, the nodes through which nothing below the limit goes; empty where that was not looked at.
    pub idle: Vec<Vec<bool>>,
}

/// Looks at every chain. Each rung of the ladder is a pass that remembers more than the one before it; the last gives the bound. With no
/// rungs at all, only neighbours are kept from sharing a strip.
///
/// `limit` is on the cost of all chains together, prices of all strips taken off.
pub fn look(
    chains: &[Chain],
    terms: &Terms,
    rungs: &[&Memory],
    limit: f64,
    most: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Look {
    let all_prices = terms.prices.sum();
    let loose: Vec<Vec<Vec<f64>>> = chains.iter().map(|chain| to_go(chain, terms)).collect();
    let loosest: Vec<f64> = chains
        .iter()
        .zip(&loose)
        .map(|(chain, rest)| least(chain, terms, rest))
        .collect();
    let sum: f64 = loosest.iter().sum();
    if sum - all_prices >= limit {
        return Look::AboveLimit;
    }
    if rungs.is_empty() {
        let paths = chains.iter().zip(&loose);
        let paths = paths.map(|(chain, rest)| Descent {
            path: follow(chain, terms, rest),
            idle: Vec::new(),
        });
        return Look::Bound(sum - all_prices, paths.collect());
    }
    let (mut value, mut paths) = (-all_prices, Vec::new());
    let mut others = sum;
    for ((chain, rest), loosest) in chains.iter().zip(loose).zip(&loosest) {
        others -= loosest;
        // What the other chains cost at least: those passed already by their paths, the rest loosely.
        match climb(
            chain,
            terms,
            rungs,
            rest,
            limit - (value + others),
            most,
            stop,
        ) {
            Climbed::Path(cost, descent) => {
                value += cost;
                paths.push(descent);
            }
            Climbed::Not(Passed::Stopped) => return Look::Stopped,
            Climbed::Not(Passed::TooMany) => return Look::TooMany,
            Climbed::Not(_) => return Look::AboveLimit,
        }
    }
    Look::Bound(value, paths)
}

enum Climbed {
    /// What the cheapest path costs, prices included, and the path.
    Path(f64, Descent),
    Not(Passed),
}

fn climb(
    chain: &Chain,
    terms: &Terms,
    rungs: &[&Memory],
    rest: Vec<Vec<f64>>,
    limit: f64,
    most: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Climbed {
    // Passes alternate in direction, and the last goes down.
    let (mut chain, mut rest) = if rungs.len().is_multiple_of(2) {
        let back = chain.reversed();
        let rest = to_go(&back, terms);
        (back, rest)
    } else {
        (chain.clone(), rest)
    };
    let mut labels = Labels::default();
    let mut found = Passed::AboveLimit;
    for (rung, memory) in rungs.iter().enumerate() {
        let terms = Terms { memory, ..*terms };
        if rung > 0 {
            // What was a path so far is what the rest of a path costs at least, seen from the other end.
            rest = labels.so_far(&chain);
            for (l, rest) in rest.iter_mut().enumerate() {
                for (rest, entry) in rest.iter_mut().zip(entries(&chain, &terms, l)) {
                    *rest -= entry;
                }
            }
            rest.reverse();
            chain = chain.reversed();
        }
        found = labels.pass(&chain, &terms, &rest, limit, most, stop);
        if !matches!(found, Passed::Path(..)) {
            return Climbed::Not(found);
        }
    }
    let Passed::Path(cost, path) = found else {
        return Climbed::Not(found);
    };
    let infinite = |link: &Vec<f64>| link.iter().map(|cost| cost.is_infinite()).collect();
    let idle = labels.so_far(&chain).iter().map(infinite).collect();
    Climbed::Path(cost, Descent { path, idle })
}

/// The least that a chain costs, where the rest after each node costs at least what `rest` says.
fn least(chain: &Chain, terms: &Terms, rest: &[Vec<f64>]) -> f64 {
    let first = entries(chain, terms, 0);
    let all = first.iter().zip(&rest[0]).map(|(entry, rest)| entry + rest);
    all.fold(f64::INFINITY, f64::min)
}

/// The path that [`to_go`] promises.
fn follow(chain: &Chain, terms: &Terms, rest: &[Vec<f64>]) -> Vec<usize> {
    let pair = |l: usize, i: usize| &terms.pairs.all[chain.links[l].nodes[i].pair as usize];
    let mut path: Vec<usize> = Vec::with_capacity(chain.links.len());
    let mut seams = Vec::new();
    for (l, link) in chain.links.iter().enumerate() {
        let before = path.last().map(|&i| pair(l - 1, i));
        match path.last() {
            Some(&i) => chain.seams(terms.problem, terms.pairs, l - 1, i, &mut seams),
            None => seams.resize(link.nodes.len(), 0.0),
        }
        let entry = entries(chain, terms, l);
        let (mut least, mut at) = (f64::INFINITY, 0);
        for j in 0..link.nodes.len() {
            let twice = before.map_or(0.0, |before| twice_in_a_row(link, before, pair(l, j)));
            let cost = seams[j] + entry[j] + rest[l][j] + twice;
            if cost < least {
                (least, at) = (cost, j);
            }
        }
        path.push(at);
    }
    path
}
