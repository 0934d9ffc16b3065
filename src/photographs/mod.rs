//! From a photograph of slices with the card on them to the colour of each slice, place by place.
//!
//! Decides what is seen where and what colour it has; it reads no sheet, writes no file and says nothing. [`card`]
//! is what the printer prints and the telephone sees, `codes` reads its two codes, `find` tells where it lies,
//! `flatten` looks at the picture from straight above, `slices` finds the wood, `light` takes light and telephone
//! out of the colours. Start with `measure`.
//!
//! Frame of the card: millimetres, 0, 0 at its upper left corner, x to the right along the slices, y down.

pub mod card;
#[cfg(feature = "cli")]
mod codes;
mod find;
mod flatten;
mod ill;
mod light;
mod measure;
#[cfg(feature = "cli")]
mod open;
mod plane;
mod refine;
mod slices;
mod solve;

#[cfg(feature = "cli")]
pub use codes::codes;
pub use find::Code;
pub use flatten::Picture;
pub use ill::{Cut, Doubt, Ill};
pub use measure::{Measured, Shown, Stretch, measure};
#[cfg(feature = "cli")]
pub use open::{MOST_PIXELS, Unopened, open};
pub use plane::Plane;
