//! Prices up, prices down: the subgradient method on the prices of strips, with memories that grow and nodes that drop out.

use super::bits::{Bits, MOST};
use super::chain::Chain;
use super::labels::{Labels, Passed, Terms, prices, to_go};
use crate::solve::problem::{NONE, Problem};

/// Strips on either side in the board that are remembered from the outset. Fewer: weaker bounds at first; more: slower passes.
const NEAR_IN_BOARD: i64 = 4;
/// Most strips that the memory of one strip grows to.
const LONGEST_MEMORY: u32 = 24;
/// Price rounds without memory, to find good prices cheaply, and with it.
const LOOSE_ROUNDS: usize = 60;
const ROUNDS: usize = 240;
/// Rounds without a better bound after which the step is halved.
const PATIENCE: usize = 5;
/// More seams than this are not written out. Unit: seams, 8 bytes each.
const MOST_SEAMS: usize = 40_000_000;

/// Why there is no bound for a problem, or `None` where there is one.
pub fn no_bound_for(problem: &Problem) -> Option<&'static str> {
    if problem.most > 0 && problem.rows.iter().any(|row| !row.joint_windows.is_empty()) {
        return Some(
            "courses may be joined from several pieces, for which no bound is worked out yet",
        );
    }
    if problem.woods.len() > MOST {
        return Some("there are more strips than the bound can remember");
    }
    if (0..problem.woods.len() as u32).any(|strip| serves_two(problem, strip)) {
        return Some("a strip may serve several courses, for which no bound is worked out yet");
    }
    None
}

/// Whether two courses could be cut from one strip.
fn serves_two(problem: &Problem, strip: u32) -> bool {
    let mut lengths: Vec<i64> = problem.rows.iter().map(|row| row.one_piece()).collect();
    lengths.sort_unstable();
    let [short, other, ..] = lengths[..] else {
        return false;
    };
    let clear = &problem.woods[strip as usize].clear;
    let apart = clear.iter().filter(|(a, b)| b - a >= short).count() > 1;
    apart
        || clear
            .iter()
            .any(|(a, b)| b - a >= short + problem.saw + other)
}

/// Finds bounds, better ones each time it is asked.
pub struct Prover<'a> {
    problem: &'a Problem,
    chains: Vec<Chain>,
    price: Vec<f64>,
    memory: Vec<Bits>,
    best: f64,
    best_price: Vec<f64>,
}

