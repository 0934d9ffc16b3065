//! The short courses of a graph: where they lie, and how many strips some of them need.

use super::labelling::Direction;
use super::layers::{Layer, LayeredGraph};
use super::sharing::Sharing;
use crate::solve::tuning::shorts::MOST_COURSES;
use std::ops::Range;

/// The short courses of a graph.
pub struct Shorts {
    /// By layer.
    short: Vec<bool>,
    /// The layers of the tail, see [`LayeredGraph::tail`].
    pub tail: Range<usize>,
    /// See [`LayeredGraph::middle`].
    pub middle: usize,
    /// By constraint and course of the tail, how much of a strip the course takes at least.
    parts: Vec<Vec<f64>>,
}

impl Shorts {
    /// The short courses of a graph.
    pub fn of(sharing: &Sharing, graph: &LayeredGraph) -> Shorts {
        let tail = graph.tail.clone();
        let least = |parts: &Vec<Vec<f64>>| {
            let of_course = |layer: &Layer| parts[layer.row].iter().copied().fold(1.0, f64::min);
            graph.layers[tail.clone()].iter().map(of_course).collect()
        };
        Shorts {
            parts: sharing.parts().iter().map(least).collect(),
            short: graph.layers.iter().map(|layer| !layer.long).collect(),
            middle: graph.middle(),
            tail,
        }
    }

    /// Whether a layer is a short course.
    pub fn is_short(&self, layer: usize) -> bool {
        self.short[layer]
    }

    /// The way of the first pass. The last one comes from the tail to the courses before it, and passes take turns.
    pub fn first_way(&self) -> Direction {
        match self.tail.is_empty() {
            true => Direction::Down,
            false => Direction::Up,
        }
    }

    /// How many strips short courses need at least that lie on so many sides each, from the first of the tail on. No
    /// two strips of a course are one.
    pub fn strips_for(&self, sides: &[u32]) -> u32 {
        let by = |parts: &Vec<f64>| {
            let all = sides.iter().zip(parts);
            let all: f64 = all.map(|(sides, part)| f64::from(*sides) * part).sum();
            (all - 1e-6).ceil().max(0.0) as u32
        };
        let most = sides.iter().copied().max().unwrap_or(0);
        self.parts.iter().map(by).max().unwrap_or(0).max(most)
    }
}

/// The panels of a boat one after the other, and the layers of the tail. Every panel is given by the rows of its
/// courses.
///
/// Short courses are to lie together: those of one panel last, those of another first in the opposite order, and
/// between them panels of which all courses are short.
///
/// Where they are not `joined`, those of one panel alone lie there.
pub fn in_order(
    sharing: &Sharing,
    panels: Vec<Vec<usize>>,
    joined: bool,
) -> (Vec<usize>, Range<usize>) {
    if !sharing.any_short || !sharing.apart {
        return (panels.concat(), 0..0);
    }
    let is_short = |row: &usize| !sharing.long[*row];
    let at_end = |panel: &[usize]| panel.iter().rev().take_while(|row| is_short(row)).count();
    let short_last = |mut panel: Vec<usize>| {
        let as_it_is = at_end(&panel);
        panel.reverse();
        if at_end(&panel) <= as_it_is {
            panel.reverse();
        }
        panel
    };
    let (middle, others): (Vec<Vec<usize>>, Vec<Vec<usize>>) = panels
        .into_iter()
        .partition(|panel| panel.iter().all(is_short));
    let mut others: Vec<Vec<usize>> = others.into_iter().map(short_last).collect();
    let mut room = MOST_COURSES;
    // The panel with the most short courses of which there is room for all.
    let take = |others: &mut Vec<Vec<usize>>, room: &mut usize| {
        let fitting = (0..others.len()).filter(|&at| (1..=*room).contains(&at_end(&others[at])));
        let most = fitting.max_by_key(|&at| (at_end(&others[at]), std::cmp::Reverse(at)))?;
        *room -= at_end(&others[most]);
        Some(others.remove(most))
    };
    let before = take(&mut others, &mut room).unwrap_or_default();
    let mut count = at_end(&before);
    room = if joined { room } else { 0 };
    let (middle, left): (Vec<Vec<usize>>, Vec<Vec<usize>>) =
        middle.into_iter().partition(|panel| {
            let fits = panel.len() <= room;
            room -= if fits { panel.len() } else { 0 };
            fits
        });
    let mut after = take(&mut others, &mut room).unwrap_or_default();
    count += middle.iter().map(Vec::len).sum::<usize>() + at_end(&after);
    after.reverse();
    let mut rows = [left, others].concat().concat();
    let from = rows.len() + before.len() - at_end(&before);
    rows.extend([before, middle.concat(), after].concat());
    let tail = match from > 0 {
        true => from..from + count,
        false => 0..0,
    };
    (rows, tail)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::invented::{full_length, run_outs, with_second_panel};
    use crate::solve::problem::Problem;

    #[test]
    fn short_courses_of_two_panels_lie_together() {
        let panel = run_outs(full_length(5, 14, 1), &[0.5, 0.4]);
        let problem = Problem::new(&with_second_panel(panel));
        let sharing = Sharing::of(&problem);
        let panels = || vec![vec![0, 1, 2, 3, 4], vec![5, 6, 7, 8, 9]];
        let (rows, tail) = in_order(&sharing, panels(), true);
        assert_eq!(rows, [0, 1, 2, 3, 4, 9, 8, 7, 6, 5]);
        assert_eq!(tail, 3..7);
        // Those of one of them.
        let (rows, tail) = in_order(&sharing, panels(), false);
        assert_eq!(rows, [5, 6, 7, 8, 9, 0, 1, 2, 3, 4]);
        assert_eq!(tail, 8..10);
        // A panel whose first courses are the short ones, and one of short courses alone.
        let (rows, tail) = in_order(
            &sharing,
            vec![vec![9], vec![4, 3, 2, 1, 0], vec![5, 6, 7, 8]],
            true,
        );
        assert_eq!(rows, [0, 1, 2, 3, 4, 9, 8, 7, 6, 5]);
        assert_eq!(tail, 3..7);
    }
}
