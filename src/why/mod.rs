//! Why this plan and no other: what each rule costs, what a little more wood would gain, and which demands can't be met
//! together.
//!
//! Nothing is reckoned from the plan alone: everything is planned again, with one thing changed, and the two plans are
//! held against each other by the checker. Knows neither files nor screen. Start with `prices`, then `clashes`.

mod clash;
mod demand;
mod more_wood;
mod prices;
mod proof;
mod reach;
mod relaxed;
mod trial;

pub use clash::{Clash, Clashes, Minimality, clashes};
pub use demand::{Demand, with, without};
pub use prices::{Gain, Judged, Price, Prices, prices};
pub use proof::Proof;
pub use relaxed::{MorePairs, Relaxed};
pub use trial::{Trial, trial};
