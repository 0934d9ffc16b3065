//! Layered graphs, with all that is the same of them at any prices.

use super::classes::Classes;
use super::dual::{DualState, Level};
use super::layers::LayeredGraph;
use super::subproblem::{FirstPasses, Solved, solve};
use std::cell::OnceCell;

/// What the subproblems are solved on.
pub struct Instance {
    /// A graph for each panel.
    pub graphs: Vec<LayeredGraph>,
    /// Most costs that are kept in solving it. Unit: costs of 8 bytes.
    most: usize,
    /// Worked out when first needed, which takes a while and may never be.
    classes: OnceCell<Vec<Classes>>,
    /// The first passes at the prices of the last time.
    first: Option<FirstPasses>,
}

impl Instance {
    /// Nothing worked out yet.
    pub fn new(graphs: Vec<LayeredGraph>, most: usize) -> Instance {
        Instance {
            graphs,
            most,
            classes: OnceCell::new(),
            first: None,
        }
    }

    /// How many nodes there are.
    pub fn nodes(&self) -> usize {
        let layers = self.graphs.iter().flat_map(|graph| &graph.layers);
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
        let class = |graph| Classes::new(dual, graph);
        let classes = self
            .classes
            .get_or_init(|| self.graphs.iter().map(class).collect());
        let known = first.filter(|first| first.is_at(&dual.prices));
        let first = known.or_else(|| FirstPasses::new(&self.graphs, classes, dual, stop));
        let Some(first) = first else {
            return Solved::Stopped;
        };
        let solved = solve(classes, &first, dual, level, cutoff, self.most, stop);
        self.first = Some(first);
        solved
    }
}
