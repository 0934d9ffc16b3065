//! Prices up, prices down: the subgradient method on the prices of strips, with memories that grow and nodes that drop out.

use super::chain::Chain;
use super::labels::Terms;
use super::ladder::{Descent, Look, look};
use super::memory::Memory;
use super::pairs::{Pair, Pairs};
use super::prices::Prices;
use crate::solve::problem::{NONE, Problem};

/// Rounds of price changes: with no memory to speak of, within boards, with the board most like each, and with all that is worth
/// remembering.
const ROUNDS: [usize; 4] = [10, 30, 10, 30];
/// The same in a job of many boards, where a round takes long.
const ROUNDS_OF_MANY: [usize; 4] = [10, 12, 6, 0];
/// Rounds without a better bound after which the steps get shorter.
const PATIENCE: usize = 4;
/// How far above the best value the first steps reach, in parts of the plan's cost.
const REACH: f64 = 0.2;
/// Steps that reach less far than this are not worth a pass.
const SHORTEST_REACH: f64 = 1e-3;
/// A better value than this part of the plan's cost counts as progress.
const PROGRESS: f64 = 1e-4;
/// Prices of idle strips below this part of the plan's cost count as none.
const CLOSED: f64 = 1e-8;
/// How far above the best value paths are followed at first, in parts of the plan's cost.
const SLACK: f64 = 0.005;
/// Boards, most like it, that a board remembers at first where memories grow: in a job of few boards, and in one of many.
const NEAR: [usize; 2] = [9, 3];
/// More boards than this are many.
const FEW_BOARDS: usize = 12;
/// Most paths that a pass keeps, over likely pairs and over all. Unit: paths of some 100 bytes.
const MOST_LIKELY: usize = 1_000_000;
const MOST: usize = 3_000_000;

/// Parts of the plan's cost up to which paths over all pairs are followed, one after the other, where all the way at once is too far.
const PARTS: [f64; 6] = [0.8, 0.9, 0.95, 0.98, 0.993, 1.0];

/// The same in a job of many boards, in parts of what prices found over the likely pairs promise.
const RISING: [f64; 3] = [0.95, 0.985, 1.0];

/// Finds bounds, better ones each time it is asked.
pub struct Prover<'a> {
    problem: &'a Problem,
    pairs: Pairs,
    /// All pairs that may still be part of a better plan.
    chains: Vec<Chain>,
    prices: Prices,
    /// Within boards, and with the board most like each.
    runs: Memory,
    near: Memory,
    /// All that is worth remembering.
    memory: Memory,
    best: f64,
    /// What is known of the value over likely pairs at these prices; `None` before the rehearsal.
    rehearsed: Option<f64>,
    /// What could lie on each course of the cheapest path found last, by row.
    path: Option<Vec<Vec<[u32; 2]>>>,
}

/// How far paths over all pairs were followed.
enum Reached {
    /// No path is below the limit that was set.
    Surely,
    /// The bound at these prices is found, and can't be raised by following paths further.
    Settled,
    /// There were too many paths, or better could be had with more memory.
    TooFar,
}

