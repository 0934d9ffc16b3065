//! Which board follows which: plans in which each board lays a run of courses, found over whole boards before any
//! strip is decided.
//!
//! Why: a plan is made of boards, and once strips lie on the courses a board only changes places against the
//! resistance of everything around it. Over whole boards there is little enough to decide that thousands of sequences
//! can be followed side by side. What they cost is reckoned exactly, but each board is taken pair by pair in the order
//! of the saw cuts, once, and gives nothing to the runs beside its own: the moves find that later.
//!
//! Source: beam search, after B. T. Lowerre, "The HARPY Speech Recognition System" (1976) (citation from memory). The
//! way round of mates is carried along exactly, as in a dynamic programme.

#[cfg(test)]
mod as_reckoned;
mod board_run;
mod candidates;
mod cutting_order;

use super::draft::Draft;
use super::moves::cut_anew;
use super::problem::Problem;
use super::rng::SearchRng;
use super::start::complete;
use super::state::State;
use super::timber::Timber;
use crate::solve::tuning::sequence::{CLASH, WIDTH, WORK};
use board_run::{BoardRun, Ways, onward, own, steps};
use candidates::{Candidates, boards};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// A sequence of boards up to some course.
#[derive(Clone, Copy)]
struct Node {
    /// The boards in it.
    boards: u128,
    /// Least cost, by the way round of the last course.
    cost: [f64; 2],
    /// The sequence without its last board, in the list of the course where that begins.
    from: usize,
    /// Where the last board begins, which of the runs there, and how many courses it lays.
    first: usize,
    run: usize,
    length: usize,
    /// Stands for the boards that panels begin with.
    heads: u64,
}

impl Node {
    fn least(&self) -> f64 {
        self.cost[0].min(self.cost[1])
    }
}

/// All that was found.
pub struct Sequences<'p> {
    problem: &'p Problem,
    /// For each course, what boards that begin there would lay.
    candidates: Vec<Candidates>,
    /// For each number of courses, the best sequences that cover them.
    nodes: Vec<Vec<Node>>,
}

impl<'p> Sequences<'p> {
    /// Follows sequences from the first course to the last.
    pub fn new(problem: &'p Problem) -> Sequences<'p> {
        let boards = boards(problem);
        let rows = problem.rows.len();
        let to_try = rows * boards.len();
        let all = (0..rows).into_par_iter();
        let mut found = Sequences {
            problem,
            candidates: all
                .map(|row| Candidates::new(problem, &boards, row, to_try))
                .collect(),
            nodes: Vec::new(),
        };
        let width = (WORK / to_try.max(1)).clamp(WIDTH[0], WIDTH[1]);
        found.follow(width);
        found
    }

    fn follow(&mut self, width: usize) {
        let rows = self.problem.rows.len();
        // Of sequences with the same boards, the same one last and the same at the heads of panels, the cheapest.
        let mut ahead: Vec<BTreeMap<(u128, usize, u64), Node>> = vec![BTreeMap::new(); rows + 1];
        let bare = Node {
            boards: 0,
            cost: [0.0; 2],
            from: 0,
            first: 0,
            run: 0,
            length: 0,
            heads: 0,
        };
        ahead[0].insert((0, 0, 0), bare);
        for row in 0..=rows {
            let mut nodes: Vec<Node> = std::mem::take(&mut ahead[row]).into_values().collect();
            nodes.sort_by(|a, b| a.least().total_cmp(&b.least()));
            nodes.truncate(width);
            let each = nodes.par_iter().enumerate().filter(|_| row < rows);
            let onward = each.map(|(from, node)| self.onward(row, from, node).collect());
            let onward: Vec<Vec<Node>> = onward.collect();
            for next in onward.into_iter().flatten() {
                let board = self.candidates[row].runs[next.run].board;
                let slot = ahead[row + next.length]
                    .entry((next.boards, board, next.heads))
                    .or_insert(next);
                if next.least() < slot.least() {
                    *slot = next;
                }
            }
            self.nodes.push(nodes);
        }
    }

    /// The sequence with one more board, each that is left, for each length that it reaches.
    fn onward(&self, row: usize, from: usize, node: &Node) -> impl Iterator<Item = Node> {
        let before = match node.length {
            0 => &[],
            length => &self.candidates[node.first].runs[node.run].laid[..length],
        };
        let Candidates { runs, by_length } = &self.candidates[row];
        let mut entered: Vec<Option<[f64; 2]>> = vec![None; runs.len()];
        let left = by_length
            .iter()
            .filter(|(at, _)| node.boards >> runs[*at].board & 1 == 0);
        left.map(move |&(at, length)| {
            let run = &runs[at];
            let enter = *entered[at].get_or_insert_with(|| {
                let Some(last) = before.last() else {
                    return node.cost;
                };
                let clash = match run.clashes(self.problem, row, before) {
                    true => CLASH * self.problem.weights.joint,
                    false => 0.0,
                };
                let steps = steps(self.problem, row, last, &run.laid[0]);
                onward(node.cost, steps).0.map(|cost| cost + clash)
            });
            Node {
                boards: node.boards | 1 << run.board,
                cost: onward(enter, run.cost[length - 1]).0,
                from,
                first: row,
                run: at,
                length,
                heads: match self.problem.rows[row].before {
                    None => node.heads.wrapping_mul(257) + run.board as u64 + 1,
                    Some(_) => node.heads,
                },
            }
        })
    }

    /// The runs of a sequence with the number of courses that each lays.
    fn runs_of(&self, mut node: Node) -> Vec<(&BoardRun, Node)> {
        let mut found = Vec::new();
        while node.length > 0 {
            found.push((&self.candidates[node.first].runs[node.run], node));
            node = self.nodes[node.first][node.from];
        }
        found.reverse();
        found
    }

    /// The best plans, at most so many, no two of which have the same boards in one order, read from either end. Those
    /// that differ in where one board takes over from another lead to the same plan in the end.
    pub fn plans(
        &self,
        most: usize,
        rng: &mut SearchRng,
        stop: &dyn Fn() -> bool,
    ) -> Vec<State<'p>> {
        let mut seen: BTreeSet<Vec<usize>> = BTreeSet::new();
        let mut plans = Vec::new();
        for node in self.nodes.last().into_iter().flatten() {
            if plans.len() == most {
                break;
            }
            let runs = self.runs_of(*node);
            let order: Vec<usize> = runs.iter().map(|(run, _)| run.board).collect();
            let back = order.iter().rev().copied().collect();
            if seen.insert(order.min(back)) {
                plans.push(self.laid(&runs, rng, stop));
            }
        }
        plans
    }

