//! A job: the boat, the wood and the rules, as one immutable thing.

use crate::hull::Hull;
use crate::plan::{Piece, Plan, Rules, Weights};
use crate::stock::Stock;
use crate::units::Unit;

/// Everything that the planner and the checker are told.
#[derive(Clone, PartialEq, Debug)]
pub struct Job {
    /// The job's name.
    pub name: String,
    /// What bare numbers mean, and what lengths are written in.
    pub unit: Unit,
    /// The boat.
    pub hull: Hull,
    /// The wood.
    pub stock: Stock,
    /// Sizes and rules.
    pub rules: Rules,
    /// What each fault in looks is worth.
    pub weights: Weights,
    /// What is glued on already and stays as it is.
    pub laid: Vec<Piece>,
    /// The plan before this one, when planning again.
    pub earlier: Option<Plan>,
}
