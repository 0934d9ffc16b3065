//! The two sheets: one for the wall, in the order of laying; one for the rack, strip by strip.

mod cautions;
mod cut_list;
mod laying;
mod pages;
mod rack;
mod strip_bar;
mod take_off;
mod under;

pub use cut_list::cut_list;
pub use laying::laying_sheet;
pub use rack::{Swatches, rack_sheet, stack_sheet};
pub use strip_bar::{HIGH, strip_bar};
pub use take_off::to_take_off;
