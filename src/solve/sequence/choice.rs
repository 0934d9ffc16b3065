//! The spells that are worth a look: what each board would lay from a course on, and of that the cheapest for each number of courses.

use super::super::problem::Problem;
use super::ribbon::Use;
use super::spell::Spell;
use std::collections::BTreeMap;

/// Most strips of a board that are passed by before its first pair; and where there are more than so many courses and boards to try.
const PASSED_BY: [(usize, usize); 2] = [(4, 2_000), (1, usize::MAX)];
/// Most pairs of a board.
const PAIRS: usize = 64;
/// Spells of a board that lay the same courses, of which sequences may choose.
const CHOICE: usize = 6;
/// More boards than this are not looked at: they are kept in a set of bits.
const BOARDS: usize = 128;

/// What boards that begin on some course would lay.
pub struct Choice {
    /// Spells of which each is the cheapest, or nearly, for some number of courses.
    pub spells: Vec<Spell>,
    /// By board and number of courses, those that lay so many the cheapest: where among the spells, and that number.
    pub runs: Vec<(usize, usize)>,
}

impl Choice {
    /// Of all boards, from a course on. `to_try` is how many courses and boards there are to try.
    pub fn new(problem: &Problem, boards: &[Vec<u32>], row: usize, to_try: usize) -> Choice {
        let passed_by = PASSED_BY.iter().find(|(_, most)| to_try <= *most);
        let passed_by = passed_by.map_or(0, |(strips, _)| *strips);
        Choice::among(spells(problem, boards, row, passed_by))
    }

    /// The cheapest of all; the others are let go.
    fn among(all: Vec<Spell>) -> Choice {
        let mut runs = cheapest(&all);
        let mut kept: Vec<usize> = runs.iter().map(|(at, _)| *at).collect();
        kept.sort_unstable();
        kept.dedup();
        for (at, _) in &mut runs {
            *at = kept.partition_point(|kept| kept < at);
        }
        let all = all.into_iter().enumerate();
        let spells = all.filter(|(at, _)| kept.binary_search(at).is_ok());
        Choice {
            spells: spells.map(|(_, spell)| spell).collect(),
            runs,
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

/// What each board would lay from a course on: from either end, the first strips passed by or not, and used up in each way.
fn spells(problem: &Problem, boards: &[Vec<u32>], row: usize, passed_by: usize) -> Vec<Spell> {
    let mut found: Vec<Spell> = Vec::new();
    for (board, strips) in boards.iter().enumerate() {
        let mut strips = strips.clone();
        let before = found.len();
        for _ in 0..2 {
            for skip in 0..=passed_by.min(strips.len()) {
                let pairs = strips[skip..].chunks_exact(2).map(|two| [two[0], two[1]]);
                let pairs: Vec<[u32; 2]> = pairs.take(PAIRS).collect();
                for how in Use::ALL {
                    let spell = Spell::new(problem, row, board, pairs.clone(), how);
                    let new = |spell: &Spell| found[before..].iter().all(|s| s.laid != spell.laid);
                    found.extend(spell.filter(new));
                }
            }
            strips.reverse();
        }
    }
    found
}

/// For each board and number of courses, the cheapest spells that lay so many, with that number.
fn cheapest(spells: &[Spell]) -> Vec<(usize, usize)> {
    let mut all: BTreeMap<(usize, usize), Vec<(f64, usize)>> = BTreeMap::new();
    for (at, spell) in spells.iter().enumerate() {
        for (k, cost) in spell.cost.iter().enumerate() {
            let least = cost.iter().flatten().copied().fold(f64::INFINITY, f64::min);
            all.entry((spell.board, k + 1))
                .or_default()
                .push((least, at));
        }
    }
    let mut chosen = Vec::new();
    for ((_, length), mut spells) in all {
        spells.sort_by(|a, b| a.0.total_cmp(&b.0));
        chosen.extend(spells.iter().take(CHOICE).map(|&(_, at)| (at, length)));
    }
    chosen
}
