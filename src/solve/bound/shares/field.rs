//! Courses and seams as far as paths across the boat account for them.

use crate::solve::bound::chain::Chain;
use crate::solve::bound::pairs::Pairs;
use crate::solve::bound::wood::{Pieces, least_weight};
use crate::solve::problem::Problem;
use std::collections::BTreeMap;
use std::ops::Range;

/// Steps that the longest course is cut into, about.
const STEPS: f64 = 32.0;
/// Most costs that are kept for a board. Unit: costs of 8 bytes.
const MOST: usize = 2_000_000;

/// Hair that rounding may be off by, in steps.
const HAIR: f64 = 1e-9;

/// A course.
pub struct Course {
    /// Its row.
    pub row: usize,
    /// Whether it takes pairs.
    pub mirrored: bool,
    /// Least weight of what shows along it.
    pub weight: f64,
    /// What a step of colour at a joint counts at least.
    step: f64,
    /// What a metre of mates from two boards is let off, because boards that they meet in a joint are charged a step in colour that need not be
    /// there. Unit: ΔE00.
    pub strange: f64,
    /// Metres of boat accounted for.
    pub metres: f64,
    /// The same in whole steps.
    pub units: usize,
    /// Least and most steps that a board can cover of it that does not cover all; the least above the most where that can't be.
    pub parts: (usize, usize),
    /// For each of these, whether it can be one end of the course, cut off at one joint.
    pub ends: Vec<bool>,
}

/// A seam between one course and the next.
pub struct Seam {
    /// Metres of boat accounted for.
    pub metres: f64,
    /// The same in whole steps.
    pub units: usize,
    /// Steps of each of the two courses that lie beyond the seam at most.
    pub beyond: [usize; 2],
    /// Steps of edge that a board has at least where it covers part of the one course, and of the other.
    pub stagger: [usize; 2],
    /// The same where it has two ends in that course.
    pub both: [usize; 2],
}

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

/// Where slices lie that have something in common. Unit: mm.
type Spans = Vec<(f64, f64)>;

fn metres(spans: &Spans) -> f64 {
    spans.iter().map(|(from, to)| to - from).sum::<f64>() / 1000.0
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
        let course = |&row: &usize| course(problem, row, &on_row[row], unit, largest);
        let courses: Vec<Course> = order.iter().map(course).collect();
        let seam = |two: &[Course]| {
            let spans = on_seam.get(&(two[0].row, two[1].row))?;
            (next[two[0].row] == Some(two[1].row)).then(|| seam(problem, two, spans, unit))
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
        let levels: usize = field
            .courses
            .iter()
            .map(|course| 2 + 2 * course.ends.len())
            .sum();
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

/// Metres of boat between the ends of a course.
fn whole(problem: &Problem, row: usize) -> f64 {
    let r = &problem.rows[row];
    ((r.x(r.length) - r.x(0)) / 1000.0).max(1e-9)
}

/// The shortest that a piece can be where there are several. Unit: metres of boat.
fn shortest(problem: &Problem, row: usize) -> f64 {
    problem.shortest as f64 * whole(problem, row) / problem.rows[row].length.max(1) as f64
}

fn course(problem: &Problem, row: usize, spans: &Spans, unit: f64, largest_step: f64) -> Course {
    let r = &problem.rows[row];
    let metres = metres(spans);
    // A piece may lie where nothing is accounted for.
    let least = (shortest(problem, row) - (whole(problem, row) - metres).max(0.0)).max(0.0);
    let parts = match r.joint_windows.is_empty() {
        true => (1, 0),
        false => (
            (least / unit + HAIR) as usize,
            ((metres - least).max(0.0) / unit - HAIR).ceil() as usize,
        ),
    };
    let beyond = (whole(problem, row) - metres).max(0.0);
    // Ends of all lengths that a joint allows, from bow or stern; some of an end may lie where nothing is accounted for.
    let windows = r.joint_windows.iter().flat_map(|&(a, b)| {
        [
            (r.x(a) - r.x(0), r.x(b) - r.x(0)),
            (r.x(r.length) - r.x(b), r.x(r.length) - r.x(a)),
        ]
    });
    let windows: Vec<(usize, usize)> = windows
        .map(|(a, b)| {
            let least = (a / 1000.0 - beyond).max(0.0) / unit + HAIR;
            let most = (b / 1000.0).max(0.0) / unit - HAIR;
            (least as usize, most.max(0.0).ceil() as usize)
        })
        .collect();
    // A piece of mates from two boards has two joints at most, and this much of it at least is accounted for.
    let weight = least_weight(problem, row);
    // Where that is little, the step is charged in part, so that they are never let off more than half of what they cost.
    let let_off = 2.0 * largest_step / least.max(HAIR);
    let part = match r.joint_windows.is_empty() {
        true => 0.0,
        false => (0.5 * problem.weights.foster / let_off.max(HAIR)).min(1.0),
    };
    let (step, strange) = (part * weight, part * let_off * weight);
    let is_end = |k: usize| windows.iter().any(|(a, b)| (*a..=*b).contains(&k));
    Course {
        weight,
        step,
        strange,
        ends: (parts.0..=parts.1).map(is_end).collect(),
        row,
        mirrored: r.mirrored,
        metres,
        units: (metres / unit + HAIR) as usize,
        parts,
    }
}

fn seam(problem: &Problem, two: &[Course], spans: &Spans, unit: f64) -> Seam {
    let metres = metres(spans);
    let beyond =
        |course: &Course| ((course.metres - metres).max(0.0) / unit - HAIR).ceil() as usize;
    let stagger_of = |one: &Course, other: &Course| {
        (stagger(problem, one.row, other.row, spans, false) / unit + HAIR) as usize
    };
    let both = |one: &Course, other: &Course| {
        let two = stagger(problem, one.row, other.row, spans, true) / unit + HAIR;
        (two as usize).max(stagger_of(one, other))
    };
    Seam {
        metres,
        units: (metres / unit + HAIR) as usize,
        beyond: [beyond(&two[0]), beyond(&two[1])],
        stagger: [stagger_of(&two[0], &two[1]), stagger_of(&two[1], &two[0])],
        both: [both(&two[0], &two[1]), both(&two[1], &two[0])],
    }
}

/// Metres of a seam along which two boards that meet in a joint of one course can't both lie beside their own at least.
///
/// Beside the joint and `clear` to both sides of it the other course has no joint, so one piece; at most one of the two boards is its own.
fn stagger(problem: &Problem, row: usize, other: usize, spans: &Spans, two: bool) -> f64 {
    let r = &problem.rows[row];
    let windows = (r.joint_windows.first(), r.joint_windows.last());
    let (Some(first), Some(last)) = windows else {
        return 0.0;
    };
    if !r.near.contains(&other) {
        return 0.0;
    }
    let mut spans = spans.clone();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (Some(&(from, _)), Some(&(_, to))) = (spans.first(), spans.last()) else {
        return 0.0;
    };
    if spans.windows(2).any(|two| two[0].1 != two[1].0) {
        return 0.0;
    }
    let reach = problem.clear.min(1000.0 * shortest(problem, row));
    let ahead = (from - (r.x(first.0) - reach)).max(0.0);
    let astern = (r.x(last.1) + reach - to).max(0.0);
    // Two joints are one shortest piece apart at least: half of that beside each is beside no other.
    let wide = match two {
        true => 2.0 * reach.min(500.0 * shortest(problem, row)),
        false => reach,
    };
    (wide - ahead - astern).max(0.0) / 1000.0
}
