//! The cheapest share of a board: how much of each course is laid from it, at some prices and tolls.
//!
//! Found course by course, for every amount of wood used so far; nothing is known of where along a course the board lies. Why that is no
//! dearer than what any plan has of the board:
//!
//! - Of a seam, at least as much is edge as the board covers more of the one course than of the other, as far as both lie beside each other.
//! - Where it covers a part of a course, it ends at a joint with another board; around that joint the course beside has none, so one
//!   piece, which is from another board than one of the two (`stagger`).
//! - A part that ends at one joint is an end of the course, and as long as joint windows allow; any other has two such joints at least.
//! - Wood is counted in whole steps. For a given choice of nothing, end, inner part or all on every course the cost is piecewise linear in the
//!   lengths of the parts, and breaks only where parts or differences of two parts are whole steps. So with one limit more, that on wood, the
//!   best lengths lie between two choices of whole steps that differ by one step on some courses with parts. The cheaper of the two costs
//!   no more, and both are among those looked at, because each part counts for one step of wood less than it has.

use super::field::{Course, Field, Seam};
use super::tolls::Tolls;
use std::ops::Range;

/// What a board covers in the cheapest case.
pub struct Share {
    /// What it costs, tolls paid and metres bought; never above nothing.
    pub cost: f64,
    /// Metres of boat that it covers, by course of the field.
    pub metres: Vec<f64>,
    /// Metres at which it lies beside other boards at least, by seam of the field.
    pub edges: Vec<f64>,
    /// Ends that it has at joints with other boards at least, by course.
    pub ends: Vec<u8>,
}

/// More than any metre is worth at first. Unit: ΔE00.
const DEAREST: f64 = 16.0;
/// How often that is halved.
const HALVINGS: usize = 8;

/// How much of a course is laid from the board.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Level {
    Nothing,
    All,
    /// One end of the course.
    End(usize),
    /// Parts with two ends at least.
    Inner(usize),
}

/// Costs at one course: by level, and for each by the wood used so far.
struct Stage {
    /// So many costs for each level.
    width: usize,
    costs: Vec<f64>,
}

impl Stage {
    fn new(levels: usize, width: usize) -> Stage {
        Stage {
            width,
            costs: vec![f64::INFINITY; levels * width],
        }
    }

    fn of(&self, level: usize) -> &[f64] {
        &self.costs[level * self.width..(level + 1) * self.width]
    }

    fn of_mut(&mut self, level: usize) -> &mut [f64] {
        &mut self.costs[level * self.width..(level + 1) * self.width]
    }
}

/// What it costs to have one level on a course.
fn entry(course: &Course, level: Level, price: f64, joint: f64, unit: f64) -> f64 {
    match level {
        Level::Nothing => 0.0,
        Level::All => -price * course.metres,
        Level::End(k) if !course.ends[k - course.parts.0] => f64::INFINITY,
        Level::End(k) => joint - price * k as f64 * unit,
        Level::Inner(k) => 2.0 * joint - price * k as f64 * unit,
    }
}

/// Steps of wood that a level counts for at least.
fn takes(course: &Course, level: Level) -> usize {
    let pairs = match level {
        Level::Nothing => 0,
        Level::All => course.units,
        // Between this step and the one below.
        Level::End(k) | Level::Inner(k) => k.saturating_sub(1),
    };
    if course.mirrored { pairs } else { pairs / 2 }
}

fn level(course: &Course, number: usize) -> Level {
    match number {
        0 => Level::Nothing,
        1 => Level::All,
        _ => {
            let parts = parts(course);
            let at = number - 2;
            match at < parts {
                true => Level::End(course.parts.0 + at),
                false => Level::Inner(course.parts.0 + at - parts),
            }
        }
    }
}

fn parts(course: &Course) -> usize {
    (course.parts.1 + 1).saturating_sub(course.parts.0)
}

fn levels(course: &Course) -> usize {
    2 + 2 * parts(course)
}

