//! Lengths, places and colours: the numbers everything else is counted in.
//!
//! Lengths are whole nanometres inside, so that a job in inches and the same job in millimetres are the same job
//! to the last digit. A place always says which frame it is in; adding a place on a strip to a place on the boat
//! does not compile. Start with `length`.

mod colour;
mod eye;
mod length;
pub mod parse;
mod quantity;
mod slip;
mod unit;

pub use colour::{Colour, delta_e};
pub use eye::{of_guesses_to_the_eye, to_the_eye};
pub use length::{Frame, Length, OnBoat, OnSkin, OnStrip, Place, S, U, X};
pub use slip::Slip;
pub use unit::Unit;

/// `1 joint`, `2 joints`.
pub(crate) fn counted(count: usize, what: &str) -> String {
    let s = if count == 1 { "" } else { "s" };
    format!("{count} {what}{s}")
}
