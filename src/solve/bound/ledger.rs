//! What a look at paths goes by: the prices of strips, and what of boards is remembered; and the cheapest path that was seen.

use super::chain::Chain;
use super::labels::Terms;
use super::ladder::Descent;
use super::memory::Memory;
use super::pairs::Pairs;
use super::prices::Prices;
use crate::solve::problem::{NONE, Problem};

/// Boards, most like it, that a board remembers at first where memories grow: in a job of few boards, and in one of many.
const NEAR: [usize; 2] = [9, 3];
/// More boards than this are many.
const FEW_BOARDS: usize = 12;

/// What paths remember.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Rungs {
    /// Only the pair before.
    None,
    /// The board that they are in.
    Runs,
    /// Besides, the board most like it.
    Near,
    /// All that is worth remembering.
    All,
}

/// Prices, memories, and a path.
pub struct Ledger<'a> {
    /// The problem.
    pub problem: &'a Problem,
    /// Its pairs.
    pub pairs: Pairs,
    /// Prices on the use of strips.
    pub prices: Prices,
    /// Within boards, and with the board most like each.
    runs: Memory,
    near: Memory,
    /// All that is worth remembering.
    memory: Memory,
    /// What could lie on each course of the cheapest path found last, by row.
    pub path: Option<Vec<Vec<[u32; 2]>>>,
}

impl<'a> Ledger<'a> {
    /// Nothing seen yet, and every strip for nothing.
    pub fn new(problem: &'a Problem, pairs: Pairs) -> Ledger<'a> {
        let many = pairs.boards.len() > FEW_BOARDS;
        Ledger {
            problem,
            prices: Prices::none(&pairs, vec![1.0; problem.woods.len()]),
            runs: Memory::of_near(&pairs, 0),
            near: Memory::of_near(&pairs, 1),
            memory: Memory::of_near(&pairs, NEAR[usize::from(many)]),
            pairs,
            path: None,
        }
    }

    /// Whether the path of a look at this rung may be a plan, or nearly one.
    pub fn keeps_path(&self, rungs: Rungs) -> bool {
        rungs == Rungs::All || rungs == Rungs::Near && self.has_many_boards()
    }

    /// Whether the job has many boards.
    pub fn has_many_boards(&self) -> bool {
        self.pairs.boards.len() > FEW_BOARDS
    }

    /// What paths remember on each rung up to one.
    pub fn memories(&self, rungs: Rungs) -> Vec<&Memory> {
        match rungs {
            Rungs::None => Vec::new(),
            Rungs::Runs => vec![&self.runs],
            Rungs::Near => vec![&self.runs, &self.near],
            Rungs::All => vec![&self.runs, &self.near, &self.memory],
        }
    }

    /// What a look goes by.
    pub fn terms(&self) -> Terms<'_> {
        Terms {
            problem: self.problem,
            pairs: &self.pairs,
            prices: &self.prices,
            memory: &self.memory,
        }
    }

    /// Remembers more where a path comes back to strips that it has taken; `false` where there was nothing to learn.
    pub fn learn(&mut self, chains: &[Chain], paths: &[Descent]) -> bool {
        let mut learned = false;
        for (chain, descent) in chains.iter().zip(paths) {
            learned |= self.memory.learn(&self.pairs, chain, &descent.path);
        }
        learned
    }

    /// Notes what could lie on each row on these paths; every strip once.
    pub fn note(&mut self, chains: &[Chain], paths: &[Descent]) {
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
        self.path = Some(rows);
    }
}
