//! A proven lower bound on the cost of every plan, for jobs in which each course is one piece and each strip serves one course.
//!
//! Courses of a panel are then a path, and the only thing that ties its steps together is that no strip is used twice. That
//! rule is relaxed and priced: each strip gets a price for its use (Lagrangian multipliers, raised and lowered by the
//! subgradient), and the cheapest path is found in which no strip comes back while it is still remembered (the ng-path
//! relaxation). The memory grows where paths go round in circles. Whatever the prices, the result is a true bound.
//!
//! Sources: M. Held and R. M. Karp, "The Traveling-Salesman Problem and Minimum Spanning Trees: Part II", Mathematical
//! Programming 1 (1971); R. Baldacci, A. Mingozzi and R. Roberti, "New Route Relaxation and Pricing Strategies for the
//! Vehicle Routing Problem", Operations Research 59 (2011) (titles from memory). Start with [`Prover`].

mod bits;
mod chain;
mod labels;
mod prover;
mod scope;

pub use prover::Prover;
pub use scope::no_bound_for;
