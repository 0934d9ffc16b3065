//! Which board follows which: plans in which each board lays a run of courses, found over whole boards before any strip is decided.
//!
//! Why: a plan is made of boards, and once strips lie on the courses a board only changes places against the resistance of everything
//! around it. Over whole boards there is little enough to decide that thousands of sequences can be followed side by side. What they cost is
//! reckoned exactly, but each board is taken pair by pair in the order of the saw cuts, once, and gives nothing to the runs
//! beside its own: the moves find that later.
//!
//! Source: beam search, after B. T. Lowerre, "The HARPY Speech Recognition System" (1976) (citation from memory). The way round of mates
//! is carried along exactly, as in a dynamic programme.

#[cfg(test)]
mod as_reckoned;
mod ribbon;
mod spell;

use super::draft::Draft;
use super::moves::{Dice, cut_anew};
use super::problem::Problem;
use super::start::complete;
use super::state::State;
use super::timber::Timber;
use rayon::prelude::*;
use ribbon::Use;
use spell::{Spell, Ways, onward, own, steps};
use std::collections::BTreeMap;

/// Sequences that are followed at each course, at most and at least.
const WIDTH: [usize; 2] = [20, 300];
/// What is shared out to all courses and boards: sequences times courses times boards.
const WORK: usize = 180_000;
/// Most strips of a board that are passed by before its first pair; and where there are more than so many courses and boards to try.
const PASSED_BY: [(usize, usize); 2] = [(4, 2_000), (1, usize::MAX)];
/// Most pairs of a board.
const PAIRS: usize = 64;
/// What joints too near to each other are charged where one board takes over from another, in joints: they may be slid apart.
const CLASH: f64 = 4.0;
/// Spells of a board that lay the same courses, of which sequences may choose.
const CHOICE: usize = 6;
/// More boards than this are not looked at: they are kept in a set of bits.
const BOARDS: usize = 128;

/// A sequence of boards up to some course.
#[derive(Clone, Copy)]
struct Node {
    /// The boards in it.
    boards: u128,
    /// Least cost, by the way round of the last course.
    cost: [f64; 2],
    /// The sequence without its last board, in the list of the course where that begins.
    from: usize,
    /// Where the last board begins, which of the spells there, and how many courses it lays.
    first: usize,
    spell: usize,
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
    spells: Vec<Vec<Spell>>,
    /// For each course, which of them are worth a look, and for how many courses.
    choice: Vec<Vec<(usize, usize)>>,
    /// For each number of courses, the best sequences that cover them.
    nodes: Vec<Vec<Node>>,
}

impl<'p> Sequences<'p> {
    /// Follows sequences from the first course to the last.
    pub fn new(problem: &'p Problem) -> Sequences<'p> {
        let boards = boards(problem);
        let rows = problem.rows.len();
        let to_try = rows * boards.len();
        let passed_by = PASSED_BY.iter().find(|(_, most)| to_try <= *most);
        let passed_by = passed_by.map_or(0, |(strips, _)| *strips);
        let all = (0..rows).into_par_iter();
        let spells: Vec<Vec<Spell>> = all
            .map(|row| spells(problem, &boards, row, passed_by))
            .collect();
        let mut found = Sequences {
            problem,
            choice: spells.iter().map(|spells| choice(spells)).collect(),
            spells,
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
            spell: 0,
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
                let board = self.spells[row][next.spell].board;
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
            length => &self.spells[node.first][node.spell].laid[..length],
        };
        let mut entered: Vec<Option<[f64; 2]>> = vec![None; self.spells[row].len()];
        let choice = self.choice[row].iter();
        let left =
            choice.filter(move |(at, _)| node.boards >> self.spells[row][*at].board & 1 == 0);
        left.map(move |&(at, length)| {
            let spell = &self.spells[row][at];
            let enter = *entered[at].get_or_insert_with(|| {
                let Some(last) = before.last() else {
                    return node.cost;
                };
                let clash = match spell.clashes(self.problem, row, before) {
                    true => CLASH * self.problem.weights.joint,
                    false => 0.0,
                };
                let steps = steps(self.problem, row, last, &spell.laid[0]);
                onward(node.cost, steps).0.map(|cost| cost + clash)
            });
            Node {
                boards: node.boards | 1 << spell.board,
                cost: onward(enter, spell.cost[length - 1]).0,
                from,
                first: row,
                spell: at,
                length,
                heads: match self.problem.rows[row].before {
                    None => node.heads.wrapping_mul(257) + spell.board as u64 + 1,
                    Some(_) => node.heads,
                },
            }
        })
    }

    /// The spells of a sequence with the number of courses that each lays.
    fn spells_of(&self, mut node: Node) -> Vec<(&Spell, Node)> {
        let mut found = Vec::new();
        while node.length > 0 {
            found.push((&self.spells[node.first][node.spell], node));
            node = self.nodes[node.first][node.from];
        }
        found.reverse();
        found
    }

    /// The best plans, at most so many, no two of which begin all panels with the same boards: those that only end otherwise lead to the
    /// same plan in the end.
    pub fn plans(&self, most: usize, dice: &mut Dice, stop: &dyn Fn() -> bool) -> Vec<State<'p>> {
        let mut seen: Vec<u64> = Vec::new();
        let mut plans = Vec::new();
        for node in self.nodes.last().into_iter().flatten() {
            if plans.len() == most {
                break;
            }
            if !seen.contains(&node.heads) {
                seen.push(node.heads);
                plans.push(self.laid(&self.spells_of(*node), dice, stop));
            }
        }
        plans
    }

    fn laid(
        &self,
        spells: &[(&Spell, Node)],
        dice: &mut Dice,
        stop: &dyn Fn() -> bool,
    ) -> State<'p> {
        let mut state = State::bare(self.problem);
        let mut courses: Vec<Ways> = Vec::new();
        for (spell, node) in spells {
            let (first, many) = (node.first, node.length);
            let mut laid = spell.laid[..many].to_vec();
            if spell.clashes(self.problem, first, &courses) {
                let beside = spell.beside(self.problem, first, many, &courses);
                if beside.len() == many {
                    laid = beside;
                }
            }
            courses.extend(laid);
        }
        let ways = ways_round(self.problem, &courses);
        for (row, (course, way)) in courses.iter().zip(ways).enumerate() {
            lay(&mut state, row, &course[way], dice);
        }
        let rows: Vec<usize> = (0..self.problem.rows.len()).collect();
        complete(&mut state, &rows, 0.5, dice, stop);
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

/// Lays a course as it was cut or, where joints of another board's run are in the way, cut anew from the same wood; leaves it open where that
/// can't be.
fn lay(state: &mut State, row: usize, timber: &Timber, dice: &mut Dice) {
    let mut draft = Draft::new(state);
    draft.strip(row);
    let mut laid = draft.place_all(row, timber);
    if !laid {
        draft = Draft::new(state);
        draft.strip(row);
        laid = cut_anew(&mut draft, row, timber.iter().map(|part| part.wood), dice);
    }
    if laid {
        let change = draft.finish();
        state.make(change);
    }
}

/// The strips of each board in the order of the saw cuts; none where there are too many boards.
fn boards(problem: &Problem) -> Vec<Vec<u32>> {
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

/// Of the spells that begin at a course, with the number of courses that each lays: for each board and number, the cheapest.
fn choice(spells: &[Spell]) -> Vec<(usize, usize)> {
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
