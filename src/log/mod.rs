//! The log: what has happened in the shop, entry by entry, and what is so now.
//!
//! Entries are only ever appended. What is laid and what is left of the wood is worked out by replaying those that
//! hold, so that undoing one is exact. It must not know how a plan is found, nor read anything but its own file.
//! `event` is what can happen, `replay` what it amounts to, `refusal` why it can't be, `sheet` the rows, `book` the
//! file. Start with `event`.

mod book;
mod cut;
mod event;
mod refusal;
mod replay;
mod sheet;

pub use crate::disk::Fault;
pub use book::Book;
pub use cut::{Cut, ToldCut};
// Only the program of this package needs these.
#[doc(hidden)]
pub use book::whole_and_torn;
pub use event::{Entry, Event, Facts, Measured, Spot, holding, live};
pub use refusal::{Refusal, Refused};
#[doc(hidden)]
pub use refusal::{place, stretch};
pub use replay::{Glued, Standing, replay};
pub(crate) use sheet::COLUMNS;
pub use sheet::{FILE, Script};
