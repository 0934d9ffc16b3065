//! The disk: files written whole or not at all, and what can go wrong with that.
//!
//! Knows nothing of boats. Start with `whole`.

mod fault;
mod set;
mod whole;

pub use fault::Fault;
pub use set::{finish, write_all};
pub use whole::write_whole;
pub(crate) use whole::{sync_folder, temporary};
