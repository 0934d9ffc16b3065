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
    /// The end of the graph from which passes begin: that of the tail.
    pub first: Direction,
    /// The layers of the tail: short courses at an end of the graph of which all ways to lay them can be gone through.
    pub tail: Range<usize>,
    /// By constraint and course of the tail, how much of a strip the course takes at least.
    parts: Vec<Vec<f64>>,
}

impl Shorts {
    /// The short courses of a graph.
    pub fn of(sharing: &Sharing, graph: &LayeredGraph) -> Shorts {
        let short: Vec<bool> = graph.layers.iter().map(|layer| !layer.long).collect();
        let layers = short.len();
        let at_bottom = short.iter().rev().take_while(|short| **short).count();
        let at_top = short.iter().take_while(|short| **short).count();
        let (first, tail) = match at_bottom >= at_top && at_bottom > 0 {
            true => (Direction::Up, layers - at_bottom..layers),
            false => (Direction::Down, 0..at_top),
        };
        let few = tail.len() <= MOST_COURSES && tail.len() < layers;
        let tail = if sharing.apart && few { tail } else { 0..0 };
        let least = |parts: &Vec<Vec<f64>>| {
            let of_course = |layer: &Layer| parts[layer.row].iter().copied().fold(1.0, f64::min);
            graph.layers[tail.clone()].iter().map(of_course).collect()
        };
        Shorts {
            first,
            parts: sharing.parts().iter().map(least).collect(),
            short,
            tail,
        }
    }

    /// Whether a layer is a short course.
    pub fn is_short(&self, layer: usize) -> bool {
        self.short[layer]
    }

    /// Whether all short courses that there are lie in the tail.
    pub fn are_tail(&self) -> bool {
        let count = self.short.iter().filter(|short| **short).count();
        count == self.tail.len()
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
