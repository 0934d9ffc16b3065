//! A proven lower bound on the cost of every plan.
//!
//! Where each course is one piece and each strip serves one course, the courses of a panel are then a path from pair to pair, and the only thing that ties its steps together is that no strip is used
//! twice. That rule is relaxed and priced: each strip gets a price for its use (Lagrangian multipliers, moved along the subgradient), and
//! the cheapest path is found in which no strip comes back while it is remembered (the ng-path relaxation, on boards). While a
//! path stays in a board it knows every slice that it took; of a board it has left it knows how many, or which, where that is worth
//! remembering. Memories grow where paths go round in circles. Whatever the prices, the result is a true bound.
//!
//! Paths are found in several passes down and up the chain, each remembering more than the one before, and each given up where the
//! pass before tells that nothing below the best plan's cost can come of it: from stay to stay where that can be (`stays`), else by labels, pair
//! by pair (`ladder`). Most pairs of a board look odd together, so prices are found over the likely ones (`climb`); one look at all pairs makes
//! the bound.
//!
//! Sources: M. Held and R. M. Karp, "The Traveling-Salesman Problem and Minimum Spanning Trees: Part II", Mathematical
//! Programming 1 (1971); R. Baldacci, A. Mingozzi and R. Roberti, "New Route Relaxation and Pricing Strategies for the
//! Vehicle Routing Problem", Operations Research 59 (2011); N. Christofides, A. Mingozzi and P. Toth, "State-space relaxation
//! procedures for the computation of bounds to routing problems", Networks 11 (1981) (titles from memory). Start with [`Prover`].

mod bits;
mod chain;
mod climb;
mod ground;
mod labels;
mod ladder;
mod ledger;
mod memory;
mod pairs;
mod prices;
mod prover;
mod scope;
mod slope;
mod stays;
mod step;

#[cfg(test)]
mod stays_beside_labels;

pub use prover::Prover;
pub use scope::out_of_scope;
