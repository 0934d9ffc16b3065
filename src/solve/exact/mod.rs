//! Small problems solved exactly.

mod assignment;
mod packing;

pub use assignment::assign;
pub use packing::{Bars, Filling, Lengths, pack};
