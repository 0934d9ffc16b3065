//! The wood: boards, and the strips that came off them.

mod strip;

pub use strip::{BoardId, Defect, Origin, Stock, Strip, StripId};
