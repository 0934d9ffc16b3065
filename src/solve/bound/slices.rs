//! The boat cut across into slices, each a chain of courses from pair to pair.
//!
//! Why: where courses are joined from several pieces, or one strip serves several courses, a course is no node of a path. But at
//! any one place along the boat it is: just one pair lies there on each course. What a plan costs in looks is the sum over all
//! places, and in a slice where the same courses lie side by side at the same weights the cheapest path is the same at every place.

use super::chain::{Chain, Link, Node, groups};
use super::pairs::{Board, Pair, Pairs};
use super::wood::Pieces;
use crate::solve::problem::{NONE, Problem};
use crate::solve::rack::{Rack, longest};

/// Most slices of a panel. More lose less at the ends of courses, and take longer.
const MOST: usize = 5;

/// A stretch of boat in which some courses of a panel lie from end to end.
struct Slice {
    from: f64,
    to: f64,
    /// Courses in order, each with its least weight here.
    rows: Vec<(usize, f64)>,
}

impl Slice {
    fn metres(&self) -> f64 {
        (self.to - self.from) / 1000.0
    }

    /// What is looked at here, as a measure of what a coarser cut loses.
    fn worth(&self) -> f64 {
        self.rows
            .iter()
            .map(|(_, weight)| self.metres() * weight)
            .sum()
    }

    /// Both as one: of courses that end in between, nothing is counted.
    fn with(&self, next: &Slice) -> Slice {
        let in_both = self.rows.iter().filter_map(|&(row, weight)| {
            let other = next.rows.iter().find(|(other, _)| *other == row)?;
            Some((row, weight.min(other.1)))
        });
        Slice {
            from: self.from,
            to: next.to,
            rows: in_both.collect(),
        }
    }
}

/// Every slice of every panel, as chains; and for each the stretch of boat that it stands for. Unit: mm.
pub fn chains(problem: &Problem, pairs: &Pairs, pieces: &Pieces) -> (Vec<Chain>, Vec<(f64, f64)>) {
    let all = panels(problem)
        .into_iter()
        .flat_map(|rows| slices(problem, &rows));
    all.flat_map(|slice| {
        let strings = strings(problem, &slice).into_iter();
        let chain = |string: Vec<Place>| chain(problem, pairs, pieces, &string);
        strings
            .map(move |string| (chain(string), (slice.from, slice.to)))
            .collect::<Vec<_>>()
    })
    .unzip()
}

/// Courses that hang together by seams, in order.
fn panels(problem: &Problem) -> Vec<Vec<usize>> {
    let mut panels: Vec<Vec<usize>> = Vec::new();
    let mut seen = vec![false; problem.rows.len()];
    for first in 0..problem.rows.len() {
        if std::mem::replace(&mut seen[first], true) {
            continue;
        }
        let mut panel = vec![first];
        let mut at = 0;
        while let Some(&row) = panel.get(at) {
            for &seam in &problem.rows[row].seams {
                let beside = problem.seams[seam].beside(row);
                if !std::mem::replace(&mut seen[beside], true) {
                    panel.push(beside);
                }
            }
            at += 1;
        }
        panel.sort_unstable();
        panels.push(panel);
    }
    panels
}

/// A panel cut wherever a course begins or ends or weights change, and then joined up again where that loses least.
fn slices(problem: &Problem, rows: &[usize]) -> Vec<Slice> {
    let mut cuts: Vec<f64> = rows
        .iter()
        .flat_map(|&row| problem.rows[row].look.breaks().iter().copied())
        .collect();
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    let mut all: Vec<Slice> = cuts
        .windows(2)
        .map(|ends| {
            let (from, to) = (ends[0], ends[1]);
            let here = rows.iter().filter(|&&row| {
                let breaks = problem.rows[row].look.breaks();
                breaks.first().is_some_and(|&first| first <= from)
                    && breaks.last().is_some_and(|&last| last >= to)
            });
            let weighed = here.map(|&row| (row, problem.rows[row].weight(0.5 * (from + to))));
            Slice {
                from,
                to,
                rows: weighed.collect(),
            }
        })
        .collect();
    while all.len() > MOST {
        let lost = |at: usize| {
            let (one, next) = (&all[at], &all[at + 1]);
            one.worth() + next.worth() - one.with(next).worth()
        };
        let Some(at) = (0..all.len() - 1).min_by(|&a, &b| lost(a).total_cmp(&lost(b))) else {
            break;
        };
        all[at] = all[at].with(&all[at + 1]);
        all.remove(at + 1);
    }
    all
}

