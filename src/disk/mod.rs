//! The disk: files written whole or not at all, and what can go wrong with that.
//!
//! Knows nothing of boats. Start with `whole`.

mod fault;
mod whole;

pub use fault::Fault;
pub(crate) use whole::{sync_folder, temporary};
pub use whole::{write_all, write_whole};
