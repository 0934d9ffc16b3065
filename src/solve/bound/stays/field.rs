//! What is the same of a chain at any prices.

use super::crew::Crew;
use crate::solve::bound::chain::{Chain, Link};
use crate::solve::bound::pairs::{Pair, Pairs};
use crate::solve::problem::{NONE, Problem};
use rayon::prelude::*;

/// Stands for a pair that is not among the nodes of a link.
pub const NO_NODE: u32 = u32::MAX;

/// Slices that pairs of a board are apart at most, one such number after the other, where its pairs have too many ways through them: those further
/// apart are taken out of the board's crew.
const CLOSE: [i64; 3] = [4, 2, 1];

/// A chain, sorted by boards. Everything is found by crew first: the boards; after them the pairs of two boards, by the first of the
/// two; and after those, by board, pairs that are taken out of its crew because there would be too many ways through it. For such a pair a path leaves the
/// board and comes back: of slices taken before it, only the number is known after it.
pub struct Field {
    /// The crews.
    pub crews: Vec<Crew>,
    /// How many of the crews are boards.
    pub boards: usize,
    /// By link and crew, the node of each pair, or [`NO_NODE`].
    pub node: Vec<Vec<Vec<u32>>>,
    /// By link and crew, match and thrift of each pair; infinite where it is not among the nodes.
    pub cost: Vec<Vec<Vec<f64>>>,
    /// By crew and crew, what a metre of seam costs at least, register aside: a row for each pair of the first.
    pub rates: Vec<Vec<Vec<f64>>>,
    /// Metres that each link meets of the next, see [`Chain::met`].
    pub met: Vec<f64>,
    /// By link and board, what figure out of register adds at least to the seams with the next link; `None` where nothing.
    pub slips: Vec<Vec<Option<Vec<f64>>>>,
    /// Strips that lie side by side on each link: two on a mirrored course.
    pub strips: Vec<u32>,
    /// By board, how many slices it has.
    pub slices: Vec<u32>,
}

impl Field {
    /// A chain whose strips serve one course each; `None` where some board has too many ways through its pairs.
    pub fn new(problem: &Problem, pairs: &Pairs, chain: &Chain) -> Option<Field> {
        let boards = pairs.boards.len();
        let mut by_crew: Vec<Vec<u32>> = vec![Vec::new(); 3 * boards];
        for node in chain.links.iter().flat_map(|link| &link.nodes) {
            let pair = &pairs.all[node.pair as usize];
            let crew = match pair.board == boards {
                true => boards + pair.sides[0],
                false => pair.board,
            };
            by_crew[crew].push(node.pair);
        }
        for crew in &mut by_crew {
            crew.sort_unstable();
            crew.dedup();
        }
        let of_boards = by_crew[..boards].par_iter();
        let of_boards = of_boards.map(|crew| of_board(problem, pairs, crew));
        let of_boards: Vec<(Crew, Vec<u32>)> = of_boards.collect::<Option<_>>()?;
        let (mut crews, outcasts): (Vec<Crew>, Vec<Vec<u32>>) = of_boards.into_iter().unzip();
        let strangers = by_crew[boards..2 * boards].iter();
        crews.extend(strangers.chain(&outcasts).cloned().map(Crew::of_strangers));
        let node = nodes(chain, pairs, &crews);
        let links = chain.links.iter().zip(&node);
        let rates = |one: &Crew, other: &Crew| {
            let beside = |&p: &u32| other.pairs.iter().map(move |&q| rate(pairs, p, q));
            { one.pairs.iter() }.flat_map(beside).collect::<Vec<f64>>()
        };
        let steps = 0..chain.met.len();
        Some(Field {
            slips: steps
                .map(|l| slips(problem, pairs, chain, &crews[..boards], &node, l))
                .collect(),
            rates: crews
                .iter()
                .map(|one| crews.iter().map(|other| rates(one, other)).collect())
                .collect(),
            boards,
            cost: links.map(|(link, node)| costs(link, node)).collect(),
            node,
            met: chain.met.clone(),
            strips: chain
                .links
                .iter()
                .map(|link| 1 + u32::from(problem.rows[link.row].mirrored))
                .collect(),
            slices: pairs.boards.iter().map(|board| board.slices).collect(),
            crews,
        })
    }

    /// How many links there are.
    pub fn links(&self) -> usize {
        self.cost.len()
    }

    /// How many pairs a crew has.
    pub fn size(&self, crew: usize) -> usize {
        self.crews[crew].pairs.len()
    }

    /// The board whose slices a crew takes; `None` for pairs of two boards.
    pub fn home(&self, crew: usize) -> Option<usize> {
        match crew / self.boards.max(1) {
            0 => Some(crew),
            1 => None,
            _ => Some(crew - 2 * self.boards),
        }
    }