/// Metres of a seam at which the board lies on one side of it only, at least.
fn edge(seam: &Seam, one: Level, next: Level, unit: f64) -> f64 {
    use Level::{All, End, Inner, Nothing};
    // That the upper of two parts has two ends is not made use of.
    let stagger = match (one, next) {
        (End(_) | Inner(_), End(_)) => seam.stagger[0].max(seam.stagger[1]),
        (End(_) | Inner(_), Inner(_)) => seam.stagger[0].max(seam.both[1]),
        (End(_), _) => seam.stagger[0],
        (_, End(_)) => seam.stagger[1],
        (Inner(_), _) => seam.both[0],
        (_, Inner(_)) => seam.both[1],
        _ => 0,
    };
    let apart = match (one, next) {
        (Nothing, Nothing) | (All, All) => return 0.0,
        (Nothing, All) | (All, Nothing) => return seam.metres,
        (Nothing, End(k) | Inner(k)) => k.saturating_sub(seam.beyond[1]),
        (End(k) | Inner(k), Nothing) => k.saturating_sub(seam.beyond[0]),
        (All, End(k) | Inner(k)) | (End(k) | Inner(k), All) => seam.units.saturating_sub(k),
        (End(k) | Inner(k), End(m) | Inner(m)) if k >= m => (k - m).saturating_sub(seam.beyond[0]),
        (End(k) | Inner(k), End(m) | Inner(m)) => (m - k).saturating_sub(seam.beyond[1]),
    };
    stagger.max(apart) as f64 * unit
}

fn lower(to: &mut [f64], from: &[f64], by: f64) {
    for (to, from) in to.iter_mut().zip(from) {
        let cost = from + by;
        *to = if cost < *to { cost } else { *to };
    }
}

/// From one course to the next.
struct Across<'f> {
    unit: f64,
    seam: &'f Seam,
    one: &'f Course,
    next: &'f Course,
    /// What a metre of edge costs.
    toll: f64,
}

impl Across<'_> {
    /// The cheapest costs on arriving at each level of the next course, its own entry left out.
    fn arrivals(&self, from: &Stage) -> Stage {
        let mut to = Stage::new(levels(self.next), from.width);
        let (ones, nexts) = (levels(self.one), levels(self.next));
        // To and from nothing and all, one by one.
        for a in 0..ones {
            for b in 0..nexts {
                if a < 2 || b < 2 {
                    let (upper, lower_one) = (level(self.one, a), level(self.next, b));
                    let cost = self.toll * edge(self.seam, upper, lower_one, self.unit);
                    lower(to.of_mut(b), from.of(a), cost);
                }
            }
        }
        if ones < 3 || nexts < 3 {
            return to;
        }
        let mut either = Stage::new(parts(self.one), from.width);
        for k in 0..parts(self.one) {
            lower(either.of_mut(k), from.of(2 + k), 0.0);
            lower(either.of_mut(k), from.of(2 + parts(self.one) + k), 0.0);
        }
        let upper = self.seam.stagger[0];
        let flats = [self.seam.stagger[1], self.seam.both[1]];
        for (kind, flat) in flats.into_iter().enumerate() {
            let first = 2 + kind * parts(self.next);
            let mut levels = to.costs.split_off(first * to.width);
            self.part_to_part(flat.max(upper), &either, &mut levels);
            to.costs.extend(levels);
        }
        to
    }

    /// From part to part, where the edge is so many steps at least: near ones one by one, far ones by what the next one costs less or more.
    /// `to` begins at the next course's shortest part.
    fn part_to_part(&self, stagger: usize, from: &Stage, to: &mut [f64]) {
        let step = self.toll * self.unit;
        let (first, last) = self.one.parts;
        for up in [true, false] {
            let beyond = self.seam.beyond[usize::from(up)];
            let flat = stagger + beyond;
            let mut far = vec![f64::INFINITY; from.width];
            let parts = self.next.parts.0..=self.next.parts.1;
            let order: Vec<usize> = match up {
                true => parts.collect(),
                false => parts.rev().collect(),
            };
            // Parts from here on, or up to here, are in `far` already.
            let mut taken = if up { first } else { last + 1 };
            for m in order {
                far.iter_mut().for_each(|cost| *cost += step);
                let further = match up {
                    true => taken..(m.saturating_sub(flat)).min(last + 1).max(taken),
                    false => (m + flat + 1).max(first).min(taken)..taken,
                };
                for k in further.clone() {
                    let apart = k.abs_diff(m) - beyond;
                    lower(&mut far, from.of(k - first), step * apart as f64);
                }
                if !further.is_empty() {
                    taken = if up { further.end } else { further.start };
                }
                let near = match up {
                    true => m.saturating_sub(flat)..m + 1,
                    false => m + 1..m + flat + 1,
                };
                let at = (m - self.next.parts.0) * from.width;
                let to = &mut to[at..at + from.width];
                lower(to, &far, 0.0);
                for k in near.filter(|k| (first..=last).contains(k)) {
                    lower(to, from.of(k - first), step * stagger as f64);
                }
            }
        }
    }
}

