//! A bound for jobs with joints, or with strips that serve several courses: every place along the boat by itself, the use of wood
//! priced by the metre, and for every board an exact account of what it covers.
//!
//! At any place each course has one pair, so the looks of a plan there cost no less than the cheapest path from course to course. What
//! ties the places together is that a strip has only so many metres; that is relaxed and priced. A strip that lies on two courses
//! at one place is shared by two short pieces, and short pieces mean many joints: so that is not forbidden, but charged.
//!
//! Paths alone would cover each place with the most likeable boards and never run out of them. So what a board covers of each course
//! and where it ends is decided a second time, board by board, with all of its wood counted and joints kept apart (`shares`). That both
//! decisions agree is relaxed and priced (Lagrangian decomposition): a path pays for each metre of a course on which it lies in a board, and is let
//! off some of the step where it changes boards; the board is paid the one and pays the other. Whatever the prices, no plan costs less
//! than the sum of all.
//!
//! What it leaves out: figure out of register, the colour step at joints within a board, and how pieces are cut from strips.

mod begin;
mod multipliers;
mod slope;

use super::chain::Chain;
use super::labels::Terms;
use super::ladder::{Descent, look_each};
use super::memory::Memory;
use super::pairs::Pairs;
use super::prices::Prices;
use super::prover::is_likely;
use super::shares::{Field, Share, Tolls, share};
use super::slices;
use super::slope::deflect;
use super::wood::{Pieces, least_joint};
use crate::solve::problem::Problem;
use multipliers::Multipliers;
use rayon::prelude::*;

/// What each rung remembers: slices taken that lay so close in their board to the last pair, and boards, so many of those most like it.
const MEMORIES: [(u32, usize); 2] = [(1, 0), (2, 0)];
/// Rungs climbed and rounds of price changes on each, one after the other. Each ends with a look that makes a bound, in case there is no time
/// for more.
const CLIMBS: [(usize, usize); 4] = [(0, 20), (1, 6), (1, 50), (2, 30)];
/// In jobs of more pairs than this only the first rung is climbed. Unit: pairs; each is looked at beside every other.
const MANY: usize = 1_000;
/// Rounds without a better value after which the steps get shorter, and how much.
const PATIENCE: usize = 3;
const SHORTER: f64 = 0.6;
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
    pieces: Pieces,
    chains: Vec<Chain>,
    /// The stretch of boat of each chain. Unit: mm.
    spans: Vec<(f64, f64)>,
    field: Field,
    at: Multipliers,
    memories: [Memory; 2],
}

/// What is cheapest but for paths.
struct Boards {
    /// The share of every board.
    shares: Vec<Share>,
    /// The joints of every row.
    joints: Vec<Joints>,
}

/// The cheapest number of joints of a course.
struct Joints {
    /// What they cost, once pieces and the ends of boards are charged.
    cost: f64,
    /// Ends of boards at them.
    ends: usize,
}

