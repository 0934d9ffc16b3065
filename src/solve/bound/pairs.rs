//! Every pair of strips that could lie on some course, board by board, and what a metre of seam between two pairs
//! costs at least.

use super::bits::{Bits, MOST, low};
use super::sharing::Sharing;
use crate::solve::problem::{Charge, NONE, Problem, Steps};
use crate::solve::tuning::pairs::MOST_PAIRS;

/// Most slices of a board: as many as a mask has bits.
const MOST_SLICES: usize = 64;

/// Two strips of one board for the two sides of a course, either way round, or one for a centre course.
///
/// Which strip goes to port is left open: a seam only tells whether two neighbouring pairs lie the same way round, so
/// each seam can choose the better of the two, and the whole panel can be turned to suit.
#[derive(Clone, Copy, Debug)]
pub struct Pair {
    /// The strips; the second is [`NONE`] for a centre course. Both are [`NONE`] for any two strips of
    /// two different boards: those are looked at as one, with the least seams that any of them could have.
    pub wood: [u32; 2],
    /// The board of each, by its place in [`Pairs::boards`].
    pub sides: [usize; 2],
    /// The board of both, or one past the last of [`Pairs::boards`] for strips of different boards.
    pub board: usize,
    /// The strips as slices of their board.
    pub mask: u64,
}

impl Pair {
    /// The strips that are known.
    pub fn strips(&self) -> impl Iterator<Item = u32> + Clone + use<> {
        self.wood.into_iter().filter(|&strip| strip != NONE)
    }
}

/// A board, and the slots that stand for its slices.
#[derive(Clone, Debug)]
pub struct Board {
    /// Its first slot.
    pub first: u32,
    /// How many slices it has.
    pub slices: u32,
    /// All of its slots.
    pub all: Bits,
    /// Its strips, in the order of the slots.
    pub strips: Vec<u32>,
}

/// All pairs.
#[derive(Clone, Debug)]
pub struct Pairs {
    /// By board; those that stand for strips of different boards come last.
    pub all: Vec<Pair>,
    /// The boards.
    pub boards: Vec<Board>,
    /// What is charged along seams, and whether one strip could lie on both sides: first the plain charge between
    /// different strips, then the others, each looked at from both sides.
    charges: Vec<(Charge, bool)>,
    /// By charge.
    rates: Vec<Vec<f64>>,
    between: Vec<Vec<f64>>,
}

impl Pairs {
    /// Every pair for mirrored courses, where there are such, and every single strip for centre courses; `None` where
    /// there are too many.
    pub fn new(problem: &Problem, sharing: &Sharing) -> Option<Pairs> {
        let mut by_board: Vec<Vec<u32>> = Vec::new();
        let mut number = std::collections::BTreeMap::new();
        for (strip, wood) in problem.woods.iter().enumerate() {
            let board = *number.entry(wood.board).or_insert_with(|| {
                by_board.push(Vec::new());
                by_board.len() - 1
            });
            by_board[board].push(strip as u32);
        }
        for strips in &mut by_board {
            strips.sort_by_key(|&strip| problem.woods[strip as usize].seq);
        }
        if problem.woods.len() > MOST || by_board.iter().any(|strips| strips.len() > MOST_SLICES) {
            return None;
        }
        let mirrored = problem.rows.iter().any(|row| row.mirrored);
        let centre = problem.rows.iter().any(|row| !row.mirrored);
        let (mut all, mut boards, mut first) = (Vec::new(), Vec::new(), 0);
        for (board, strips) in by_board.iter().enumerate() {
            let slices = strips.len() as u32;
            boards.push(Board {
                first,
                slices,
                all: Bits::placed(first, low(slices)),
                strips: strips.clone(),
            });
            first += slices;
            for (i, &a) in strips.iter().enumerate() {
                if centre {
                    all.push(Pair {
                        wood: [a, NONE],
                        sides: [board, board],
                        board,
                        mask: 1 << i,
                    });
                }
                for (j, &b) in strips.iter().enumerate() {
                    if mirrored && i < j {
                        all.push(Pair {
                            wood: [a, b],
                            sides: [board, board],
                            board,
                            mask: 1 << i | 1 << j,
                        });
                    }
                }
            }
        }
        for (a, b) in (0..boards.len()).flat_map(|a| (0..boards.len()).map(move |b| (a, b))) {
            if mirrored && a < b {
                all.push(Pair {
                    wood: [NONE, NONE],
                    sides: [a, b],
                    board: boards.len(),
                    mask: 0,
                });
            }
        }
        let charges = charges(problem, sharing);
        if all.len().pow(2) * charges.len() > MOST_PAIRS.pow(2) {
            return None;
        }
        let table = |(charge, shared): &(Charge, bool)| {
            let strange = Strange::new(problem, *charge, *shared, &by_board);
            let mut rates = Vec::with_capacity(all.len() * all.len());
            for p in &all {
                rates.extend(all.iter().map(|q| rate(problem, *charge, &strange, p, q)));
            }
            rates
        };
        let rates = charges.iter().map(table).collect();
        Some(Pairs {
            all,
            boards,
            rates,
            charges,
            between: Strange::new(problem, Charge::PLAIN, false, &by_board).boards,
        })
    }

