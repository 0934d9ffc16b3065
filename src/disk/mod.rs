//! The disk: files written whole or not at all, and what can go wrong with that.
//!
//! Knows nothing of boats. Start with `whole`.

mod fault;
mod set;
mod whole;

pub use fault::Fault;
pub use set::{finish, folder, no_link_to, read, when_waiting, write_all};
pub(crate) use set::{is_a_file, not_a_link, wait_for};
pub use whole::write_whole;
pub(crate) use whole::{sync_folder, temporary};
