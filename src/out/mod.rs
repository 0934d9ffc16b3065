//! Files of a plan, written whole or not at all.
//!
//! Decides what stands in `out/` and in which words and digits. It must not know how a plan was found, and writes nothing
//! that the clock has a say in: the same plan gives the same bytes. One file here makes one file there; start with
//! `folder`.

mod fault;
mod folder;
mod laying_order;
mod mark;
mod plan_json;
mod shown;
mod told;
mod whole;

pub use fault::Fault;
pub use folder::{FILES, can_write, write};
pub use laying_order::laying_order;
pub use mark::side_mark;
pub use plan_json::{Input, Made, Total, gap, plan_json};
pub use shown::{is_shown, plan_sha256, write_shown};
pub use told::{Left, Told, told};
pub use whole::{write_all, write_whole};
