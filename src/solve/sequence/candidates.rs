//! The runs that are worth a look: what each board would lay from a course on, and of that the cheapest for each
//! number of courses.

use super::super::problem::Problem;
use super::board_run::BoardRun;
use super::cutting_order::Use;
use crate::solve::tuning::sequence::{CHOICE, PAIRS, PASSED_BY};
use std::collections::BTreeMap;

/// More boards than this are not looked at: they are kept in a set of bits.
const BOARDS: usize = 128;

/// What boards that begin on some course would lay.
pub struct Candidates {
    /// Runs of which each is the cheapest, or nearly, for some number of courses.
    pub runs: Vec<BoardRun>,
    /// By board and number of courses, those that lay so many the cheapest: where among the runs, and that number.
    pub by_length: Vec<(usize, usize)>,
}

impl Candidates {
    /// Of all boards, from a course on. `to_try` is how many courses and boards there are to try.
    pub fn new(problem: &Problem, boards: &[Vec<u32>], row: usize, to_try: usize) -> Candidates {
        let passed_by = PASSED_BY.iter().find(|(_, most)| to_try <= *most);
        let passed_by = passed_by.map_or(0, |(strips, _)| *strips);
        Candidates::among(runs(problem, boards, row, passed_by))
    }

    /// The cheapest of all; the others are let go.
    fn among(all: Vec<BoardRun>) -> Candidates {
        let mut by_length = cheapest(&all);
        let mut kept: Vec<usize> = by_length.iter().map(|(at, _)| *at).collect();
        kept.sort_unstable();
        kept.dedup();
        for (at, _) in &mut by_length {
            *at = kept.partition_point(|kept| kept < at);
        }
        let all = all.into_iter().enumerate();
        let runs = all.filter(|(at, _)| kept.binary_search(at).is_ok());
        Candidates {
            runs: runs.map(|(_, run)| run).collect(),
            by_length,
        }
    }
}

/// The strips of each board in the order of the saw cuts; none where there are too many boards.
pub fn boards(problem: &Problem) -> Vec<Vec<u32>> {
    let mut boards: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
    for strip in 0..problem.woods.len() as u32 {
        boards.entry(problem.board(strip)).or_default().push(strip);
    }
    boards.retain(|_, strips| strips.len() > 1);
    if boards.len() > BOARDS {
        return Vec::new();
    }
    let in_order = |mut strips: Vec<u32>| {
        strips.sort_by_key(|&strip| problem.woods[strip as usize].seq);
        strips
    };
    boards.into_values().map(in_order).collect()
}

/// What each board would lay from a course on: from either end, the first strips passed by or not, and used up in each
/// way.
fn runs(problem: &Problem, boards: &[Vec<u32>], row: usize, passed_by: usize) -> Vec<BoardRun> {
    let mut found: Vec<BoardRun> = Vec::new();
    for (board, strips) in boards.iter().enumerate() {
        let mut strips = strips.clone();
        let before = found.len();
        for _ in 0..2 {
            for skip in 0..=passed_by.min(strips.len()) {
                let pairs = strips[skip..].chunks_exact(2).map(|two| [two[0], two[1]]);
                let pairs: Vec<[u32; 2]> = pairs.take(PAIRS).collect();
                for how in Use::ALL {
                    let run = BoardRun::new(problem, row, board, pairs.clone(), how);
                    let new = |run: &BoardRun| found[before..].iter().all(|s| s.laid != run.laid);
                    found.extend(run.filter(new));
                }
            }
            strips.reverse();
        }
    }
    found
}

/// For each board and number of courses, the cheapest runs that lay so many, with that number.
fn cheapest(runs: &[BoardRun]) -> Vec<(usize, usize)> {
    let mut all: BTreeMap<(usize, usize), Vec<(f64, usize)>> = BTreeMap::new();
    for (at, run) in runs.iter().enumerate() {
        for (k, cost) in run.cost.iter().enumerate() {
            let least = cost.iter().flatten().copied().fold(f64::INFINITY, f64::min);
            all.entry((run.board, k + 1)).or_default().push((least, at));
        }
    }
    let mut chosen = Vec::new();
    for ((_, length), mut runs) in all {
        runs.sort_by(|a, b| a.0.total_cmp(&b.0));
        chosen.extend(runs.iter().take(CHOICE).map(|&(_, at)| (at, length)));
    }
    chosen
}
