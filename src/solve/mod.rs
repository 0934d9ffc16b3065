//! The search: from a job to the best plan it can find, with a proof of how close it is.
//!
//! Four things are kept apart. [`problem`] is the job made dense and indexed, and never changes. `state` is a plan
//! under way, which knows its own cost. `price` is the one place where the cost of timber against its neighbours is
//! worked out. `sequence`, `moves`, `anneal`, `perturbation` and [`search`] change the state and know neither files
//! nor screen. Start with [`problem`], then [`search`].
//!
//! The checker shares no code with this module beyond the data types and the colour difference, and neither names the
//! other.

mod again;
mod anneal;
mod asked;
mod beam;
mod bound;
mod by_hand;
mod claims;
mod clock;
mod cover;
mod draft;
#[doc(hidden)]
pub mod exact;
mod fill;
mod holds;
mod moves;
mod optimality;
mod packed;
mod perturbation;
mod price;
#[doc(hidden)]
pub mod problem;
mod profile;
mod rack;
mod relabel;
mod rng;
mod schedule;
#[doc(hidden)]
pub mod search;
mod seat;
mod sequence;
mod shortage;
mod start;
mod starts;
mod state;
mod taken_up;
mod threads;
mod timber;
mod tuning;
mod written;

#[cfg(test)]
use crate::invented as jobs;
pub use again::{Upset, lay_again};
// Only the program of this package needs these.
#[doc(hidden)]
pub use again::{Care, Chance, Effect, Loss, Stakes};
pub use asked::{
    Asked, BoundReason, Ended, Grounds, Joined, Outcome, Progress, Quiet, Remedy, Shortage, Watch,
};
pub use by_hand::{Spot, Unmoved, exchanged, relaid};
pub(crate) use cover::{TooShort, too_short};
pub use search::lay;
#[doc(hidden)]
pub use search::lay_from;
#[doc(hidden)]
pub use threads::on_threads;
#[doc(hidden)]
pub use tuning::search::CEILING;