    fn laid(
        &self,
        runs: &[(&BoardRun, Node)],
        rng: &mut SearchRng,
        stop: &dyn Fn() -> bool,
    ) -> State<'p> {
        let mut state = State::bare(self.problem);
        let mut courses: Vec<Ways> = Vec::new();
        for (run, node) in runs {
            let (first, many) = (node.first, node.length);
            let mut laid = run.laid[..many].to_vec();
            if run.clashes(self.problem, first, &courses) {
                let beside = run.beside(self.problem, first, many, &courses);
                if beside.len() == many {
                    laid = beside;
                }
            }
            courses.extend(laid);
        }
        let ways = ways_round(self.problem, &courses);
        for (row, (course, way)) in courses.iter().zip(ways).enumerate() {
            lay(&mut state, row, &course[way], rng);
        }
        let rows: Vec<usize> = (0..self.problem.rows.len()).collect();
        complete(&mut state, &rows, 0.5, rng, stop);
        state
    }
}

/// The way round of each course with which all of them together cost least.
fn ways_round(problem: &Problem, courses: &[Ways]) -> Vec<usize> {
    let mut cost = [0.0; 2];
    let mut came: Vec<[usize; 2]> = Vec::new();
    for (row, ways) in courses.iter().enumerate() {
        let (onward, from) = match row.checked_sub(1).map(|last| &courses[last]) {
            Some(last) => onward(cost, steps(problem, row, last, ways)),
            None => (cost, [0, 1]),
        };
        let own = own(problem, row, ways);
        cost = [onward[0] + own[0], onward[1] + own[1]];
        came.push(from);
    }
    let mut way = usize::from(cost[1] < cost[0]);
    let mut found: Vec<usize> = Vec::new();
    for from in came.iter().rev() {
        found.push(way);
        way = from[way];
    }
    found.reverse();
    found
}

/// Lays a course as it was cut or, where joints of another board's run are in the way, cut anew from the same wood;
/// leaves it open where that can't be.
fn lay(state: &mut State, row: usize, timber: &Timber, rng: &mut SearchRng) {
    let mut draft = Draft::new(state);
    draft.strip(row);
    let wood = timber.iter().map(|part| part.wood);
    if draft.place_all(row, timber) || cut_anew(&mut draft, row, wood, rng) {
        let change = draft.finish();
        state.make(change);
    }
}
