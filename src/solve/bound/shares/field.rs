//! Courses and seams as far as paths across the boat account for them.

use super::course::{Course, HAIR, Spans, metres, whole};
use super::level::levels;
use super::seam::Seam;
use crate::solve::bound::chain::Chain;
use crate::solve::bound::pairs::Pairs;
use crate::solve::bound::wood::Pieces;
use crate::solve::problem::Problem;
use std::collections::BTreeMap;
use std::ops::Range;

/// Steps that the longest course is cut into, about.
const STEPS: f64 = 32.0;
/// Most costs that are kept for a board. Unit: costs of 8 bytes.
const MOST: usize = 2_000_000;

/// All courses and seams.
pub struct Field {
    /// Length of a step. Unit: metres of boat.
    pub unit: f64,
    /// Courses, neighbours one after the other.
    pub courses: Vec<Course>,
    /// The seam after each course but the last; none where the next one is no neighbour.
    pub seams: Vec<Option<Seam>>,
    /// By board, steps of a pair that it can cover.
    pub wood: Vec<usize>,
    /// By board and course, what it costs a board at least to cover a part.
    pub joints: Vec<Vec<f64>>,
    /// By row, its course.
    pub of_row: Vec<Option<usize>>,
}

impl Field {
    /// The field of chains, each with the stretch of boat that it stands for.
    pub fn new(
        problem: &Problem,
        pairs: &Pairs,
        pieces: &Pieces,
        chains: &[Chain],
        spans: &[(f64, f64)],
    ) -> Field {
        let rows = problem.rows.len();
        let mut on_row: Vec<Spans> = vec![Vec::new(); rows];
        let mut on_seam: BTreeMap<(usize, usize), Spans> = BTreeMap::new();
        for (chain, &span) in chains.iter().zip(spans) {
            for link in &chain.links {
                on_row[link.row].push(span);
            }
            for two in chain.links.windows(2) {
                on_seam
                    .entry((two[0].row, two[1].row))
                    .or_default()
                    .push(span);
            }
        }
        // Of several neighbours on one edge, the one that meets most.
        let mut by_length: Vec<(&(usize, usize), &Spans)> = on_seam.iter().collect();
        by_length.sort_by(|a, b| metres(b.1).total_cmp(&metres(a.1)).then(a.0.cmp(b.0)));
        let (mut next, mut before) = (vec![None; rows], vec![None; rows]);
        for (&(upper, lower), _) in by_length {
            if next[upper].is_none() && before[lower].is_none() {
                next[upper] = Some(lower);
                before[lower] = Some(upper);
            }
        }
        let heads = (0..rows).filter(|&row| before[row].is_none() && !on_row[row].is_empty());
        let order: Vec<usize> = heads
            .flat_map(|head| std::iter::successors(Some(head), |&row| next[row]))
            .collect();
        let longest = order
            .iter()
            .map(|&row| metres(&on_row[row]))
            .fold(0.0, f64::max);
        let unit = unit(longest, problem.clear / 1000.0);
        // More would let mates from two boards off more than half of what they cost.
        let most_step = 0.25 * problem.weights.foster * problem.shortest as f64 / 1e9;
        let steps: Vec<f64> = pairs
            .boards
            .iter()
            .map(|board| (0.5 * least_step(problem, &board.strips)).min(most_step))
            .collect();
        let largest = steps.iter().copied().fold(0.0, f64::max);
        let course = |&row: &usize| Course::new(problem, row, &on_row[row], unit, largest);
        let courses: Vec<Course> = order.iter().map(course).collect();
        let seam = |two: &[Course]| {
            let spans = on_seam.get(&(two[0].row, two[1].row))?;
            (next[two[0].row] == Some(two[1].row)).then(|| Seam::new(problem, two, spans, unit))
        };
        let mut of_row = vec![None; rows];
        for (at, &row) in order.iter().enumerate() {
            of_row[row] = Some(at);
        }
        let stretched = |&row: &usize| problem.rows[row].length as f64 / 1e9 / whole(problem, row);
        let skin = order.iter().map(stretched).fold(f64::INFINITY, f64::min);
        let wood = |strips: &Vec<u32>| {
            let metres: f64 = strips.iter().map(|&s| pieces.metres[s as usize]).sum();
            let steps: usize = courses.iter().map(|course| course.units + 1).sum();
            ((metres / (2.0 * skin * unit) + HAIR) as usize).min(steps)
        };
        let field = Field {
            unit,
            seams: courses.windows(2).map(seam).collect(),
            wood: pairs
                .boards
                .iter()
                .map(|board| wood(&board.strips))
                .collect(),
            joints: steps
                .iter()
                .map(|step| courses.iter().map(|course| step * course.step).collect())
                .collect(),
            courses,
            of_row,
        };
        let levels: usize = field.courses.iter().map(levels).sum();
        let most = field.wood.iter().max().map_or(0, |wood| wood + 1);
        match levels * most > MOST {
            true => Field::none(rows),
            false => field,
        }
    }

    /// A field of no courses.
    fn none(rows: usize) -> Field {
        Field {
            unit: 1.0,
            courses: Vec::new(),
            seams: Vec::new(),
            wood: Vec::new(),
            joints: Vec::new(),
            of_row: vec![None; rows],
        }
    }

    /// Courses that hang together by seams.
    pub fn stretches(&self) -> Vec<Range<usize>> {
        let mut all = Vec::new();
        let mut from = 0;
        for to in 1..=self.courses.len() {
            if self.seams.get(to - 1).is_none_or(Option::is_none) {
                all.push(from..to);
                from = to;
            }
        }
        all
    }

    /// Whether some board has wood enough for all of these courses.
    pub fn fits_one(&self, courses: &Range<usize>) -> bool {
        let steps: usize = self.courses[courses.clone()].iter().map(|c| c.units).sum();
        self.wood.iter().any(|&wood| wood >= steps)
    }

    /// The seam between two rows, where it is one of the field.
    pub fn seam_between(&self, upper: usize, lower: usize) -> Option<usize> {
        let (upper, lower) = (self.of_row[upper]?, self.of_row[lower]?);
        (upper + 1 == lower && self.seams[upper].is_some()).then_some(upper)
    }
}

/// Least difference in colour between a strip of a board and one of another.
fn least_step(problem: &Problem, strips: &[u32]) -> f64 {
    let others =
        |a: u32| (0..problem.woods.len() as u32).filter(move |&b| !problem.one_board(a, b));
    let steps = strips
        .iter()
        .flat_map(|&a| others(a).map(move |b| problem.difference(a, b)));
    steps.reduce(f64::min).unwrap_or(0.0)
}

/// The length of a step: such that joints are a whole number of steps apart, where they are more than one.
fn unit(longest: f64, clear: f64) -> f64 {
    let unit = (longest / STEPS).max(1e-6);
    match clear > unit {
        true => clear / (clear / unit).floor(),
        false => unit,
    }
}
