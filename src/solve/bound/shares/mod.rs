//! What each board covers of the boat: an exact account of its wood, which paths across the boat don't have.

mod across;
#[cfg(test)]
mod beside_plans;
mod course;
mod field;
mod level;
mod seam;
mod stage;
mod table;
mod tolls;

pub use field::Field;
pub use table::{Share, break_even, share};
pub use tolls::Tolls;
