//! What each board covers of the boat: an exact account of its wood, which paths across the boat don't have.

#[cfg(test)]
mod beside_plans;
mod field;
mod table;
mod tolls;

pub use field::Field;
pub use table::{Share, break_even, share};
pub use tolls::Tolls;
