//! The disk: files written whole or not at all, and what can go wrong with that.
//!
//! Knows nothing of boats. Start with `whole`.

mod fault;
mod lock;
mod set;
mod whole;

pub use fault::Fault;
pub(crate) use lock::wait_for;
pub use lock::when_waiting;
pub use set::{finish, folder, no_link_to, read, write_all};
pub(crate) use set::{is_a_file, not_a_link};
pub use whole::write_whole;
pub(crate) use whole::{sync_folder, temporary};
