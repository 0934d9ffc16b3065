//! Small problems solved exactly.

mod assignment;

pub use assignment::assign;
