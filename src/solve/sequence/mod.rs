//! Which board follows which: plans in which each board lays a run of courses, found over whole boards before any strip is decided.
//!
//! Why: a plan is made of boards, and once strips lie on the courses a board only changes places against the resistance of everything
//! around it. Over whole boards there is little enough to decide that thousands of sequences can be followed side by side. What they cost is
//! reckoned exactly, but each board is taken pair by pair in the order of the saw cuts, once, and gives nothing to the runs
//! beside its own: the moves find that later.
//!
//! Source: beam search, after B. T. Lowerre, "The HARPY Speech Recognition System" (1976) (citation from memory). The way round of mates
//! is carried along exactly, as in a dynamic programme.

mod ribbon;
mod spell;

use super::draft::Draft;
use super::moves::Dice;
use super::problem::Problem;
use super::start::complete;
use super::state::State;
use super::timber::Timber;
use spell::{Spell, onward, steps};
use std::collections::BTreeMap;

/// Sequences that are followed at each course, at most and at least.
const WIDTH: [usize; 2] = [20, 300];
/// What is shared out to all courses and boards: sequences times courses times boards.
const WORK: usize = 180_000;
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
    /// For each number of courses, the best sequences that cover them.
    nodes: Vec<Vec<Node>>,
}

impl<'p> Sequences<'p> {
    /// Follows sequences from the first course to the last.
    pub fn new(problem: &'p Problem) -> Sequences<'p> {
        let boards = boards(problem);
        let rows = problem.rows.len();
        let mut found = Sequences {
            problem,
            spells: (0..rows).map(|row| spells(problem, &boards, row)).collect(),
            nodes: Vec::new(),
        };
        let width = (WORK / (rows * boards.len()).max(1)).clamp(WIDTH[0], WIDTH[1]);
        found.follow(width);
        found
    }

    fn follow(&mut self, width: usize) {
        let rows = self.problem.rows.len();
        // Of sequences with the same boards and the same one last, the cheapest.
        let mut ahead: Vec<BTreeMap<(u128, usize), Node>> = vec![BTreeMap::new(); rows + 1];
        let bare = Node {
            boards: 0,
            cost: [0.0; 2],
            from: 0,
            first: 0,
            spell: 0,
            length: 0,
        };
        ahead[0].insert((0, 0), bare);
        for row in 0..=rows {
            let mut nodes: Vec<Node> = std::mem::take(&mut ahead[row]).into_values().collect();
            nodes.sort_by(|a, b| a.least().total_cmp(&b.least()));
            nodes.truncate(width);
            for (from, node) in nodes.iter().enumerate().filter(|_| row < rows) {
                for next in self.onward(row, from, node) {
                    let board = self.spells[row][next.spell].board;
                    let slot = ahead[row + next.length]
                        .entry((next.boards, board))
                        .or_insert(next);
                    if next.least() < slot.least() {
                        *slot = next;
                    }
                }
            }
            self.nodes.push(nodes);
        }
    }

    /// The sequence with one more board, each that is left, for each length that it reaches.
    fn onward(&self, row: usize, from: usize, node: &Node) -> impl Iterator<Item = Node> {
        let last = (node.length > 0).then(|| {
            let last = &self.spells[node.first][node.spell];
            &last.laid[node.length - 1]
        });
        let left = move |(_, spell): &(usize, &Spell)| node.boards >> spell.board & 1 == 0;
        let spells = self.spells[row].iter().enumerate().filter(left);
        spells.flat_map(move |(at, spell)| {
            let enter = last.map_or(node.cost, |last| {
                onward(node.cost, steps(self.problem, row, last, &spell.laid[0]))
            });
            let boards = node.boards | 1 << spell.board;
            spell.cost.iter().enumerate().map(move |(k, cost)| Node {
                boards,
                cost: onward(enter, *cost),
                from,
                first: row,
                spell: at,
                length: k + 1,
            })
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

    /// The best plans, at most so many, no two with the same boards in the same order.
    pub fn plans(&self, most: usize, dice: &mut Dice, stop: &dyn Fn() -> bool) -> Vec<State<'p>> {
        let mut seen: Vec<Vec<usize>> = Vec::new();
        let mut plans = Vec::new();
        for node in self.nodes.last().into_iter().flatten() {
            if plans.len() == most {
                break;
            }
            let spells = self.spells_of(*node);
            let boards = spells.iter().map(|(spell, _)| spell.board).collect();
            if !seen.contains(&boards) {
                seen.push(boards);
                plans.push(self.laid(&spells, dice, stop));
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
        for (spell, node) in spells {
            for (row, ways) in (node.first..).zip(&spell.laid[..node.length]) {
                lay(&mut state, row, ways);
            }
        }
        let rows: Vec<usize> = (0..self.problem.rows.len()).collect();
        complete(&mut state, &rows, 0.5, dice, stop);
        state
    }
}

/// Lays a course the way round that costs less; leaves it open where joints of another board's run are in the way.
fn lay(state: &mut State, row: usize, ways: &[Timber; 2]) {
    let changes = ways.iter().filter_map(|timber| {
        let mut draft = Draft::new(state);
        draft.strip(row);
        draft.place_all(row, timber).then(|| draft.finish())
    });
    let priced = changes.map(|change| (state.price(&change), change));
    let best = priced.min_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((_, change)) = best {
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

/// What each board would lay from a course on: from either end, paired from its first strip or its second, thriftily or not.
fn spells(problem: &Problem, boards: &[Vec<u32>], row: usize) -> Vec<Spell> {
    let mut found: Vec<Spell> = Vec::new();
    for (board, strips) in boards.iter().enumerate() {
        for skip in 0..2 {
            let pairs = strips[skip..].chunks_exact(2).map(|two| [two[0], two[1]]);
            let mut pairs: Vec<[u32; 2]> = pairs.collect();
            for _ in 0..2 {
                let whole = Spell::new(problem, row, board, &pairs, false);
                let thrifty = Spell::new(problem, row, board, &pairs, true);
                let other = |thrifty: &Spell| {
                    whole
                        .as_ref()
                        .is_none_or(|whole| whole.laid != thrifty.laid)
                };
                let thrifty = thrifty.filter(other);
                found.extend(whole.into_iter().chain(thrifty));
                pairs.reverse();
            }
        }
    }
    found
}
