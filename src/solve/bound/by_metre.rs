//! A bound for jobs with joints, or with strips that serve several courses: every place along the boat by itself, the use of wood
//! priced by the metre.
//!
//! At any place each course has one pair, so the looks of a plan there cost no less than the cheapest path from course to course. What
//! ties the places together is that a strip has only so many metres; that is relaxed and priced. A strip that lies on two courses
//! at one place is shared by two short pieces, and short pieces mean many joints: so that is not forbidden, but charged. What it
//! leaves out: that joints of near courses keep clear of each other, the colour step at joints, figure out of register, and
//! that a piece lies on one course for all of its length.

use super::chain::Chain;
use super::labels::Terms;
use super::ladder::{Descent, look_each};
use super::memory::Memory;
use super::pairs::Pairs;
use super::prices::Prices;
use super::prover::is_likely;
use super::slices;
use super::slope::{deflect, slope};
use super::wood::Pieces;
use crate::solve::problem::Problem;

/// What each rung remembers: slices taken that lay so close in their board to the last pair, and boards, so many of those most like it.
const MEMORIES: [(u32, usize); 3] = [(1, 0), (2, 0), (3, 1)];
/// Rounds of price changes: with no memory to speak of, and with one rung more each time.
const ROUNDS: [usize; 4] = [20, 12, 6, 6];
/// In jobs of more pairs than this only the first rung is climbed. Unit: pairs; each is looked at beside every other.
const MANY: usize = 1_000;
/// Rounds without a better value after which the steps get shorter.
const PATIENCE: usize = 3;
/// How far above the best value the first steps reach, in parts of it.
const REACH: f64 = 0.1;
/// Steps that reach less far than this are not worth a pass.
const SHORTEST_REACH: f64 = 1e-3;
/// Most paths that a pass keeps. Unit: paths of some 100 bytes.
const MOST: usize = 300_000;

/// Finds the bound.
pub struct ByMetre<'a> {
    problem: &'a Problem,
    pairs: Pairs,
    chains: Vec<Chain>,
    prices: Prices,
    memories: [Memory; 3],
    /// What the last pieces of all courses are charged for a joint that they don't have.
    overcharged: f64,
}

impl<'a> ByMetre<'a> {
    /// A prover for a problem of the scope [`super::Scope::ByMetre`]; `None` where it is too large.
    pub fn new(problem: &'a Problem) -> Option<ByMetre<'a>> {
        let pairs = Pairs::new(problem, true)?;
        let pieces = Pieces::of(problem);
        Some(ByMetre {
            problem,
            chains: slices::chains(problem, &pairs, &pieces),
            prices: Prices::none(&pairs, pieces.metres.clone()),
            memories: MEMORIES
                .map(|(within, near)| Memory::of_near(&pairs, near).within(&pairs, within)),
            pairs,
            overcharged: pieces.joint * problem.rows.len() as f64,
        })
    }

    /// A bound that no plan covering every course can cost less than; nothing where it was stopped before it found one.
    pub fn prove(&mut self, stop: &(dyn Fn() -> bool + Sync)) -> f64 {
        let likely: Vec<Chain> = self
            .chains
            .iter()
            .map(|chain| chain.only(&self.pairs, |pair| is_likely(self.problem, pair)))
            .collect();
        let mut known = vec![0.0; likely.len()];
        let highest = match self.pairs.all.len() > MANY {
            true => 1,
            false => self.memories.len(),
        };
        for (rungs, rounds) in ROUNDS.into_iter().enumerate().take(highest + 1) {
            self.climb(&likely, rungs, rounds, &mut known, stop);
        }
        // Of all pairs, not just the likely ones, and as closely as there is time and room for.
        let mut bound = 0.0;
        for rungs in 0..=highest {
            if self.look(&self.chains, rungs, &mut known, stop).is_none() {
                break;
            }
            bound = self.value(&known).max(bound);
        }
        bound
    }

    fn value(&self, known: &[f64]) -> f64 {
        known.iter().sum::<f64>() - self.prices.sum() - self.overcharged
    }

    fn look(
        &self,
        chains: &[Chain],
        rungs: usize,
        known: &mut [f64],
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<Vec<Descent>> {
        let memories: Vec<&Memory> = self.memories[..rungs].iter().collect();
        look_each(chains, &self.terms(), &memories, known, MOST, stop)
    }

    fn terms(&self) -> Terms<'_> {
        Terms {
            problem: self.problem,
            pairs: &self.pairs,
            prices: &self.prices,
            memory: &self.memories[0],
        }
    }

    /// Moves prices along the slope; leaves the best found, and in `known` what each chain costs there.
    fn climb(
        &mut self,
        chains: &[Chain],
        rungs: usize,
        rounds: usize,
        known: &mut Vec<f64>,
        stop: &(dyn Fn() -> bool + Sync),
    ) {
        let mut direction = vec![0.0; self.problem.woods.len()];
        let mut best = (f64::NEG_INFINITY, self.prices.clone(), known.clone());
        let (mut reach, mut stale) = (REACH, 0);
        for _ in 0..rounds {
            if reach < SHORTEST_REACH {
                break;
            }
            let Some(paths) = self.look(chains, rungs, known, stop) else {
                break;
            };
            let value = self.value(known);
            if value > best.0 {
                best = (value, self.prices.clone(), known.clone());
                stale = 0;
            } else {
                stale += 1;
                if stale % PATIENCE == 0 {
                    reach *= 0.5;
                    self.prices.clone_from(&best.1);
                    known.clone_from(&best.2);
                    direction.fill(0.0);
                }
            }
            let slope = slope(&self.terms(), chains, &paths);
            if rungs == self.memories.len() {
                let memory = &mut self.memories[rungs - 1];
                let mut learned = false;
                for (chain, descent) in chains.iter().zip(&paths) {
                    learned |= memory.learn(&self.pairs, chain, &descent.path);
                }
                if learned {
                    continue;
                }
            }
            deflect(&mut direction, &slope);
            let target = best.0 + reach * best.0.abs();
            self.prices.step(&direction, target - value);
        }
        (_, self.prices, *known) = best;
    }
}
