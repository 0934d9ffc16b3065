//! Prices up, prices down: the subgradient method on the prices of strips, with memories that grow and nodes that drop out.

use super::bits::Bits;
use super::chain::Chain;
use super::labels::{Labels, Passed, Terms, prices, to_go};
use crate::solve::problem::{NONE, Problem};

/// Strips on either side in the board that are remembered from the outset. Fewer: weaker bounds at first; more: slower passes.
const NEAR_IN_BOARD: i64 = 4;
/// Most strips that the memory of one strip grows to.
const LONGEST_MEMORY: u32 = 20;
/// Price rounds over likely wood: without memory, to find rough prices cheaply, and with it.
const LOOSE_ROUNDS: usize = 20;
const LIKELY_ROUNDS: usize = 50;
/// Price rounds over all wood that is left, and how often the wood is sifted meanwhile.
const ROUNDS: usize = 60;
const SIFT: usize = 20;
/// Wood is sifted only where the bound is within this part of the plan's cost.
const WORTH_SIFTING: f64 = 0.07;
/// Memories grow only while the bound is within this part of the plan's cost: further off, each pass would take too long
/// for what it gains.
const WORTH_REMEMBERING: f64 = 0.06;
/// Rounds without a better bound after which the step is halved.
const PATIENCE: usize = 5;
/// Mates of a strip that count as likely.
const LIKELY_MATES: usize = 2;
/// More seams than this are not written out. Unit: seams, 8 bytes each.
const MOST_SEAMS: usize = 8_000_000;

/// Finds bounds, better ones each time it is asked.
pub struct Prover<'a> {
    problem: &'a Problem,
    /// All wood that may still be part of a better plan.
    chains: Vec<Chain>,
    price: Vec<f64>,
    memory: Vec<Bits>,
    best: f64,
    rehearsed: bool,
    /// The bound is so far off that sifting would not pay.
    far_off: bool,
}

/// What one look at all chains found.
enum Look {
    /// The bound at these prices, and the paths behind it.
    Bound(f64, Vec<Vec<usize>>),
    /// No plan costs less than the limit.
    AboveLimit,
    /// Stopped before it was done.
    Stopped,
}

