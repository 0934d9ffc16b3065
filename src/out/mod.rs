//! Files of a plan, written whole or not at all.
//!
//! Decides what stands in `out/` and in which words and digits. It must not know how a plan was found, and writes nothing
//! that the clock has a say in: the same plan gives the same bytes. One file here makes one file there; start with
//! `folder`.

mod folder;
mod history;
mod laying_order;
mod mark;
mod plan_json;
mod spares;
mod told;

pub use crate::disk::{Fault, write_all, write_whole};
pub use folder::{FILES, LAYING_ORDER, can_write, write};
pub use history::{earlier_laying_order, keep, number_in_force};
pub use laying_order::laying_order;
pub use mark::side_mark;
pub use plan_json::{Again, Input, Made, Total, gap, plan_json};
pub use spares::{Spare, no_spare, write_spares};
pub use told::{Left, Told, told};