    /// What a seam between two pairs of one board costs at least, on a link and the next.
    pub fn seam(&self, board: usize, link: usize, one: usize, next: usize) -> f64 {
        if self.met[link] <= 0.0 {
            return 0.0;
        }
        let at = one * self.size(board) + next;
        let slip = self.slips[link][board]
            .as_ref()
            .map_or(0.0, |slips| slips[at]);
        self.met[link] * self.rates[board][board][at] + slip
    }

    /// Courses that a stay in a crew can have, when it begins on this link and goes down.
    pub fn longest(&self, crew: usize, link: usize) -> usize {
        if crew >= self.boards {
            return 1;
        }
        let mut used = 0;
        let fits = |strips: &&u32| {
            used += **strips;
            used <= self.slices[crew]
        };
        self.strips[link..].iter().take_while(fits).count()
    }
}

/// The crew of a board, and the pairs that are taken out of it; `None` where there are too many ways through it all the same.
fn of_board(problem: &Problem, pairs: &Pairs, all: &[u32]) -> Option<(Crew, Vec<u32>)> {
    if let Some(crew) = Crew::of_board(pairs, all.to_vec()) {
        return Some((crew, Vec::new()));
    }
    CLOSE.into_iter().find_map(|most| {
        let close = |pair: &u32| apart(problem, &pairs.all[*pair as usize]) <= most;
        let (near, far) = all.iter().partition(|pair| close(pair));
        Some((Crew::of_board(pairs, near)?, far))
    })
}

/// How many slices further on in the board the second strip of a pair was sawn.
fn apart(problem: &Problem, pair: &Pair) -> i64 {
    match pair.wood {
        [_, NONE] => 0,
        [a, b] => (problem.woods[a as usize].seq - problem.woods[b as usize].seq).abs(),
    }
}

/// What a metre of seam between two pairs costs at least, register aside; infinite where they share a slice.
fn rate(pairs: &Pairs, p: u32, q: u32) -> f64 {
    let (one, other) = (&pairs.all[p as usize], &pairs.all[q as usize]);
    match one.board == other.board && one.mask & other.mask != 0 {
        true => f64::INFINITY,
        false => pairs.rates(p)[q as usize],
    }
}

/// By link and crew, the node of every pair.
fn nodes(chain: &Chain, pairs: &Pairs, crews: &[Crew]) -> Vec<Vec<Vec<u32>>> {
    let mut place = vec![(0, 0); pairs.all.len()];
    for (number, crew) in crews.iter().enumerate() {
        for (at, &pair) in crew.pairs.iter().enumerate() {
            place[pair as usize] = (number, at);
        }
    }
    let each = chain.links.iter().map(|link| {
        let blank = crews.iter().map(|crew| vec![NO_NODE; crew.pairs.len()]);
        let mut number: Vec<Vec<u32>> = blank.collect();
        for (i, node) in link.nodes.iter().enumerate() {
            let (crew, at) = place[node.pair as usize];
            number[crew][at] = i as u32;
        }
        number
    });
    each.collect()
}

/// What the nodes of a link cost, by crew and pair.
fn costs(link: &Link, node: &[Vec<u32>]) -> Vec<Vec<f64>> {
    let cost = |i: &u32| {
        let node = link.nodes.get(*i as usize);
        node.map_or(f64::INFINITY, |node| node.cost)
    };
    let of_crew = |nodes: &Vec<u32>| nodes.iter().map(cost).collect();
    node.iter().map(of_crew).collect()
}

/// By board, what figure out of register adds at least to the seams of a link with the next.
fn slips(
    problem: &Problem,
    pairs: &Pairs,
    chain: &Chain,
    boards: &[Crew],
    node: &[Vec<Vec<u32>>],
    l: usize,
) -> Vec<Option<Vec<f64>>> {
    if !chain.slips[l] || chain.met[l] <= 0.0 {
        return vec![None; boards.len()];
    }
    let mut seams = Vec::new();
    let mut of_board = |(board, crew): (usize, &Crew)| {
        let mut slips = Vec::with_capacity(crew.pairs.len().pow(2));
        for (one, p) in node[l][board].iter().zip(&crew.pairs) {
            if *one != NO_NODE {
                chain.seams(problem, pairs, l, *one as usize, &mut seams);
            }
            let rates = pairs.rates(*p);
            for (next, q) in node[l + 1][board].iter().zip(&crew.pairs) {
                let both = *one != NO_NODE && *next != NO_NODE;
                let slip = || seams[*next as usize] - chain.met[l] * rates[*q as usize];
                slips.push(if both { slip().max(0.0) } else { 0.0 });
            }
        }
        Some(slips)
    };
    boards.iter().enumerate().map(&mut of_board).collect()
}
