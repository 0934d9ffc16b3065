//! Places that differ by no more than so much, and what it costs at least that they differ.
//!
//! The dual of this linear programme is a circulation of least cost. It is found by cancelling negative cycles
//! (M. Klein, "A primal method for minimal cost flows", Management Science 14, 1967; from memory). What flows at any
//! time gives a lower bound, so that it may be broken off.

use crate::solve::tuning::tails::MOST_CYCLES;
use crate::units::Length;

/// Flow that is less is none.
const LEAST: f64 = 1e-9;

/// Half of an edge: what may flow on from one node to another, and what a unit of it costs.
#[derive(Clone, Copy)]
struct Edge {
    from: usize,
    to: usize,
    cost: Length,
    left: f64,
}

/// A place for each node, and the flow so far between them.
#[derive(Clone)]
pub struct Tension {
    nodes: usize,
    /// Each followed by its way back.
    edges: Vec<Edge>,
    /// What the differences cost at least. Unit: that of the rates times metres.
    least: f64,
}

impl Tension {
    /// Of so many places that may lie anywhere.
    pub fn of(nodes: usize) -> Tension {
        Tension {
            nodes,
            edges: Vec::new(),
            least: 0.0,
        }
    }

    /// The second place lies no further beyond the first than this.
    pub fn at_most(&mut self, both: [usize; 2], apart: Length) {
        self.edge(both, apart, f64::INFINITY);
    }

    /// Each metre costs this much by which the second place does not lie so far beyond the first.
    pub fn near(&mut self, [one, other]: [usize; 2], apart: Length, rate: f64) {
        self.edge([one, other], apart, rate);
        self.edge([other, one], -apart, rate);
    }

    fn edge(&mut self, [from, to]: [usize; 2], cost: Length, left: f64) {
        let there = Edge {
            from,
            to,
            cost,
            left,
        };
        let back = Edge {
            from: to,
            to: from,
            cost: -cost,
            left: 0.0,
        };
        self.edges.extend([there, back]);
    }

    /// What it costs at least; `None` where there are no such places.
    pub fn solve(&mut self) -> Option<f64> {
        for _ in 0..MOST_CYCLES {
            let Some(cycle) = self.negative_cycle() else {
                break;
            };
            let flow = cycle.iter().map(|&e| self.edges[e].left);
            let flow = flow.fold(f64::INFINITY, f64::min);
            if flow.is_infinite() {
                return None;
            }
            for e in cycle {
                self.least -= self.edges[e].cost.metres() * flow;
                self.edges[e].left -= flow;
                self.edges[e ^ 1].left += flow;
            }
        }
        Some(self.least)
    }

    /// A cycle along which flow would cost less than nothing (Bellman and Ford).
    fn negative_cycle(&self) -> Option<Vec<usize>> {
        let mut cost = vec![Length::ZERO; self.nodes];
        let mut by = vec![usize::MAX; self.nodes];
        let mut changed = None;
        for _ in 0..self.nodes {
            changed = None;
            for (e, edge) in self.edges.iter().enumerate() {
                let to = cost[edge.from] + edge.cost;
                if edge.left > LEAST && to < cost[edge.to] {
                    cost[edge.to] = to;
                    by[edge.to] = e;
                    changed = Some(edge.to);
                }
            }
            changed?;
        }
        // So many steps back it is on the cycle.
        let back = |node: usize| self.edges[by[node]].from;
        let start = (0..self.nodes).fold(changed?, |node, _| back(node));
        let mut cycle = vec![by[start]];
        let mut node = back(start);
        while node != start {
            cycle.push(by[node]);
            node = back(node);
        }
        Some(cycle)
    }
}
