//! What one board lays from a course on, taken pair by pair in the order of the saw cuts, and what that costs.

use super::super::price;
use super::super::problem::{NONE, Problem};
use super::super::timber::{Part, Timber, swapped};
use super::ribbon::Ribbon;

/// A course's timber as it is, and with its mates the other way round.
pub type Ways = [Timber; 2];

/// A board that begins at some course.
pub struct Spell {
    /// Its number, counted from 0 over the boards that are looked at.
    pub board: usize,
    /// What it lays on the first course, the next, and so on, as far as it reaches.
    pub laid: Vec<Ways>,
    /// For so many courses and one more: the cost by the way round of the first and the last of them.
    pub cost: Vec<[[f64; 2]; 2]>,
}

impl Spell {
    /// The board's pairs laid from course `first` on to the end of its panel, or as far as they reach; `None` where they don't cover even
    /// the first. With `thrifty`, what is left of a pair goes on the next course.
    pub fn new(
        problem: &Problem,
        first: usize,
        board: usize,
        pairs: &[[u32; 2]],
        thrifty: bool,
    ) -> Option<Spell> {
        let mut spell = Spell {
            board,
            laid: Vec::new(),
            cost: Vec::new(),
        };
        let mut ribbon = Ribbon::new(problem, pairs, thrifty);
        let mut lengthwise: Vec<Timber> = Vec::new();
        for row in first..problem.rows.len() {
            if row > first && problem.rows[row].before != Some(row - 1) {
                break;
            }
            let begun = ribbon.begun();
            let near = problem.rows[row].near.iter().copied();
            let near = near.filter(|near| (first..row).contains(near));
            let near: Vec<&Timber> = near.map(|near| &lengthwise[near - first]).collect();
            let Some(timber) = ribbon.cover(row, &near) else {
                break;
            };
            let cuts = problem.weights.cut * (2 * (ribbon.begun() - begun)) as f64;
            spell.add(problem, row, ways(problem, row, &timber), cuts);
            lengthwise.push(timber);
        }
        (!spell.laid.is_empty()).then_some(spell)
    }

    fn add(&mut self, problem: &Problem, row: usize, ways: Ways, cuts: f64) {
        let own = ways.each_ref().map(|timber| {
            cuts + price::matching(problem, row, timber) + price::joints(problem, row, timber)
        });
        let never = f64::INFINITY;
        let mut cost = [[own[0], never], [never, own[1]]];
        if let (Some(last), Some(so_far)) = (self.laid.last(), self.cost.last()) {
            let steps = steps(problem, row, last, &ways);
            for (cost, so_far) in cost.iter_mut().zip(so_far) {
                *cost = onward(*so_far, steps);
                cost[0] += own[0];
                cost[1] += own[1];
            }
        }
        self.laid.push(ways);
        self.cost.push(cost);
    }
}

/// What the seam between a course and the one before it costs, by the way round of each.
pub fn steps(problem: &Problem, row: usize, before: &Ways, here: &Ways) -> [[f64; 2]; 2] {
    let seams = problem.rows[row].seams.iter().map(|s| &problem.seams[*s]);
    let mut steps = [[0.0; 2]; 2];
    for seam in seams.filter(|seam| seam.beside(row) + 1 == row) {
        for (steps, before) in steps.iter_mut().zip(before) {
            for (step, here) in steps.iter_mut().zip(here) {
                *step += price::seam(problem, &seam.look, before, here);
            }
        }
    }
    steps
}

/// The least cost by the way round of a course, from the same for the one before.
pub fn onward(so_far: [f64; 2], steps: [[f64; 2]; 2]) -> [f64; 2] {
    [0, 1].map(|way| (so_far[0] + steps[0][way]).min(so_far[1] + steps[1][way]))
}

fn ways(problem: &Problem, row: usize, timber: &Timber) -> Ways {
    let turn = |turned: bool| {
        let turn = |part: &Part| {
            let mut part = *part;
            if turned {
                part.wood = swapped(part.wood);
            }
            if !problem.rows[row].mirrored {
                part.wood[1] = NONE;
                part.cut[1] = 0;
            }
            if let [end, ..] = problem.bow_ends(row, part.wood) {
                part.bow = [*end; 2];
            }
            part
        };
        timber.iter().map(turn).collect::<Timber>()
    };
    [turn(false), turn(true)]
}
