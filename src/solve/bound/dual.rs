//! The dual state: prices of strips and ng-neighbourhoods; and the cheapest path that was seen.

use super::layers::LayeredGraph;
use super::ng::Neighbourhoods;
use super::pairs::Pairs;
use super::prices::Prices;
use super::register::Patterns;
use super::sharing::Sharing;
use crate::solve::problem::{NONE, Problem};
use crate::solve::tuning::dual::{FEW_BOARDS, NEAREST};
use std::collections::BTreeMap;
use std::sync::Mutex;

/// Increasing ng-neighbourhoods: what paths remember of boards, pass by pass.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Level {
    /// Only the board that they are in.
    Own,
    /// Besides, the board most like it.
    Nearest,
    /// All that is worth remembering, and all ways to lay the short courses of the tail are gone through.
    Ways,
}

/// Prices, neighbourhoods, and a path.
pub struct DualState<'a> {
    /// The problem.
    pub problem: &'a Problem,
    /// Its pairs.
    pub pairs: Pairs,
    /// Which courses could be cut from one strip.
    pub sharing: Sharing,
    /// Prices on the use of strips.
    pub prices: Prices,
    /// By level.
    neighbourhoods: [Neighbourhoods; 3],
    /// What is known of figure out of register, which no prices change, by the rows of courses beside each other.
    patterns: Mutex<BTreeMap<Vec<usize>, Patterns>>,
    /// What could lie on each course of the cheapest path found last, by row.
    pub path: Option<Vec<Vec<[u32; 2]>>>,
}

impl<'a> DualState<'a> {
    /// Nothing seen yet, and every strip for nothing.
    pub fn new(problem: &'a Problem, pairs: Pairs, sharing: Sharing) -> DualState<'a> {
        let many = pairs.boards.len() > FEW_BOARDS;
        // Strips of two boards count on the last level alone: on the others that took more time than it was worth.
        let last =
            Neighbourhoods::of_nearest(&pairs, NEAREST[usize::from(many)], sharing.any_short);
        DualState {
            problem,
            prices: Prices::none(&sharing, problem.woods.len(), problem.weights.cut),
            neighbourhoods: [
                Neighbourhoods::of_nearest(&pairs, 0, false),
                Neighbourhoods::of_nearest(&pairs, 1, false),
                last,
            ],
            pairs,
            sharing,
            patterns: Mutex::default(),
            path: None,
        }
    }

    /// What is known of figure out of register on some rows.
    pub fn known_patterns(&self, rows: &[usize]) -> Option<Patterns> {
        self.patterns.lock().ok()?.remove(rows)
    }

    /// Keeps that for the next time.
    pub fn keep_patterns(&self, rows: &[usize], patterns: Patterns) {
        if let Ok(mut all) = self.patterns.lock() {
            all.insert(rows.to_vec(), patterns);
        }
    }

    /// Whether a path of this level may be a plan, or nearly one.
    pub fn keeps_path(&self, level: Level) -> bool {
        level == Level::Ways || level == Level::Nearest && self.has_many_boards()
    }

    /// Whether the job has many boards.
    pub fn has_many_boards(&self) -> bool {
        self.pairs.boards.len() > FEW_BOARDS
    }

    /// What paths remember of boards on the last pass of a level.
    pub fn neighbourhoods(&self, level: Level) -> &Neighbourhoods {
        &self.neighbourhoods[level as usize]
    }

    /// What paths remember of boards in each pass of a level after the first, up to where all ways to lay short courses
    /// are gone through.
    pub fn passes(&self, level: Level, has_tails: bool) -> Vec<&Neighbourhoods> {
        let [_, nearest, all] = &self.neighbourhoods;
        match (level, has_tails) {
            (Level::Own, _) => vec![],
            (Level::Nearest, _) => vec![nearest],
            (Level::Ways, false) => vec![nearest, all],
            // The last one comes from the long courses, and finds what they leave at least.
            (Level::Ways, true) => vec![nearest, nearest, all],
        }
    }

    /// Remembers more where a path comes back to strips that it has taken; `false` where there was nothing to learn.
    pub fn learn(&mut self, graph: &LayeredGraph, path: &[usize]) -> bool {
        self.neighbourhoods[Level::Ways as usize].learn(&self.pairs, graph, path)
    }

    /// Keeps what this path, by its nodes, lays on each course as a partial plan: of several courses that don't fit on
    /// a strip together the first keeps it.
    pub fn note(&mut self, graph: &LayeredGraph, path: &[usize]) {
        let mut rows = vec![Vec::new(); self.problem.rows.len()];
        let mut taken = vec![Vec::new(); self.problem.woods.len()];
        let steps = || {
            let steps = graph.layers.iter().zip(path);
            steps.map(|(layer, &at)| (layer.row, &self.pairs.all[layer.nodes[at].pair as usize]))
        };
        for (row, pair) in steps().filter(|(_, pair)| pair.wood[0] != NONE) {
            let strips = pair.strips();
            let has_room = |strip: u32| {
                let with: Vec<usize> = [&taken[strip as usize][..], &[row]].concat();
                with.len() == 1 || self.sharing.any_short && self.sharing.fit(&with, strip)
            };
            if strips.clone().all(has_room) {
                strips.for_each(|strip| taken[strip as usize].push(row));
                rows[row] = vec![pair.wood];
            }
        }
        for (row, pair) in steps().filter(|(_, pair)| pair.wood[0] == NONE) {
            let [one, other] = pair.sides.map(|board| {
                let left = |strip: &u32| taken[*strip as usize].is_empty();
                let strips = self.pairs.boards[board].strips.iter().copied();
                strips.filter(left).collect::<Vec<u32>>()
            });
            let all = one.iter().flat_map(|&a| other.iter().map(move |&b| [a, b]));
            rows[row] = all.collect();
        }
        self.path = Some(rows);
    }
}
