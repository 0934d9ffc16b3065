//! The cheapest path along a chain in which no strip comes back while it is remembered.
//!
//! Paths so far ("labels") are kept by what they know of boards that they have left, and below that by the pair they are at. A path
//! that costs no less than another and knows all that the other knows can be forgotten. Leaving a board is looked at for all paths
//! together that know the same afterwards: of those, only the cheapest to each pair matters.

use super::bits::Bits;
use super::chain::{Chain, Link, Node};
use super::memory::Memory;
use super::pairs::{Pair, Pairs};
use super::prices::Prices;
use super::step::Step;
use crate::solve::problem::Problem;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// What a pass goes by.
#[derive(Clone, Copy)]
pub struct Terms<'t> {
    /// The problem.
    pub problem: &'t Problem,
    /// Its pairs.
    pub pairs: &'t Pairs,
    /// Prices on the use of strips.
    pub prices: &'t Prices,
    /// What paths remember.
    pub memory: &'t Memory,
}

/// What a pass found.
#[derive(Clone, Debug)]
pub enum Passed {
    /// The cheapest path, prices included, and the node it takes on each link.
    Path(f64, Vec<usize>),
    /// Every path costs the limit at least.
    AboveLimit,
    /// There are more paths than can be kept.
    TooMany,
    /// Stopped before it was done.
    Stopped,
}

/// Where a label is: what it knows, its node, and its place among the labels there.
pub(super) type Place = (u32, u32, u32);

/// A path so far.
#[derive(Clone, Copy)]
pub(super) struct Label {
    /// What it costs, prices included.
    pub cost: f64,
    /// Slices of this board that are gone for certain.
    pub run: u64,
    /// Slices of this board that are gone besides, of which only the number is known.
    pub before: u32,
    /// The label on the link before.
    pub from: Place,
}

/// The labels of one link that know the same of boards they have left.
pub(super) struct Known {
    /// What they know.
    pub bits: Bits,
    /// By node; every list in order of cost.
    pub at: BTreeMap<u32, Vec<Label>>,
}

/// Labels of one pass, link by link.
#[derive(Default)]
pub struct Labels {
    links: Vec<Vec<Known>>,
}

impl Labels {
    /// Goes down the chain. Paths that are sure to cost `limit` or more are given up; the rest of a path costs at least
    /// what `to_go` says for each link and node. No more than about `most` labels are kept.
    pub fn pass(
        &mut self,
        chain: &Chain,
        terms: &Terms,
        to_go: &[Vec<f64>],
        limit: f64,
        most: usize,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Passed {
        let mut kept = 0;
        self.links.clear();
        let mut at = BTreeMap::new();
        for (i, entry) in entries(chain, terms, 0).into_iter().enumerate() {
            if entry + to_go[0][i] < limit {
                let label = Label {
                    cost: entry,
                    run: terms.pairs.all[chain.links[0].nodes[i].pair as usize].mask,
                    before: 0,
                    from: (0, 0, 0),
                };
                at.insert(i as u32, vec![label]);
            }
        }
        self.links.push(vec![Known {
            bits: Bits::NONE,
            at,
        }]);
        for (l, to_go) in to_go.iter().enumerate().skip(1) {
            if stop() {
                return Passed::Stopped;
            }
            let step = Step::new(chain, terms, to_go, limit, l, &self.links[l - 1]);
            let next = step.take(&self.links[l - 1]);
            kept += next
                .iter()
                .flat_map(|known| known.at.values())
                .map(Vec::len)
                .sum::<usize>();
            self.links.push(next);
            if kept > most {
                return Passed::TooMany;
            }
        }
        self.cheapest()
    }

    fn cheapest(&self) -> Passed {
        let mut best: Option<(f64, Place)> = None;
        let last = self.links.len() - 1;
        for (s, known) in self.links[last].iter().enumerate() {
            for (&j, labels) in &known.at {
                for (k, label) in labels.iter().enumerate() {
                    if best.is_none_or(|(least, _)| label.cost < least) {
                        best = Some((label.cost, (s as u32, j, k as u32)));
                    }
                }
            }
        }
        let Some((cost, mut place)) = best else {
            return Passed::AboveLimit;
        };
        let mut path = vec![0; self.links.len()];
        for l in (0..=last).rev() {
            let (s, j, k) = place;
            path[l] = j as usize;
            let Some(labels) = self.links[l][s as usize].at.get(&j) else {
                break;
            };
            place = labels[k as usize].from;
        }
        Passed::Path(cost, path)
    }

    /// For each link and node, the cost of the cheapest path that came to it in the last pass, the node's own cost and price
    /// included; infinite where none below the limit came.
    pub fn so_far(&self, chain: &Chain) -> Vec<Vec<f64>> {
        let mut all = Vec::with_capacity(chain.links.len());
        for (l, link) in chain.links.iter().enumerate() {
            let mut least = vec![f64::INFINITY; link.nodes.len()];
            for known in self.links.get(l).into_iter().flatten() {
                for (&j, labels) in &known.at {
                    let first = labels.first().map_or(f64::INFINITY, |label| label.cost);
                    least[j as usize] = least[j as usize].min(first);
                }
            }
            all.push(least);
        }
        all
    }
}

/// Cost and price of every node of a link.
pub fn entries(chain: &Chain, terms: &Terms, l: usize) -> Vec<f64> {
    let entry = |node: &Node| {
        let pair = &terms.pairs.all[node.pair as usize];
        node.cost + chain.links[l].takes * terms.prices.of(pair)
    };
    chain.links[l].nodes.iter().map(entry).collect()
}

/// What it costs at least that a pair takes slices which the pair on the course before has taken.
pub fn twice_in_a_row(next: &Link, p: &Pair, q: &Pair) -> f64 {
    if p.board == q.board {
        next.fee(q.board, (p.mask & q.mask).count_ones())
    } else {
        0.0
    }
}

/// For each link and node, what the rest of the path after it costs at least: only neighbours are kept from sharing a strip
/// for nothing.
pub fn to_go(chain: &Chain, terms: &Terms) -> Vec<Vec<f64>> {
    let pairs = terms.pairs;
    let links = &chain.links;
    let mut rest: Vec<Vec<f64>> = links
        .iter()
        .map(|link| vec![0.0; link.nodes.len()])
        .collect();
    for l in (0..links.len().saturating_sub(1)).rev() {
        let next = &links[l + 1];
        let entry = entries(chain, terms, l + 1);
        let onward: Vec<f64> = entry.iter().zip(&rest[l + 1]).map(|(e, r)| e + r).collect();
        let least = |seams: &mut Vec<f64>, (i, p): (usize, &Node)| {
            chain.seams(terms.problem, pairs, l, i, seams);
            let p = &pairs.all[p.pair as usize];
            let mut least = f64::INFINITY;
            for ((seam, onward), q) in seams.iter().zip(&onward).zip(&next.nodes) {
                let cost = seam + onward;
                if cost < least {
                    let q = &pairs.all[q.pair as usize];
                    least = least.min(cost + twice_in_a_row(next, p, q));
                }
            }
            least
        };
        let nodes = links[l].nodes.par_iter().enumerate();
        rest[l] = nodes.with_min_len(32).map_init(Vec::new, least).collect();
    }
    rest
}
