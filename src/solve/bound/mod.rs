//! A proven lower bound on the cost of every plan in which each course is one piece.
//!
//! The courses of the boat are then the layers of a graph, the pairs that could lie on each its nodes, and a plan is a
//! path through it; only the rule that no strip is used twice ties its steps together. That rule is relaxed and priced
//! (Lagrangian relaxation): each strip gets a price for its use, moved by subgradient ascent. The subproblem is the
//! cheapest path in which no strip comes back while it is remembered (the ng-path relaxation, on boards): while a path
//! stays in a board it knows every slice that it took; of a board it has left it knows how many.
//!
//! Between entering a board and leaving it a path makes a segment. The cheapest segments of each board come from a
//! dynamic programme over subsets of its slices (`subset_dp`, `segments`); passes from segment to segment keep a cost
//! for each resource state and pair (`labelling`, `buckets`). Passes go down and up in turn with increasing
//! ng-neighbourhoods (`dual`), each cut off by the completion bounds of the one before (`subproblem`). Prices are
//! found over the likely pairs (`subgradient`); a solution over all pairs makes the bound, and nodes drop out by
//! reduced-cost fixing (`prover`).
//!
//! Short courses may share strips (`sharing`): what they take is priced by parts. Before the last pass all ways to lay
//! them are gone through one by one (`tails`), each strip paid once, figure out of register included (`register`).
//! Where few nodes are left, all plans that they allow are gone through (`enumeration`).
//!
//! Sources: M. Held and R. M. Karp, "The Traveling-Salesman Problem and Minimum Spanning Trees: Part II", Mathematical
//! Programming 1 (1971); R. Baldacci, A. Mingozzi and R. Roberti, "New Route Relaxation and Pricing Strategies for the
//! Vehicle Routing Problem", Operations Research 59 (2011); N. Christofides, A. Mingozzi and P. Toth, "State-space
//! relaxation procedures for the computation of bounds to routing problems", Networks 11 (1981) (titles from memory).
//! Start with [`Prover`].

mod bits;
mod buckets;
mod classes;
mod dual;
mod enumeration;
mod exits;
mod instance;
mod labelling;
mod layers;
mod ng;
mod pairs;
mod prices;
mod prover;
mod register;
mod scope;
mod segments;
mod sharing;
mod shorts;
mod subgradient;
mod subproblem;
mod subset_dp;
mod tails;
mod tension;
mod traceback;

#[cfg(test)]
mod all_paths;

pub use dual::Level;
pub use prover::Prover;
pub use scope::{Scope, scope};
pub use subgradient::Ascent;
