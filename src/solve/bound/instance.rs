//! A layered graph, with all that is the same of it at any prices.

use super::classes::Classes;
use super::dual::{DualState, Level};
use super::layers::LayeredGraph;
use super::subproblem::{FirstPass, Solved, solve};
use std::cell::OnceCell;

/// What the subproblem is solved on.
pub struct Instance {
    /// The boat's courses, and what could lie on each.
    pub graph: LayeredGraph,
    /// Most costs that are kept in solving it. Unit: costs of 8 bytes.
    most: usize,
    /// Worked out when first needed, which takes a while and may never be.
    classes: OnceCell<Classes>,
    /// The first pass at the prices of the last time.
    first: Option<FirstPass>,
}

impl Instance {
    /// Nothing worked out yet.
    pub fn new(graph: LayeredGraph, most: usize) -> Instance {
        Instance {
            graph,
            most,
            classes: OnceCell::new(),
            first: None,
        }
    }

    /// How many nodes there are.
    pub fn nodes(&self) -> usize {
        let layers = self.graph.layers.iter();
        layers.map(|layer| layer.nodes.len()).sum()
    }

    /// Solves the subproblem at the prices of the dual state.
    pub fn solve(
        &mut self,
        dual: &DualState,
        level: Level,
        cutoff: f64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Solved {
        let first = self.first.take();
        let classes = self.classes.get_or_init(|| Classes::new(dual, &self.graph));
        let known = first.filter(|first| first.is_at(&dual.prices));
        let first = known.or_else(|| FirstPass::new(&self.graph, classes, dual, stop));
        let Some(first) = first else {
            return Solved::Stopped;
        };
        let solved = solve(classes, &first, dual, level, cutoff, self.most, stop);
        self.first = Some(first);
        solved
    }
}