    /// Whether two pairs of one board have a slice in common.
    pub fn share_slice(&self, p: u32, q: u32) -> bool {
        let (one, other) = (&self.all[p as usize], &self.all[q as usize]);
        one.board == other.board && one.mask & other.mask != 0
    }

    /// On how many sides of the boat a pair lies.
    pub fn sides(&self, pair: u32) -> u32 {
        let wood = self.all[pair as usize].wood;
        1 + u32::from(wood[0] == NONE || wood[1] != NONE)
    }

    /// Whether courses touch where a charge is made.
    pub fn touch(&self, charge: usize) -> bool {
        self.charges[charge].0.steps != Steps::Apart
    }

    /// What a metre of seam between strips of two boards costs at least.
    pub fn between(&self, a: usize, b: usize) -> f64 {
        self.between[a][b]
    }

    /// How many charges there are.
    pub fn charges(&self) -> usize {
        self.charges.len()
    }

    /// The number of a charge, looked at from the upper course and from the lower; `shared` where one strip could lie
    /// on both.
    pub fn charge(&self, charge: Charge, shared: bool) -> [usize; 2] {
        [charge, charge.mirrored()].map(|charge| {
            let charge = (charge, shared);
            let at = self.charges.iter().position(|other| *other == charge);
            at.unwrap_or(0)
        })
    }

    /// What a metre of seam beside this pair costs at least for every other, register aside, in the order of
    /// [`Pairs::all`].
    pub fn rates(&self, charge: usize, pair: u32) -> &[f64] {
        let n = self.all.len();
        &self.rates[charge][pair as usize * n..(pair as usize + 1) * n]
    }
}

/// Every charge along a seam of two courses that touch, and the plain one first.
fn charges(problem: &Problem, sharing: &Sharing) -> Vec<(Charge, bool)> {
    let mut all = vec![(Charge::PLAIN, false)];
    let touching = problem
        .seams
        .iter()
        .filter(|seam| seam.charge.steps != Steps::Apart);
    for seam in touching {
        let shared = sharing.could_share(seam.upper, seam.lower);
        for charge in [(seam.charge, shared), (seam.charge.mirrored(), shared)] {
            if !all.contains(&charge) {
                all.push(charge);
            }
        }
    }
    all
}

fn rate(problem: &Problem, charge: Charge, strange: &Strange, p: &Pair, q: &Pair) -> f64 {
    let single = |pair: &Pair| pair.wood[0] != NONE && pair.wood[1] == NONE;
    let side = |i: usize, j: usize| match (p.wood[i], q.wood[j]) {
        (NONE, NONE) => strange.boards[p.sides[i]][q.sides[j]],
        (NONE, b) => strange.above[b as usize][p.sides[i]],
        (a, NONE) => strange.below[a as usize][q.sides[j]],
        (a, b) => problem.rate(charge, a, b),
    };
    match (single(p), single(q)) {
        (false, false) => (side(0, 0) + side(1, 1)).min(side(0, 1) + side(1, 0)),
        (true, false) => side(0, 0) + side(0, 1),
        (false, true) => side(0, 0) + side(1, 0),
        (true, true) => side(0, 0),
    }
}

/// What a metre of seam costs at least beside some strip of a board.
struct Strange {
    /// For each strip and board, the strip being the upper of the two.
    below: Vec<Vec<f64>>,
    /// The same, the strip being the lower.
    above: Vec<Vec<f64>>,
    /// For each board and board.
    boards: Vec<Vec<f64>>,
}

impl Strange {
    /// `shared` where the strip itself could lie beside it.
    fn new(problem: &Problem, charge: Charge, shared: bool, by_board: &[Vec<u32>]) -> Strange {
        let beside = |charge: Charge, a: u32, board: &Vec<u32>| {
            let others = board.iter().filter(|&&b| shared || b != a);
            others
                .map(|&b| problem.rate(charge, a, b))
                .fold(f64::INFINITY, f64::min)
        };
        let strips = |charge: Charge| -> Vec<Vec<f64>> {
            let strips = 0..problem.woods.len() as u32;
            let beside = |a| {
                by_board
                    .iter()
                    .map(|board| beside(charge, a, board))
                    .collect()
            };
            strips.map(beside).collect()
        };
        let (below, above) = (strips(charge), strips(charge.mirrored()));
        let boards = by_board
            .iter()
            .map(|one| {
                let least = |other: usize| {
                    let all = one.iter().map(|&a| below[a as usize][other]);
                    all.fold(f64::INFINITY, f64::min)
                };
                (0..by_board.len()).map(least).collect()
            })
            .collect();
        Strange {
            below,
            above,
            boards,
        }
    }
}