/// A link of a slice: the course, its metres of skin, its weighted metres, and the weighted metres of seam to the next.
struct Place {
    row: usize,
    skin: f64,
    look: f64,
    met: f64,
}

/// The courses of a slice, in strings of neighbours.
fn strings(problem: &Problem, slice: &Slice) -> Vec<Vec<Place>> {
    let mut strings: Vec<Vec<Place>> = Vec::new();
    for &(row, weight) in &slice.rows {
        let r = &problem.rows[row];
        let place = Place {
            row,
            skin: (r.s(slice.to) - r.s(slice.from)) as f64 / 1e9,
            look: weight * slice.metres(),
            met: 0.0,
        };
        let touches = |last: &Place| {
            let mut seams = r.seams.iter().map(|&seam| &problem.seams[seam]);
            seams.any(|seam| seam.upper == last.row && seam.lower == row)
        };
        match strings.iter_mut().find(|s| s.last().is_some_and(touches)) {
            Some(string) => {
                if let Some(last) = string.last_mut() {
                    last.met = 0.5 * (last.look + place.look);
                }
                string.push(place);
            }
            None => strings.push(vec![place]),
        }
    }
    strings
}

fn chain(problem: &Problem, pairs: &Pairs, pieces: &Pieces, string: &[Place]) -> Chain {
    let links = string
        .iter()
        .map(|place| link(problem, pairs, pieces, place));
    let steps = string.len().saturating_sub(1);
    Chain {
        links: links.collect(),
        met: string.iter().take(steps).map(|place| place.met).collect(),
        slips: vec![false; steps],
        tolls: Vec::new(),
    }
}

fn link(problem: &Problem, pairs: &Pairs, pieces: &Pieces, place: &Place) -> Link {
    let r = &problem.rows[place.row];
    // The joints of a mirrored course are on both sides and count once.
    let a_side = pieces.charge / r.sides() as f64;
    let rack = Rack::before(problem);
    let use_of = |strip: u32| {
        let has = pieces.metres[strip as usize].max(f64::MIN_POSITIVE);
        place.skin * (a_side + problem.weights.cut) / has
    };
    let least_use = |board: usize| {
        let strips = pairs.boards[board].strips.iter();
        strips
            .map(|&strip| use_of(strip))
            .fold(f64::INFINITY, f64::min)
    };
    let node = |number: usize, pair: &Pair| {
        let [a, b] = pair.wood;
        let (rate, used) = match (a == NONE, b == NONE) {
            (true, _) if r.mirrored => (
                problem.weights.foster,
                pair.sides.iter().map(|&board| least_use(board)).sum(),
            ),
            (false, true) if !r.mirrored => (0.0, use_of(a)),
            (false, false) if r.mirrored => (problem.match_rate(a, b), use_of(a) + use_of(b)),
            _ => return None,
        };
        let long = || longest(&rack.room_on_both(problem, pair.wood, &[], &[]));
        if a != NONE && !pieces.fits(place.row, long()) {
            return None;
        }
        Some(Node {
            pair: number as u32,
            cost: place.look * rate + used,
        })
    };
    let nodes: Vec<Node> = pairs
        .all
        .iter()
        .enumerate()
        .filter_map(|(number, pair)| node(number, pair))
        .collect();
    let again = |board: &Board| {
        let two = board
            .strips
            .iter()
            .filter(|&&strip| pieces.leaves_another(problem, place.row, strip));
        let has = two
            .map(|&strip| pieces.metres[strip as usize])
            .reduce(f64::max);
        // Pieces side by side share the strip: two halves are charged four times what the whole would be, three thirds nine times.
        has.map_or(f64::INFINITY, |has| place.skin * pieces.charge / has)
    };
    Link {
        groups: groups(pairs, &nodes),
        nodes,
        takes: place.skin,
        again: pairs.boards.iter().map(again).collect(),
        registers: Vec::new(),
        row: place.row,
    }
}
