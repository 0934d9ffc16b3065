//! What one board lays from a course on, taken pair by pair in the order of the saw cuts, and what that costs.

use super::super::price;
use super::super::problem::{NONE, Problem};
use super::super::timber::{Part, Timber, joints, swapped};
use super::cutting_order::{CuttingOrder, Use};
use crate::solve::tuning::sequence::REACH;
use crate::units::Length;

/// A course's timber as it is, and with its mates the other way round.
pub type Ways = [Timber; 2];

/// A board that begins at some course.
pub struct BoardRun {
    /// Its number, counted from 0 over the boards that are looked at.
    pub board: usize,
    /// What it lays on the first course, the next, and so on, as far as it reaches.
    pub laid: Vec<Ways>,
    /// For so many courses and one more: the cost by the way round of the first and the last of them.
    pub cost: Vec<[[f64; 2]; 2]>,
    pairs: Vec<[u32; 2]>,
    how: Use,
}

impl BoardRun {
    /// The board's pairs laid from course `first` on to the end of its panel, or as far as they reach; `None` where
    /// they don't cover even the first.
    pub fn new(
        problem: &Problem,
        first: usize,
        board: usize,
        pairs: Vec<[u32; 2]>,
        how: Use,
    ) -> Option<BoardRun> {
        let mut run = BoardRun {
            board,
            laid: Vec::new(),
            cost: Vec::new(),
            pairs,
            how,
        };
        let many = problem.rows.len() - first;
        for (row, (timber, cuts)) in (first..).zip(run.cut(problem, first, many, &[])) {
            run.add(problem, row, ways(problem, row, &timber), cuts);
        }
        (!run.laid.is_empty()).then_some(run)
    }

    /// The same courses, or as many of them as it reaches, cut anew so that joints keep clear of those of the courses
    /// before, of which the last come last.
    pub fn beside(
        &self,
        problem: &Problem,
        first: usize,
        many: usize,
        before: &[Ways],
    ) -> Vec<Ways> {
        let cut = self.cut(problem, first, many, before);
        let ways = |(row, (timber, _)): (usize, (Timber, f64))| ways(problem, row, &timber);
        (first..).zip(cut).map(ways).collect()
    }

    /// Whether joints of its first courses are too near those of the courses before.
    pub fn clashes(&self, problem: &Problem, first: usize, before: &[Ways]) -> bool {
        let jointed = |ways: &Ways| ways[0].len() > 1;
        if !before.iter().rev().take(REACH).any(jointed) {
            return false;
        }
        let here = (first..).zip(&self.laid).take(REACH);
        here.filter(|(_, ways)| jointed(ways)).any(|(row, ways)| {
            let near = problem.rows[row].near.iter();
            let near = near.filter_map(|&near| before_it(first, near, before));
            let others: Vec<f64> = near.flat_map(|ways| joints(&ways[0])).collect();
            let clear = problem.clear - 1e-6;
            joints(&ways[0]).any(|x| others.iter().any(|other| (x - other).abs() < clear))
        })
    }

    /// At most so many courses, each with what cutting into strips costs there.
    fn cut(
        &self,
        problem: &Problem,
        first: usize,
        many: usize,
        before: &[Ways],
    ) -> Vec<(Timber, f64)> {
        let mut cutting = CuttingOrder::new(problem, &self.pairs, self.how);
        let mut cut: Vec<(Timber, f64)> = Vec::new();
        for row in first..first + many {
            if row > first && problem.rows[row].before != Some(row - 1) {
                break;
            }
            let begun = cutting.begun();
            let near = problem.rows[row].near.iter();
            let near: Vec<&Timber> = near
                .filter_map(|&near| match near.checked_sub(first) {
                    Some(at) => cut.get(at).map(|(timber, _)| timber),
                    None => before_it(first, near, before).map(|ways| &ways[0]),
                })
                .collect();
            let Some(timber) = cutting.cover(row, &near) else {
                break;
            };
            let pairs = f64::from(cutting.begun() - begun);
            let strips = pairs * problem.rows[row].sides() as f64;
            cut.push((timber, problem.weights.cut * strips));
        }
        cut
    }

    fn add(&mut self, problem: &Problem, row: usize, ways: Ways, cuts: f64) {
        let own = own(problem, row, &ways).map(|own| cuts + own);
        let never = f64::INFINITY;
        let mut cost = [[own[0], never], [never, own[1]]];
        if let (Some(last), Some(so_far)) = (self.laid.last(), self.cost.last()) {
            let steps = steps(problem, row, last, &ways);
            for (cost, so_far) in cost.iter_mut().zip(so_far) {
                *cost = onward(*so_far, steps).0;
                cost[0] += own[0];
                cost[1] += own[1];
            }
        }
        self.laid.push(ways);
        self.cost.push(cost);
    }
}

/// A course of those before, by its row.
fn before_it(first: usize, row: usize, before: &[Ways]) -> Option<&Ways> {
    before
        .len()
        .checked_sub(first.checked_sub(row)?)
        .and_then(|at| before.get(at))
}

/// What the seam between a course and the one before it costs, by the way round of each.
pub fn steps(problem: &Problem, row: usize, before: &Ways, here: &Ways) -> [[f64; 2]; 2] {
    let seams = problem.rows[row].seams.iter().map(|s| &problem.seams[*s]);
    let mut steps = [[0.0; 2]; 2];
    for seam in seams.filter(|seam| seam.beside(row) + 1 == row) {
        for (steps, before) in steps.iter_mut().zip(before) {
            for (step, here) in steps.iter_mut().zip(here) {
                *step += price::seam(problem, seam, before, here);
            }
        }
    }
    steps
}

/// What a course costs by itself, by its way round.
pub fn own(problem: &Problem, row: usize, ways: &Ways) -> [f64; 2] {
    ways.each_ref().map(|timber| {
        match timber
            .iter()
            .all(|part| problem.allowed.wood(row, part.wood))
        {
            true => price::own(problem, row, timber),
            false => f64::INFINITY,
        }
    })
}

/// The least cost by the way round of a course, from the same for the one before; and the way round that one has then.
pub fn onward(so_far: [f64; 2], steps: [[f64; 2]; 2]) -> ([f64; 2], [usize; 2]) {
    let cost = |before: usize, way: usize| so_far[before] + steps[before][way];
    let from = [0, 1].map(|way| usize::from(cost(1, way) < cost(0, way)));
    ([cost(from[0], 0), cost(from[1], 1)], from)
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
                part.cut[1] = Length::ZERO;
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
