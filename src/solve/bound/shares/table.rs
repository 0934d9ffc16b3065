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

use super::across::Across;
use super::field::Field;
use super::level::{Level, edge, entry, level, levels, takes};
use super::stage::{Stage, lower};
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
            let level = level(course, at);
            let takes = takes(course, level);
            if takes >= width {
                continue;
            }
            let joint = field.joints[board][c] + tolls.part(c);
            let entry = entry(course, level, tolls.price(board, c), joint, field.unit);
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