/// The cheapest share of a board.
pub fn share(field: &Field, tolls: &Tolls, board: usize) -> Share {
    let width = field.wood.get(board).map_or(1, |wood| wood + 1);
    let mut stages: Vec<Stage> = Vec::with_capacity(field.courses.len());
    for (c, course) in field.courses.iter().enumerate() {
        let arrived = match stages.last() {
            None => {
                let mut arrived = Stage::new(levels(course), width);
                (0..levels(course)).for_each(|at| arrived.of_mut(at)[0] = 0.0);
                arrived
            }
            Some(before) => match &field.seams[c - 1] {
                Some(seam) => {
                    let across = Across {
                        unit: field.unit,
                        seam,
                        one: &field.courses[c - 1],
                        next: course,
                        toll: tolls.edge(board, c - 1),
                    };
                    across.arrivals(before)
                }
                None => {
                    let mut least = vec![f64::INFINITY; width];
                    for at in 0..levels(&field.courses[c - 1]) {
                        lower(&mut least, before.of(at), 0.0);
                    }
                    let mut arrived = Stage::new(levels(course), width);
                    for at in 0..levels(course) {
                        arrived.of_mut(at).copy_from_slice(&least);
                    }
                    arrived
                }
            },
        };
        let mut stage = Stage::new(levels(course), width);
        for at in 0..levels(course) {
            let takes = takes(course, level(course, at));
            if takes >= width {
                continue;
            }
            let joint = field.joints[board][c] + tolls.part(c);
            let entry = entry(
                course,
                level(course, at),
                tolls.price(board, c),
                joint,
                field.unit,
            );
            let (to, from) = (
                &mut stage.of_mut(at)[takes..],
                &arrived.of(at)[..width - takes],
            );
            lower(to, from, entry);
        }
        stages.push(stage);
    }
    walk(field, tolls, board, &stages)
}

/// What a metre of some courses has to be worth, at weight 1, for a board to cover any of them at these tolls.
pub fn break_even(field: &Field, tolls: &Tolls, board: usize, courses: &Range<usize>) -> f64 {
    let (mut less, mut more) = (0.0, DEAREST);
    for _ in 0..HALVINGS {
        let worth = 0.5 * (less + more);
        let mut tolls = tolls.clone();
        tolls.set_prices(|_, c| match courses.contains(&c) {
            true => worth * field.courses[c].weight,
            false => -DEAREST,
        });
        match share(field, &tolls, board).cost < 0.0 {
            true => more = worth,
            false => less = worth,
        }
    }
    less
}

/// Walks the cheapest share back.
fn walk(field: &Field, tolls: &Tolls, board: usize, stages: &[Stage]) -> Share {
    let courses = field.courses.len();
    let mut share = Share {
        cost: 0.0,
        metres: vec![0.0; courses],
        edges: vec![0.0; courses.saturating_sub(1)],
        ends: vec![0; courses],
    };
    let Some(last) = stages.last() else {
        return share;
    };
    let width = last.width;
    let least = last
        .costs
        .iter()
        .enumerate()
        .min_by(|a, b| a.1.total_cmp(b.1));
    let Some((place, &cost)) = least else {
        return share;
    };
    share.cost = cost;
    let (mut at, mut used) = (place / width, place % width);
    for c in (0..courses).rev() {
        let course = &field.courses[c];
        let here = level(course, at);
        share.metres[c] = match here {
            Level::Nothing => 0.0,
            Level::All => course.metres,
            Level::End(k) | Level::Inner(k) => k as f64 * field.unit,
        };
        share.ends[c] = match here {
            Level::End(_) => 1,
            Level::Inner(_) => 2,
            _ => 0,
        };
        if c == 0 {
            break;
        }
        used -= takes(course, here);
        let before = &stages[c - 1];
        let one = &field.courses[c - 1];
        let edge = |a: usize| match &field.seams[c - 1] {
            Some(seam) => edge(seam, level(one, a), here, field.unit),
            None => 0.0,
        };
        let cost = |a: usize| before.of(a)[used] + tolls.edge(board, c - 1) * edge(a);
        let from = (0..levels(one)).min_by(|&a, &b| cost(a).total_cmp(&cost(b)));
        at = from.unwrap_or(0);
        share.edges[c - 1] = edge(at);
    }
    share
}
