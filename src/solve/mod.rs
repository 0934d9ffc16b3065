//! The search: from a job to the best plan it can find, with a proof of how close it is.
//!
//! Four things are kept apart. [`problem`] is the job made dense and indexed, and never changes. [`state`] is a plan
//! under way, which knows its own cost. `price` is the one place where the cost of timber against its neighbours is worked out.
//! `sequence`, `moves`, `anneal`, `perturbation` and [`search`] change the state and know neither files nor screen. Start with [`problem`], then [`search`].
//!
//! The checker shares no code with this module beyond the data types and the colour difference, and neither names the other.

mod again;
mod anneal;
mod asked;
pub mod bound;
mod claims;
mod cover;
mod draft;
pub mod exact;
mod fill;
mod holds;
mod moves;
mod optimality;
mod packed;
mod perturbation;
mod price;
pub mod problem;
mod profile;
mod rack;
mod rng;
mod schedule;
pub mod search;
mod seat;
mod sequence;
mod shortage;
mod start;
mod starts;
pub mod state;
mod taken_up;
mod threads;
pub mod timber;
mod tuning;
mod written;

#[cfg(test)]
use crate::invented as jobs;
pub use again::{Chance, Effect, Loss, Upset, chance, lay_again, losses};
pub use asked::{
    Asked, BoundReason, Ended, Grounds, Joined, Outcome, Progress, Quiet, Remedy, Shortage, Watch,
};
pub(crate) use cover::{TooShort, too_short};
pub use search::{lay, lay_from};
pub use threads::on_threads;
