//! The cheapest path along a chain in which no strip comes back while it is remembered.

use super::bits::Bits;
use super::chain::Chain;

/// Prices and memories.
pub struct Terms<'t> {
    /// Price of using each strip.
    pub price: &'t [f64],
    /// For each strip, the strips that are still remembered when it is used.
    pub memory: &'t [Bits],
}

/// What a pass found.
#[derive(Clone, Debug)]
pub enum Passed {
    /// The cheapest path, prices included, and the node it takes on each link.
    Path(f64, Vec<usize>),
    /// Every path costs the limit at least.
    AboveLimit,
    /// Stopped before it was done.
    Stopped,
}

#[derive(Clone, Copy)]
struct Label {
    cost: f64,
    remembered: Bits,
    /// Node and label on the link before.
    from: (u32, u32),
}

/// Labels of one pass, kept for the pass after so that their room is used again.
#[derive(Default)]
pub struct Labels {
    at: Vec<Vec<Vec<Label>>>,
}

impl Labels {
    /// Goes down the chain. Paths that are sure to cost `limit` or more are given up; the rest of a path costs at least
    /// what [`to_go`] says. Nodes that no path came to can be dropped: see [`Labels::reached`].
    pub fn pass(
        &mut self,
        chain: &Chain,
        terms: &Terms,
        to_go: &[Vec<f64>],
        limit: f64,
        stop: &dyn Fn() -> bool,
    ) -> Passed {
        self.at.clear();
        let first = &chain.links[0];
        let begin = |i: usize| {
            let node = &first.nodes[i];
            let cost = node.cost + prices(node.wood, terms.price);
            let label = Label {
                cost,
                remembered: node.bits,
                from: (0, 0),
            };
            if cost + to_go[0][i] < limit {
                vec![label]
            } else {
                Vec::new()
            }
        };
        self.at.push((0..first.nodes.len()).map(begin).collect());
        for l in 1..chain.links.len() {
            if stop() {
                return Passed::Stopped;
            }
            let next = self.step(chain, terms, to_go, limit, l);
            self.at.push(next);
        }
        self.cheapest(chain)
    }

    fn step(
        &self,
        chain: &Chain,
        terms: &Terms,
        to_go: &[Vec<f64>],
        limit: f64,
        l: usize,
    ) -> Vec<Vec<Label>> {
        let (link, before) = (&chain.links[l], &chain.links[l - 1]);
        let n = link.nodes.len();
        let entry: Vec<f64> = link
            .nodes
            .iter()
            .map(|node| node.cost + prices(node.wood, terms.price))
            .collect();
        let kept: Vec<Bits> = link
            .nodes
            .iter()
            .map(|node| memory(node.wood, terms.memory))
            .collect();
        let mut next: Vec<Vec<Label>> = vec![Vec::new(); n];
        for (i, labels) in self.at[l - 1].iter().enumerate() {
            for (k, label) in labels.iter().enumerate() {
                let seams = &before.seams[i * n..(i + 1) * n];
                for (j, node) in link.nodes.iter().enumerate() {
                    let cost = label.cost + seams[j] + entry[j];
                    if cost + to_go[l][j] >= limit || label.remembered.meets(&node.bits) {
                        continue;
                    }
                    let remembered = label.remembered.and(&kept[j]).or(&node.bits);
                    add(
                        &mut next[j],
                        Label {
                            cost,
                            remembered,
                            from: (i as u32, k as u32),
                        },
                    );
                }
            }
        }
        next
    }

    fn cheapest(&self, chain: &Chain) -> Passed {
        let last = self.at.len() - 1;
        let mut best: Option<(f64, usize, usize)> = None;
        for (i, labels) in self.at[last].iter().enumerate() {
            for (k, label) in labels.iter().enumerate() {
                if best.is_none_or(|(least, ..)| label.cost < least) {
                    best = Some((label.cost, i, k));
                }
            }
        }
        let Some((cost, mut i, mut k)) = best else {
            return Passed::AboveLimit;
        };
        let mut path = vec![0; chain.links.len()];
        for l in (0..=last).rev() {
            path[l] = i;
            let from = self.at[l][i][k].from;
            (i, k) = (from.0 as usize, from.1 as usize);
        }
        Passed::Path(cost, path)
    }

    /// Whether any path below the limit came to a node in the last pass.
    pub fn reached(&self, link: usize, node: usize) -> bool {
        !self.at[link][node].is_empty()
    }
}

/// Adds a label unless one is there that costs no more and remembers no more; those that it makes needless go.
fn add(labels: &mut Vec<Label>, new: Label) {
    if labels
        .iter()
        .any(|old| old.cost <= new.cost && old.remembered.within(&new.remembered))
    {
        return;
    }
    labels.retain(|old| !(new.cost <= old.cost && new.remembered.within(&old.remembered)));
    labels.push(new);
}

/// For each link and node, what the rest of the path after it costs at least: only neighbours are kept from sharing a strip.
pub fn to_go(chain: &Chain, price: &[f64]) -> Vec<Vec<f64>> {
    let links = &chain.links;
    let mut rest: Vec<Vec<f64>> = links
        .iter()
        .map(|link| vec![0.0; link.nodes.len()])
        .collect();
    for l in (0..links.len().saturating_sub(1)).rev() {
        let next = &links[l + 1];
        let onward: Vec<f64> = next
            .nodes
            .iter()
            .zip(&rest[l + 1])
            .map(|(q, rest)| q.cost + prices(q.wood, price) + rest)
            .collect();
        for (i, p) in links[l].nodes.iter().enumerate() {
            let seams = &links[l].seams[i * onward.len()..(i + 1) * onward.len()];
            let mut least = f64::INFINITY;
            for ((seam, onward), q) in seams.iter().zip(&onward).zip(&next.nodes) {
                let cost = seam + onward;
                if cost < least && !p.bits.meets(&q.bits) {
                    least = cost;
                }
            }
            rest[l][i] = least;
        }
    }
    rest
}

/// The price of using these strips.
pub fn prices(wood: [u32; 2], price: &[f64]) -> f64 {
    wood.into_iter()
        .filter_map(|strip| price.get(strip as usize))
        .sum()
}

fn memory(wood: [u32; 2], memory: &[Bits]) -> Bits {
    // Strips that are looked at as any two strips forget nothing.
    let sets = wood
        .into_iter()
        .filter_map(|strip| memory.get(strip as usize));
    sets.copied().reduce(|a, b| a.or(&b)).unwrap_or(Bits::ALL)
}