impl<'a> ByMetre<'a> {
    /// A prover for a problem of the scope [`super::Scope::ByMetre`]; `None` where it is too large.
    pub fn new(problem: &'a Problem) -> Option<ByMetre<'a>> {
        let pairs = Pairs::new(problem, true)?;
        let pieces = Pieces::of(problem);
        let (chains, spans) = slices::chains(problem, &pairs, &pieces);
        let field = Field::new(problem, &pairs, &pieces, &chains, &spans);
        Some(ByMetre {
            problem,
            at: Multipliers {
                prices: Prices::none(&pairs, pieces.metres.clone()),
                tolls: Tolls::none(pairs.boards.len(), field.courses.len()),
            },
            chains,
            spans,
            field,
            memories: MEMORIES
                .map(|(within, near)| Memory::of_near(&pairs, near).within(&pairs, within)),
            pairs,
            pieces,
        })
    }

    /// A bound that no plan covering every course can cost less than; nothing where it was stopped before it found one.
    pub fn prove(&mut self, stop: &(dyn Fn() -> bool + Sync)) -> f64 {
        let keep = |chain: &Chain| chain.only(&self.pairs, |pair| is_likely(self.problem, pair));
        let likely: Vec<Chain> = self.chains.iter().map(keep).collect();
        let mut known = vec![0.0; likely.len()];
        let highest = match self.pairs.all.len() > MANY {
            true => 1,
            false => self.memories.len(),
        };
        self.begin();
        let mut bound: f64 = 0.0;
        for (rungs, rounds) in CLIMBS.into_iter().filter(|(rungs, _)| *rungs <= highest) {
            self.climb(&likely, rungs, rounds, &mut known, stop);
            // Of all pairs, not just the likely ones, and as closely as there is time and room for.
            let charged = self.charged(&self.chains);
            let mut known = known.clone();
            if self.look(&charged, rungs, &mut known, stop).is_none() {
                break;
            }
            bound = bound.max(self.value(&known, &self.boards()));
        }
        bound
    }

    /// The chains with what they pay for metres of boards, and what they are let off where they change boards.
    fn charged(&self, chains: &[Chain]) -> Vec<Chain> {
        let (tolls, boards) = (&self.at.tolls, self.pairs.boards.len());
        let charged = |(chain, span): (&Chain, &(f64, f64))| {
            let mut chain = chain.clone();
            let metres = (span.1 - span.0) / 1000.0;
            for link in &mut chain.links {
                let Some(c) = self.field.of_row[link.row] else {
                    continue;
                };
                for node in &mut link.nodes {
                    let board = self.pairs.all[node.pair as usize].board;
                    node.cost += metres
                        * match board < boards {
                            true => tolls.price(board, c),
                            false => -self.field.courses[c].strange,
                        };
                }
            }
            let let_off =
                |s: usize| -> Vec<f64> { (0..boards).map(|b| metres * tolls.edge(b, s)).collect() };
            let steps = chain.links.windows(2);
            chain.tolls = steps
                .map(
                    |two| match self.field.seam_between(two[0].row, two[1].row) {
                        Some(s) => let_off(s),
                        None => vec![0.0; boards],
                    },
                )
                .collect();
            chain
        };
        chains.iter().zip(&self.spans).map(charged).collect()
    }

    /// The cheapest share of every board, and the cheapest joints.
    fn boards(&self) -> Boards {
        let boards = (0..self.pairs.boards.len()).into_par_iter();
        let share = |board| share(&self.field, &self.at.tolls, board);
        let rows = 0..self.problem.rows.len();
        Boards {
            shares: boards.map(share).collect(),
            joints: rows.map(|row| self.joints(row)).collect(),
        }
    }

    /// The bound, from what every chain costs and every board.
    fn value(&self, known: &[f64], boards: &Boards) -> f64 {
        let shares: f64 = boards.shares.iter().map(|share| share.cost).sum();
        let joints: f64 = boards.joints.iter().map(|joints| joints.cost).sum();
        known.iter().sum::<f64>() - self.at.prices.sum() + shares + joints
    }

    /// The joints of a course.
    fn joints(&self, row: usize) -> Joints {
        let course = self.field.of_row[row];
        let an_end = course.map_or(0.0, |c| self.at.tolls.part(c));
        let (fewest, most) = self.pieces.joints(self.problem, row);
        let joint = least_joint(self.problem, row);
        let ways = (fewest..=most).flat_map(|joints| {
            (0..=joints).map(move |changes| {
                let pieces = self.pieces.charge * (joints + 1) as f64;
                let ends = an_end * 2.0 * changes as f64;
                Joints {
                    cost: joint * joints as f64 - pieces - ends,
                    ends: 2 * changes,
                }
            })
        });
        let least = ways.min_by(|a, b| a.cost.total_cmp(&b.cost));
        least.unwrap_or(Joints { cost: 0.0, ends: 0 })
    }

    fn look(
        &self,
        charged: &[Chain],
        rungs: usize,
        known: &mut [f64],
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<Vec<Descent>> {
        let memories: Vec<&Memory> = self.memories[..rungs].iter().collect();
        look_each(charged, &self.terms(), &memories, known, MOST, stop)
    }

    fn terms(&self) -> Terms<'_> {
        Terms {
            problem: self.problem,
            pairs: &self.pairs,
            prices: &self.at.prices,
            memory: &self.memories[0],
        }
    }

    /// The bound once all prices have been moved by what dice say.
    #[cfg(test)]
    pub(super) fn value_at(&mut self, rungs: usize, mut dice: impl FnMut() -> f64) -> f64 {
        let strips = self.problem.woods.len();
        let by: Vec<f64> = (0..strips + self.at.tolls.count())
            .map(|_| dice())
            .collect();
        self.at.prices.go(&by[..strips], 1.0);
        self.at.tolls.go(&by[strips..], 1.0);
        let charged = self.charged(&self.chains);
        let mut known = vec![0.0; charged.len()];
        match self.look(&charged, rungs, &mut known, &|| false) {
            Some(_) => self.value(&known, &self.boards()),
            None => f64::NEG_INFINITY,
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
        let mut direction = vec![0.0; self.problem.woods.len() + self.at.tolls.count()];
        let mut best = (f64::NEG_INFINITY, self.at.clone(), known.clone());
        let (mut reach, mut stale) = (REACH, 0);
        for _ in 0..rounds {
            if reach < SHORTEST_REACH {
                break;
            }
            let charged = self.charged(chains);
            let Some(paths) = self.look(&charged, rungs, known, stop) else {
                break;
            };
            let boards = self.boards();
            let value = self.value(known, &boards);
            let slope = self.slope(&charged, &paths, &boards);
            if value > best.0 {
                best = (value, self.at.clone(), known.clone());
                stale = 0;
            } else {
                stale += 1;
                if stale % PATIENCE == 0 {
                    reach *= SHORTER;
                    self.at.clone_from(&best.1);
                    known.clone_from(&best.2);
                    direction.fill(0.0);
                }
            }
            deflect(&mut direction, &slope);
            let target = best.0 + reach * best.0.abs();
            self.at.step(&direction, target - value);
        }
        (_, self.at, *known) = best;
    }
}
