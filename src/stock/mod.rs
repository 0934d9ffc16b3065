//! The wood: boards, and the strips that came off them.

mod natural;
mod strip;

pub use natural::natural;
pub use strip::{BoardId, Defect, Origin, Stock, Strip, StripId, merged};