/// How a climb goes about it.
struct Climb {
    rounds: usize,
    rungs: Rungs,
    /// What is known of the value at the prices that it begins with.
    from: f64,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Rungs {
    None,
    Runs,
    Near,
    All,
}

impl<'a> Prover<'a> {
    /// A prover for a problem of the scope [`super::Scope::ByCourse`]; `None` where it is too large.
    pub fn new(problem: &'a Problem) -> Option<Prover<'a>> {
        let pairs = Pairs::new(problem, false)?;
        Some(Prover {
            problem,
            chains: Chain::all(problem, &pairs),
            prices: Prices::none(&pairs, vec![1.0; problem.woods.len()]),
            runs: Memory::of_near(&pairs, 0),
            near: Memory::of_near(&pairs, 1),
            memory: Memory::of_near(&pairs, NEAR[usize::from(pairs.boards.len() > FEW_BOARDS)]),
            pairs,
            best: 0.0,
            rehearsed: None,
            path: None,
        })
    }

    /// What could lie on each course of the cheapest path found last, by row: two strips, or any of several twos; nothing where the path
    /// comes back to strips that it has taken before. Which strip goes to port is left open.
    pub fn path(&self) -> Option<&[Vec<[u32; 2]>]> {
        self.path.as_deref()
    }

    /// A bound that no plan covering every course can cost less than: a hair below `cost` where none costs less than that.
    ///
    /// `cost` must be the cost of a plan that covers every course.
    pub fn prove(&mut self, cost: f64, stop: &dyn Fn() -> bool) -> f64 {
        let limit = limit_for(cost);
        if self.rehearsed.is_none() {
            self.rehearse(cost, stop);
        }
        // With many boards there is no hope to get all the way: a bound that is sure comes first, and is raised as long as there is time.
        let known = self.rehearsed.unwrap_or(limit).min(limit) / limit;
        let rising = RISING.map(|part| part * known);
        let tries: &[(Rungs, &[f64])] = if self.has_many_boards() {
            &[
                (Rungs::Runs, &rising),
                (Rungs::Near, &rising),
                (Rungs::All, &PARTS),
            ]
        } else {
            &[
                (Rungs::All, &[1.0]),
                (Rungs::All, &PARTS),
                (Rungs::Near, &PARTS),
                (Rungs::Runs, &[1.0]),
            ]
        };
        for (rungs, parts) in tries {
            for part in *parts {
                if self.best >= part * limit {
                    continue;
                }
                match self.reach(*rungs, *part, limit, stop) {
                    Reached::Surely => {}
                    Reached::Settled => return self.best.min(limit),
                    Reached::TooFar => break,
                }
            }
        }
        self.best = self.best.min(limit);
        self.best
    }

    /// Follows paths over all pairs up to this part of the limit.
    fn reach(&mut self, rungs: Rungs, part: f64, limit: f64, stop: &dyn Fn() -> bool) -> Reached {
        let most = part * limit;
        let memories = self.memories(rungs);
        match look(&self.chains, &self.terms(), &memories, most, MOST, stop) {
            Look::AboveLimit => {
                self.best = self.best.max(most);
                Reached::Surely
            }
            Look::Bound(value, paths) => {
                self.best = self.best.max(value);
                if rungs == Rungs::All {
                    self.path = Some(self.rows(&self.chains, &paths));
                }
                if part == 1.0 {
                    for (chain, descent) in self.chains.iter_mut().zip(&paths) {
                        chain.drop_nodes(&self.pairs, &descent.idle);
                    }
                }
                match rungs {
                    Rungs::All => Reached::Settled,
                    _ => Reached::TooFar,
                }
            }
            Look::TooMany | Look::Stopped => Reached::TooFar,
        }
    }

    /// Finds prices on the likely pairs, where a look is cheap, and a path that may be a better plan than one of this cost. What comes out is
    /// no bound yet.
    pub fn rehearse(&mut self, cost: f64, stop: &dyn Fn() -> bool) {
        let limit = limit_for(cost);
        let likely: Vec<Chain> = self
            .chains
            .iter()
            .map(|chain| chain.only(&self.pairs, |pair| is_likely(self.problem, pair)))
            .collect();
        let stages = [Rungs::None, Rungs::Runs, Rungs::Near, Rungs::All];
        let done = if self.rehearsed.is_some() { 3 } else { 0 };
        let mut value = self.rehearsed.unwrap_or(0.0).min(limit);
        let rounds = if self.has_many_boards() {
            ROUNDS_OF_MANY
        } else {
            ROUNDS
        };
        for (rungs, rounds) in stages.into_iter().zip(rounds).skip(done) {
            let climb = Climb {
                rounds,
                rungs,
                from: value,
            };
            value = self.climb(&likely, &climb, limit, stop);
        }
        self.rehearsed = Some(value);
    }

    fn has_many_boards(&self) -> bool {
        self.pairs.boards.len() > FEW_BOARDS
    }

    fn memories(&self, rungs: Rungs) -> Vec<&Memory> {
        match rungs {
            Rungs::None => Vec::new(),
            Rungs::Runs => vec![&self.runs],
            Rungs::Near => vec![&self.runs, &self.near],
            Rungs::All => vec![&self.runs, &self.near, &self.memory],
        }
    }

    /// Price rounds on some chains; leaves the best prices found, and gives back the value there.
    fn climb(
        &mut self,
        chains: &[Chain],
        climb: &Climb,
        limit: f64,
        stop: &dyn Fn() -> bool,
    ) -> f64 {
        let mut best = climb.from;
        let mut best_prices = self.prices.clone();
        let mut direction = vec![0.0; self.problem.woods.len()];
        let (mut reach, mut slack, mut stale) = (REACH, SLACK, 0);
        let mut best_slope = direction.clone();
        let mut round = 0;
        while round < climb.rounds && reach >= SHORTEST_REACH {
            // Paths far above the best value so far tell nothing; where all are, the value is further up.
            let most = match climb.rungs {
                Rungs::None => limit,
                _ => (best + slack * limit).min(limit),
            };
            let seen = look(
                chains,
                &self.terms(),
                &self.memories(climb.rungs),
                most,
                MOST_LIKELY,
                stop,
            );
            let (value, paths) = match seen {
                Look::Bound(value, paths) => (value, paths),
                Look::AboveLimit if most < limit => {
                    best = most;
                    best_prices.clone_from(&self.prices);
                    slack *= 1.5;
                    continue;
                }
                Look::AboveLimit => {
                    best = limit;
                    best_prices.clone_from(&self.prices);
                    break;
                }
                Look::TooMany if reach > SHORTEST_REACH && best > climb.from => {
                    // The last step went too far.
                    reach *= 0.25;
                    slack = SLACK;
                    self.prices.clone_from(&best_prices);
                    direction.fill(0.0);
                    let target = (best + reach * limit).min(limit);
                    self.prices.step(&best_slope, target - best);
                    round += 1;
                    continue;
                }
                Look::TooMany | Look::Stopped => break,
            };
            round += 1;
            slack = SLACK;
            stale = if value > best + PROGRESS * limit {
                0
            } else {
                stale + 1
            };
            let tired = stale > 0 && stale % PATIENCE == 0;
            if tired {
                reach *= 0.5;
            }
            let slope = slope(&self.terms(), chains, &paths);
            if value > best {
                best = value;
                best_prices.clone_from(&self.prices);
                best_slope.clone_from(&slope);
            } else if tired {
                self.prices.clone_from(&best_prices);
                direction.fill(0.0);
            }
            if climb.rungs == Rungs::Near && self.has_many_boards() {
                self.path = Some(self.rows(chains, &paths));
            }
            if climb.rungs == Rungs::All {
                self.path = Some(self.rows(chains, &paths));
                let mut learned = false;
                for (chain, descent) in chains.iter().zip(&paths) {
                    learned |= self.memory.learn(&self.pairs, chain, &descent.path);
                }
                if learned {
                    continue;
                }
            }
            if slope.iter().all(|&slope| slope <= 0.0)
                && self.prices.along(&slope) > -CLOSED * limit
            {
                // The path is a plan, and costs what the bound says.
                break;
            }
            deflect(&mut direction, &slope);
            let target = (best + reach * limit).min(limit);
            self.prices.step(&direction, target - value);
        }
        self.prices = best_prices;
        best
    }

    fn terms(&self) -> Terms<'_> {
        Terms {
            problem: self.problem,
            pairs: &self.pairs,
            prices: &self.prices,
            memory: &self.memory,
        }
    }

