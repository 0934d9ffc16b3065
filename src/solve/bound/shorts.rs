//! The short courses of a graph: where they lie, and how many strips some of them need.

use super::labelling::Direction;
use super::layers::{Layer, LayeredGraph};
use super::sharing::Sharing;
use crate::solve::tuning::shorts::MOST_COURSES;

/// The short courses of a graph.
pub struct Shorts {
    /// By layer.
    short: Vec<bool>,
    /// The way in which they come first.
    pub first: Direction,
    /// By constraint and short course, how much of a strip the course takes at least.
    parts: Vec<Vec<f64>>,
    /// Whether every long course needs a strip for itself.
    apart: bool,
}

impl Shorts {
    /// The short courses of a graph.
    pub fn of(sharing: &Sharing, graph: &LayeredGraph) -> Shorts {
        let short: Vec<&Layer> = graph.layers.iter().filter(|layer| !layer.long).collect();
        let least = |parts: &Vec<Vec<f64>>| {
            let of_course = |layer: &&Layer| parts[layer.row].iter().copied().fold(1.0, f64::min);
            short.iter().map(of_course).collect()
        };
        let last = graph.layers.last();
        Shorts {
            first: match last.is_some_and(|layer| !layer.long) {
                true => Direction::Up,
                false => Direction::Down,
            },
            parts: sharing.parts().iter().map(least).collect(),
            apart: sharing.apart,
            short: graph.layers.iter().map(|layer| !layer.long).collect(),
        }
    }

    /// Whether a layer is a short course.
    pub fn is_short(&self, layer: usize) -> bool {
        self.short[layer]
    }

    /// How many short courses come before a layer.
    pub fn before(&self, layer: usize) -> usize {
        let before = self.short[..layer].iter();
        before.filter(|short| **short).count()
    }

    /// How many short courses there are.
    pub fn count(&self) -> usize {
        self.before(self.short.len())
    }

    /// Whether they are the last courses of a graph or the first, and all ways to lay them can be gone through.
    pub fn are_tail(&self) -> bool {
        let count = self.count();
        let (from, to) = match self.first {
            Direction::Down => (0, count),
            Direction::Up => (self.short.len() - count, self.short.len()),
        };
        let together = self.short[from..to].iter().all(|short| *short);
        let few = (1..=MOST_COURSES).contains(&count);
        self.apart && few && together && count < self.short.len()
    }

    /// How many strips short courses need at least that lie on so many sides each, from the first of the graph on. No
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
