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

use super::chain::Chain;
use super::labels::Terms;
use super::ladder::{Descent, look_each};
use super::memory::Memory;
use super::pairs::Pairs;
use super::prices::Prices;
use super::prover::is_likely;
use super::shares::{Field, Share, Tolls, break_even, share};
use super::slices;
use super::slope::{deflect, slope};
use super::wood::Pieces;
use crate::solve::problem::Problem;
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
/// The part of the least step between two boards that changes are let off at first.
const LET_OFF: f64 = 0.9;

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

/// All that is priced.
#[derive(Clone)]
struct Multipliers {
    /// Wood.
    prices: Prices,
    /// What boards cover and where they end.
    tolls: Tolls,
}

impl Multipliers {
    /// A step that would change the bound by `by`, were it straight. Tolls follow what their neighbours have in common first.
    fn step(&mut self, slope: &[f64], by: f64) {
        let (wood, shares) = slope.split_at(self.prices.has().len());
        let smooth = self.tolls.smooth(shares);
        let square = self.prices.square(wood) + self.tolls.product(shares, &smooth);
        if square > 0.0 {
            self.prices.go(wood, by / square);
            self.tolls.go(&smooth, by / square);
        }
    }
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
            bound = bound.max(self.value(&known, &self.shares()));
        }
        bound
    }

    /// Tolls to begin with: what changes are let off is what boards pay for their edges, and a metre is worth what lets a board break even.
    fn begin(&mut self) {
        let (problem, field) = (self.problem, &self.field);
        let weight = |c: usize| field.courses[c].weight;
        let near = |board: usize| {
            let others = (0..self.pairs.boards.len()).filter(|&other| other != board);
            let least = others.map(|other| self.pairs.between(board, other));
            let least = least.fold(f64::INFINITY, f64::min);
            if least.is_finite() { least } else { 0.0 }
        };
        let near: Vec<f64> = (0..self.pairs.boards.len()).map(near).collect();
        // A joint between boards, with one piece more, comes to nothing at first.
        // What one board can cover from end to end may have no change at all.
        let stretches = field.stretches();
        let small: Vec<bool> = stretches.iter().map(|all| field.fits_one(all)).collect();
        let mut of = vec![0; field.courses.len()];
        for (number, all) in stretches.iter().enumerate() {
            of[all.clone()].fill(number);
        }
        let edge = |board: usize, seam: usize| match small[of[seam]] {
            true => 0.0,
            false => LET_OFF * near[board] * weight(seam),
        };
        let part = |c: usize| {
            let joint = self.pieces.joint(problem, field.courses[c].row);
            0.5 * (joint - self.pieces.charge)
        };
        let mut tolls = self.at.tolls.clone();
        tolls.set(|_, _| 0.0, edge, part);
        let boards = (0..near.len()).into_par_iter();
        let worth: Vec<Vec<f64>> = boards
            .map(|board| {
                let stretches = stretches.iter();
                stretches
                    .map(|all| break_even(field, &tolls, board, all))
                    .collect()
            })
            .collect();
        tolls.set(|board, c| worth[board][of[c]] * weight(c), edge, part);
        self.at.tolls = tolls;
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

    /// The cheapest share of every board.
    fn shares(&self) -> Vec<Share> {
        let boards = 0..self.pairs.boards.len();
        let all = boards.into_par_iter();
        all.map(|board| share(&self.field, &self.at.tolls, board))
            .collect()
    }

    /// The bound, from what every chain costs and every board.
    fn value(&self, known: &[f64], shares: &[Share]) -> f64 {
        let shares: f64 = shares.iter().map(|share| share.cost).sum();
        let joints: f64 = (0..self.problem.rows.len())
            .map(|row| self.joints(row).0)
            .sum();
        known.iter().sum::<f64>() - self.at.prices.sum() + shares + joints
    }

    /// What the joints of a course cost at least, once pieces and the ends of boards are charged; and how many ends of boards it then has.
    fn joints(&self, row: usize) -> (f64, usize) {
        let course = self.field.of_row[row];
        let an_end = course.map_or(0.0, |c| self.at.tolls.part(c));
        let (fewest, most) = self.pieces.joints(self.problem, row);
        let joint = self.pieces.joint(self.problem, row);
        let ways = (fewest..=most).flat_map(|joints| {
            (0..=joints).map(move |changes| {
                let pieces = self.pieces.charge * (joints + 1) as f64;
                let ends = an_end * 2.0 * changes as f64;
                (joint * joints as f64 - pieces - ends, 2 * changes)
            })
        });
        ways.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, 0))
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

    /// How much more is taken of each strip than there is; and after that, how much more paths cover than boards do, boards end than paths
    /// change, and ends there are than joints allow.
    fn slope(&self, charged: &[Chain], paths: &[Descent], shares: &[Share]) -> Vec<f64> {
        let mut all = slope(&self.terms(), charged, paths);
        let tolls = &self.at.tolls;
        let mut slope = vec![0.0; tolls.count()];
        let boards = self.pairs.boards.len();
        for ((chain, descent), span) in charged.iter().zip(paths).zip(&self.spans) {
            let metres = (span.1 - span.0) / 1000.0;
            let board = |l: usize| {
                let node = &chain.links[l].nodes[descent.path[l]];
                self.pairs.all[node.pair as usize].board
            };
            for (l, link) in chain.links.iter().enumerate() {
                let here = board(l);
                if let Some(c) = self.field.of_row[link.row].filter(|_| here < boards) {
                    slope[tolls.price_place(here, c)] += metres;
                }
                let Some(before) = l.checked_sub(1).filter(|&before| board(before) != here) else {
                    continue;
                };
                let seam = self.field.seam_between(chain.links[before].row, link.row);
                for end in [board(before), here].into_iter().filter(|&b| b < boards) {
                    if let Some(s) = seam {
                        slope[tolls.edge_place(end, s)] -= metres;
                    }
                }
            }
        }
        for (board, share) in shares.iter().enumerate() {
            for (c, metres) in share.metres.iter().enumerate() {
                slope[tolls.price_place(board, c)] -= metres;
                slope[tolls.part_place(c)] += f64::from(share.ends[c]);
            }
            for (s, metres) in share.edges.iter().enumerate() {
                slope[tolls.edge_place(board, s)] += metres;
            }
        }
        for (c, course) in self.field.courses.iter().enumerate() {
            slope[tolls.part_place(c)] -= self.joints(course.row).1 as f64;
        }
        all.extend(slope);
        all
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
            Some(_) => self.value(&known, &self.shares()),
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
            let shares = self.shares();
            let value = self.value(known, &shares);
            let slope = self.slope(&charged, &paths, &shares);
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