    /// What could lie on each row on these paths; every strip once.
    fn rows(&self, chains: &[Chain], paths: &[Descent]) -> Vec<Vec<[u32; 2]>> {
        let mut rows = vec![Vec::new(); self.problem.rows.len()];
        let mut taken = vec![false; self.problem.woods.len()];
        let steps = || {
            let both = chains.iter().zip(paths);
            let steps = both.flat_map(|(chain, descent)| chain.links.iter().zip(&descent.path));
            steps.map(|(link, &at)| (link.row, &self.pairs.all[link.nodes[at].pair as usize]))
        };
        for (row, pair) in steps().filter(|(_, pair)| pair.wood[0] != NONE) {
            let strips = pair.wood.into_iter().filter(|&strip| strip != NONE);
            if strips.clone().all(|strip| !taken[strip as usize]) {
                strips.for_each(|strip| taken[strip as usize] = true);
                rows[row] = vec![pair.wood];
            }
        }
        for (row, pair) in steps().filter(|(_, pair)| pair.wood[0] == NONE) {
            let [one, other] = pair.sides.map(|board| {
                let left = |strip: &u32| !taken[*strip as usize];
                let strips = self.pairs.boards[board].strips.iter().copied();
                strips.filter(left).collect::<Vec<u32>>()
            });
            let all = one.iter().flat_map(|&a| other.iter().map(move |&b| [a, b]));
            rows[row] = all.collect();
        }
        rows
    }
}

/// A hair below the plan: nodes drop out only where they can't better the plan in earnest.
fn limit_for(cost: f64) -> f64 {
    cost - 1e-7 * cost.abs()
}

/// How much more is taken of each strip than there is; below nothing where some is left.
pub(super) fn slope(terms: &Terms, chains: &[Chain], paths: &[Descent]) -> Vec<f64> {
    let mut slope: Vec<f64> = terms.prices.has().iter().map(|has| -has).collect();
    for (chain, descent) in chains.iter().zip(paths) {
        for (link, &at) in chain.links.iter().zip(&descent.path) {
            let used = terms.pairs.all[link.nodes[at].pair as usize].wood;
            for strip in used.into_iter().filter(|&strip| strip != NONE) {
                slope[strip as usize] += link.takes;
            }
        }
    }
    slope
}

/// Turns the direction of the step before towards the slope, never against it.
///
/// Source: P. M. Camerini, L. Fratta and F. Maffioli, "On improving relaxation methods by modified gradient techniques",
/// Mathematical Programming Study 3 (1975) (citation from memory).
pub(super) fn deflect(direction: &mut [f64], slope: &[f64]) {
    let along: f64 = direction.iter().zip(slope).map(|(d, s)| d * s).sum();
    let square: f64 = direction.iter().map(|d| d * d).sum();
    let keep = if along < 0.0 && square > 0.0 {
        -1.5 * along / square
    } else {
        0.0
    };
    for (direction, slope) in direction.iter_mut().zip(slope) {
        *direction = slope + keep * *direction;
    }
}

/// Whether a pair is among the first that one would think of.
pub(super) fn is_likely(problem: &Problem, pair: &Pair) -> bool {
    let [a, b] = pair.wood;
    if a == NONE || b == NONE {
        return true;
    }
    (problem.woods[a as usize].seq - problem.woods[b as usize].seq).abs() <= 1
}