impl<'a> Prover<'a> {
    /// A prover for a problem for which [`super::no_bound_for`] has no objection; `None` where the problem is too large.
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
            rehearsed: false,
            far_off: false,
        })
    }

    /// Whether a proof takes next to no time.
    pub fn is_quick(&self) -> bool {
        let nodes = |chain: &Chain| {
            chain
                .links
                .iter()
                .map(|link| link.nodes.len())
                .sum::<usize>()
        };
        self.chains.iter().map(nodes).sum::<usize>() < 1000
    }

    /// A bound that no plan covering every course can cost less than: a hair below `cost` where none costs less than that.
    ///
    /// `cost` must be the cost of a plan that covers every course.
    pub fn prove(&mut self, cost: f64, stop: &dyn Fn() -> bool) -> f64 {
        // A hair below the plan: nodes drop out only where they can't better the plan in earnest.
        let limit = cost - 1e-7 * cost.abs();
        if !self.rehearsed {
            // Prices are found on the likely wood first, where a look is cheap. What comes out is no bound yet.
            let problem = self.problem;
            let mut likely: Vec<Chain> = self
                .chains
                .iter()
                .map(|chain| chain.only(problem, |node| is_likely(problem, node.wood)))
                .collect();
            self.climb(&mut likely, limit, 0, LOOSE_ROUNDS, stop);
            let likely_bound = self.climb(&mut likely, limit, LOOSE_ROUNDS, LIKELY_ROUNDS, stop);
            self.rehearsed = true;
            self.far_off = limit - likely_bound > WORTH_SIFTING * limit;
        }
        if self.far_off {
            // Too far off for wood to drop out: one look at all of it makes the prices a bound, and more would not pay.
            match self.look(&self.chains, true, limit, stop) {
                Look::Bound(value, _) => self.best = self.best.max(value),
                Look::AboveLimit => self.best = limit,
                Look::Stopped => {}
            }
            return self.best.min(limit);
        }
        let mut chains = std::mem::take(&mut self.chains);
        for _ in 0..ROUNDS / SIFT {
            if self.best >= limit || stop() {
                break;
            }
            match self.sift(&mut chains, limit, stop) {
                Look::AboveLimit => self.best = limit,
                Look::Bound(value, _) => self.best = self.best.max(value),
                Look::Stopped => break,
            }
            if self.best < limit {
                let before = self.best;
                let value = self.climb(&mut chains, limit, LOOSE_ROUNDS, SIFT, stop);
                self.best = self.best.max(value);
                if self.best < before + 1e-5 * cost.abs() {
                    break;
                }
            }
        }
        self.chains = chains;
        self.best = self.best.min(limit);
        self.best
    }

    /// Price rounds on some chains; leaves the best prices found and gives back the best value.
    fn climb(
        &mut self,
        chains: &mut [Chain],
        limit: f64,
        first: usize,
        rounds: usize,
        stop: &dyn Fn() -> bool,
    ) -> f64 {
        let with_memory = first > 0;
        let mut best = f64::NEG_INFINITY;
        let mut best_price = self.price.clone();
        let (mut step, mut stale) = (if with_memory { 0.5 } else { 1.0 }, 0);
        for _ in 0..rounds {
            let (value, paths) = match self.look(chains, with_memory, limit, stop) {
                Look::Bound(value, paths) => (value, paths),
                Look::AboveLimit => return limit,
                Look::Stopped => break,
            };
            if value > best + 1e-6 * limit.abs() {
                best = value;
                best_price.clone_from(&self.price);
                stale = 0;
            } else {
                stale += 1;
                if stale % PATIENCE == 0 {
                    step *= 0.5;
                }
            }
            let learned = with_memory
                && limit - value < WORTH_REMEMBERING * limit
                && stale % PATIENCE == PATIENCE - 1
                && self.remember(chains, &paths);
            if step < 1e-3 && !learned {
                break;
            }
            self.reprice(chains, &paths, step * (limit - value));
        }
        self.price = best_price;
        best
    }

    /// One look at every chain at the prices of now.
    fn look(
        &self,
        chains: &[Chain],
        with_memory: bool,
        limit: f64,
        stop: &dyn Fn() -> bool,
    ) -> Look {
        let all_prices: f64 = self.price.iter().sum();
        let loose: Vec<Vec<Vec<f64>>> = chains
            .iter()
            .map(|chain| to_go(chain, &self.price))
            .collect();
        let loosest: Vec<f64> = chains
            .iter()
            .zip(&loose)
            .map(|(chain, rest)| self.least(chain, rest))
            .collect();
        let sum: f64 = loosest.iter().sum();
        if sum - all_prices >= limit {
            return Look::AboveLimit;
        }
        if stop() {
            return Look::Stopped;
        }
        if !with_memory {
            let paths = chains
                .iter()
                .zip(&loose)
                .map(|(chain, rest)| self.follow(chain, rest))
                .collect();
            return Look::Bound(sum - all_prices, paths);
        }
        let (mut value, mut paths) = (-all_prices, Vec::new());
        let mut others = sum;
        for ((chain, rest), loosest) in chains.iter().zip(&loose).zip(&loosest) {
            others -= loosest;
            // What the other chains cost at least: those passed already by their paths, the rest loosely.
            let mut labels = Labels::default();
            match labels.pass(chain, &self.terms(), rest, limit - (value + others), stop) {
                Passed::Path(cost, path) => {
                    value += cost;
                    paths.push(path);
                }
                Passed::AboveLimit => return Look::AboveLimit,
                Passed::Stopped => return Look::Stopped,
            }
        }
        Look::Bound(value, paths)
    }

    /// A look down every chain and one up it again: wood on a course that no path below the limit passes, down to it and on from
    /// it, is part of no better plan and goes.
    fn sift(&self, chains: &mut [Chain], limit: f64, stop: &dyn Fn() -> bool) -> Look {
        let all_prices: f64 = self.price.iter().sum();
        let loosest: Vec<f64> = chains
            .iter()
            .map(|chain| self.least(chain, &to_go(chain, &self.price)))
            .collect();
        let sum: f64 = loosest.iter().sum();
        let (mut value, mut paths) = (-all_prices, Vec::new());
        for (chain, loosest) in chains.iter_mut().zip(&loosest) {
            let elsewhere = sum - loosest - all_prices;
            let limit = limit - elsewhere;
            let mut down = Labels::default();
            match down.pass(
                chain,
                &self.terms(),
                &to_go(chain, &self.price),
                limit,
                stop,
            ) {
                Passed::Path(cost, path) => {
                    value += cost;
                    paths.push(path);
                }
                Passed::AboveLimit => return Look::AboveLimit,
                Passed::Stopped => return Look::Stopped,
            }
            let (down, back) = (down.so_far(), chain.reversed());
            // What is certain on the way up: the paths that came down to each node.
            let mut to_go_up: Vec<Vec<f64>> = down.clone();
            for (link, to_go) in chain.links.iter().zip(&mut to_go_up) {
                for (node, to_go) in link.nodes.iter().zip(to_go) {
                    *to_go -= node.cost + prices(node.wood, &self.price);
                }
            }
            to_go_up.reverse();
            let mut up = Labels::default();
            if let Passed::Stopped = up.pass(&back, &self.terms(), &to_go_up, limit, stop) {
                return Look::Stopped;
            }
            let mut up = up.so_far();
            up.reverse();
            // No path up to a node below the limit, with the best way down to it: that node is done with.
            let gone: Vec<Vec<bool>> = up
                .iter()
                .map(|link| link.iter().map(|cost| cost.is_infinite()).collect())
                .collect();
            if gone.iter().any(|link| link.iter().all(|gone| *gone)) {
                return Look::AboveLimit;
            }
            chain.drop_nodes(self.problem, &gone);
        }
        Look::Bound(value, paths)
    }

    fn terms(&self) -> Terms<'_> {
        Terms {
            price: &self.price,
            memory: &self.memory,
        }
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

    fn reprice(&mut self, chains: &[Chain], paths: &[Vec<usize>], by: f64) {
        let mut slope = vec![-1.0; self.price.len()];
        for (chain, path) in chains.iter().zip(paths) {
            for (link, &at) in chain.links.iter().zip(path) {
                let used = link.nodes[at]
                    .wood
                    .into_iter()
                    .filter(|&strip| strip != NONE);
                used.for_each(|strip| slope[strip as usize] += 1.0);
            }
        }
        let square: f64 = self
            .price
            .iter()
            .zip(&slope)
            .filter(|(price, slope)| **price > 0.0 || **slope > 0.0)
            .map(|(_, slope)| slope * slope)
            .sum();
        if square > 0.0 {
            let step = by / square;
            for (price, slope) in self.price.iter_mut().zip(&slope) {
                *price = (*price + step * slope).max(0.0);
            }
        }
    }

    /// Where a path comes back to a strip, everything on the way learns to remember it. `false` where there was nothing to learn.
    fn remember(&mut self, chains: &[Chain], paths: &[Vec<usize>]) -> bool {
        let mut learned = false;
        for (chain, path) in chains.iter().zip(paths) {
            let wood = |l: usize| chain.links[l].nodes[path[l]].wood;
            for l in 0..path.len() {
                for strip in wood(l).into_iter().filter(|&strip| strip != NONE) {
                    let Some(back) = (l + 1..path.len()).find(|&m| wood(m).contains(&strip)) else {
                        continue;
                    };
                    let between = (l + 1..back).flat_map(wood).filter(|&way| way != NONE);
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

/// Whether a pair is among the first that one would think of.
fn is_likely(problem: &Problem, wood: [u32; 2]) -> bool {
    let [a, b] = wood;
    if a == NONE || b == NONE {
        return true;
    }
    let first = |a: u32, b: u32| {
        problem.mates[a as usize]
            .iter()
            .take(LIKELY_MATES)
            .any(|&mate| mate == b)
    };
    first(a, b) || first(b, a)
}
