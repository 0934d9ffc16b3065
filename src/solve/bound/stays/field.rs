//! What is the same of a chain at any prices.

use super::crew::Crew;
use crate::solve::bound::chain::{Chain, Link};
use crate::solve::bound::pairs::Pairs;
use crate::solve::problem::Problem;

/// Stands for a pair that is not among the nodes of a link.
pub const NO_NODE: u32 = u32::MAX;

/// A chain, sorted by boards. Everything is found by crew first: the boards, and after them the pairs of two boards by the first of the two.
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
        let mut by_crew: Vec<Vec<u32>> = vec![Vec::new(); 2 * boards];
        for node in chain.links.iter().flat_map(|link| &link.nodes) {
            let pair = &pairs.all[node.pair as usize];
            let crew = match pair.board == boards {
                true => boards + pair.sides[0],
                false => pair.board,
            };
            by_crew[crew].push(node.pair);
        }
        let mut crews = Vec::with_capacity(by_crew.len());
        for (number, mut crew) in by_crew.into_iter().enumerate() {
            crew.sort_unstable();
            crew.dedup();
            crews.push(match number < boards {
                true => Crew::of_board(pairs, crew)?,
                false => Crew::of_strangers(crew),
            });
        }
        let node = nodes(chain, pairs, &crews);
        let links = chain.links.iter().zip(&node);
        let rates = |one: &Crew, other: &Crew| {
            let rates = one.pairs.iter().map(|p| pairs.rates(*p));
            let of_other = |rates: &[f64]| -> Vec<f64> {
                let all = other.pairs.iter().map(|q| rates[*q as usize]);
                all.collect()
            };
            rates.flat_map(of_other).collect::<Vec<f64>>()
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