impl<'a> Prover<'a> {
    /// A prover for a problem for which [`no_bound_for`] has no objection.
    pub fn new(problem: &'a Problem) -> Option<Prover<'a>> {
        let mut chains = Chain::all(problem);
        let seams: usize = chains
            .iter()
            .flat_map(|chain| chain.links.windows(2))
            .map(|pair| pair[0].nodes.len() * pair[1].nodes.len())
            .sum();
        if seams > MOST_SEAMS {
            return None;
        }
        chains
            .iter_mut()
            .for_each(|chain| chain.price_seams(problem));
        let near = |a: usize| {
            let (board, seq) = (problem.woods[a].board, problem.woods[a].seq);
            let strips = problem.woods.iter().enumerate();
            let near =
                strips.filter(|(_, w)| w.board == board && (w.seq - seq).abs() <= NEAR_IN_BOARD);
            Bits::of(near.map(|(i, _)| i as u32))
        };
        let strips = problem.woods.len();
        Some(Prover {
            problem,
            chains,
            price: vec![0.0; strips],
            memory: (0..strips).map(near).collect(),
            best: 0.0,
            best_price: vec![0.0; strips],
        })
    }

    /// A bound that no plan covering every course can cost less than, or `cost` itself where no plan costs less than that.
    ///
    /// `cost` must be the cost of a plan that covers every course.
    pub fn prove(&mut self, cost: f64, stop: &dyn Fn() -> bool) -> f64 {
        // A hair above the plan: with it, nodes drop out only where they can't better the plan in earnest.
        let limit = cost - 1e-7 * cost.abs();
        self.price.clone_from(&self.best_price);
        let mut step = 1.0;
        let mut stale = 0;
        let mut labels: Vec<Labels> = self.chains.iter().map(|_| Labels::default()).collect();
        for round in 0..LOOSE_ROUNDS + ROUNDS {
            if stop() {
                break;
            }
            if round == LOOSE_ROUNDS {
                step = 1.0;
                self.price.clone_from(&self.best_price);
            }
            let Some((value, paths)) = self.pass(round >= LOOSE_ROUNDS, limit, &mut labels, stop)
            else {
                break;
            };
            let Some(paths) = paths else {
                self.best = cost;
                break;
            };
            if value > self.best + 1e-6 * cost.abs() {
                self.best = value;
                self.best_price.clone_from(&self.price);
                stale = 0;
            } else {
                stale += 1;
                if stale % PATIENCE == 0 {
                    step *= 0.5;
                }
            }
            if self.best >= limit {
                break;
            }
            if round >= LOOSE_ROUNDS
                && stale > 0
                && stale % (2 * PATIENCE) == 0
                && !self.remember(&paths)
                && step < 1e-3
            {
                break;
            }
            self.reprice(&paths, step * (cost - value));
        }
        self.best = self.best.min(cost);
        self.best
    }

    /// One pass over every chain: the bound at these prices and the paths, without paths where no plan costs less than the limit.
    fn pass(
        &mut self,
        with_memory: bool,
        limit: f64,
        labels: &mut [Labels],
        stop: &dyn Fn() -> bool,
    ) -> Option<(f64, Option<Vec<Vec<usize>>>)> {
        let all_prices: f64 = self.price.iter().sum();
        let loose: Vec<Vec<Vec<f64>>> = self
            .chains
            .iter()
            .map(|chain| to_go(chain, &self.price))
            .collect();
        let loosest: Vec<f64> = self
            .chains
            .iter()
            .zip(&loose)
            .map(|(chain, rest)| self.least(chain, rest))
            .collect();
        let sum: f64 = loosest.iter().sum();
        if sum - all_prices >= limit {
            return Some((limit, None));
        }
        if !with_memory {
            let paths = self
                .chains
                .iter()
                .zip(&loose)
                .map(|(chain, rest)| self.follow(chain, rest))
                .collect();
            return Some((sum - all_prices, Some(paths)));
        }
        let (mut value, mut paths) = (-all_prices, Vec::new());
        let mut others = sum;
        for (i, chain) in self.chains.iter_mut().enumerate() {
            others -= loosest[i];
            // What the other chains cost at least: those passed already by their paths, the rest loosely.
            let elsewhere = value + others;
            let terms = Terms {
                price: &self.price,
                memory: &self.memory,
            };
            match labels[i].pass(chain, &terms, &loose[i], limit - elsewhere, stop) {
                Passed::Path(cost, path) => {
                    value += cost;
                    paths.push(drop_nodes(self.problem, chain, &labels[i], path));
                }
                Passed::AboveLimit => return Some((limit, None)),
                Passed::Stopped => return None,
            }
        }
        Some((value, Some(paths)))
    }

    fn least(&self, chain: &Chain, rest: &[Vec<f64>]) -> f64 {
        let first = chain.links[0].nodes.iter().zip(&rest[0]);
        first
            .map(|(node, rest)| node.cost + prices(node.wood, &self.price) + rest)
            .fold(f64::INFINITY, f64::min)
    }

    /// The path that [`to_go`] promises.
    fn follow(&self, chain: &Chain, rest: &[Vec<f64>]) -> Vec<usize> {
        let mut path: Vec<usize> = Vec::with_capacity(chain.links.len());
        for (l, link) in chain.links.iter().enumerate() {
            let (mut least, mut at) = (f64::INFINITY, 0);
            for (j, node) in link.nodes.iter().enumerate() {
                let seam = path.last().map_or(0.0, |&i| {
                    let before = &chain.links[l - 1];
                    let clash = before.nodes[i].bits.meets(&node.bits);
                    if clash {
                        f64::INFINITY
                    } else {
                        before.seams[i * link.nodes.len() + j]
                    }
                });
                let cost = seam + node.cost + prices(node.wood, &self.price) + rest[l][j];
                if cost < least {
                    (least, at) = (cost, j);
                }
            }
            path.push(at);
        }
        path
    }

    fn reprice(&mut self, paths: &[Vec<usize>], by: f64) {
        let mut slope = vec![-1.0; self.price.len()];
        for (chain, path) in self.chains.iter().zip(paths) {
            for (link, &at) in chain.links.iter().zip(path) {
                let used = link.nodes[at]
                    .wood
                    .into_iter()
                    .filter(|&strip| strip != NONE);
                used.for_each(|strip| slope[strip as usize] += 1.0);
            }
        }
        let moves = |(price, slope): &(f64, f64)| *price > 0.0 || *slope > 0.0;
        let square: f64 = self
            .price
            .iter()
            .copied()
            .zip(slope.iter().copied())
            .filter(moves)
            .map(|(_, slope)| slope * slope)
            .sum();
        if square > 0.0 {
            let step = by / square;
            self.price
                .iter_mut()
                .zip(&slope)
                .for_each(|(price, slope)| *price = (*price + step * slope).max(0.0));
        }
    }

    /// Where a path comes back to a strip, everything on the way learns to remember it. `false` where there was nothing to learn.
    fn remember(&mut self, paths: &[Vec<usize>]) -> bool {
        let mut learned = false;
        for (chain, path) in self.chains.iter().zip(paths) {
            let wood = |l: usize| chain.links[l].nodes[path[l]].wood;
            for l in 0..path.len() {
                for strip in wood(l).into_iter().filter(|&strip| strip != NONE) {
                    let Some(back) = (l + 1..path.len()).find(|&m| wood(m).contains(&strip)) else {
                        continue;
                    };
                    let between = (l + 1..back)
                        .flat_map(wood)
                        .filter(|&on_the_way| on_the_way != NONE);
                    for on_the_way in between {
                        let memory = &mut self.memory[on_the_way as usize];
                        if memory.count() < LONGEST_MEMORY && !Bits::of([strip]).within(memory) {
                            memory.add(strip);
                            learned = true;
                        }
                    }
                }
            }
        }
        learned
    }
}

/// Drops the nodes that no path below the limit came to; gives back the path by its new numbers.
fn drop_nodes(
    problem: &Problem,
    chain: &mut Chain,
    labels: &Labels,
    path: Vec<usize>,
) -> Vec<usize> {
    let reached: Vec<Vec<bool>> = chain
        .links
        .iter()
        .enumerate()
        .map(|(l, link)| {
            (0..link.nodes.len())
                .map(|i| labels.reached(l, i))
                .collect()
        })
        .collect();
    let gone = |reached: &Vec<bool>| reached.iter().filter(|reached| !**reached).count();
    if reached
        .iter()
        .all(|reached| gone(reached) * 8 < reached.len())
    {
        return path;
    }
    let renumbered = path
        .iter()
        .zip(&reached)
        .map(|(&at, reached)| reached[..at].iter().filter(|r| **r).count())
        .collect();
    for (link, reached) in chain.links.iter_mut().zip(&reached) {
        let mut keep = reached.iter();
        link.nodes.retain(|_| keep.next().copied().unwrap_or(true));
    }
    chain.price_seams(problem);
    renumbered
}
