//! The cheapest paths by whole stays: from the course on which a path enters a board to the one on which it leaves it.
//!
//! What a stay costs, for every pair that it may begin and end with and every number of courses, is worked out once for given prices, all slices
//! of the board being told apart ([`Stays`]). A pass then goes from stay to stay and has to remember only how many slices are gone of boards
//! that were left: everything else that a path knows is in the tables. Paths that know the same are kept side by side, a cost for each
//! pair that they may be at, and so many of them are looked at in one sweep. Start with [`look`].
//!
//! Where the slices of a board can be taken in too many orders there are no tables ([`Field::new`] gives `None`), and the labels of
//! the ladder have to do.

mod crew;
mod field;
mod groups;
mod look;
mod pass;
mod table;
mod walk;

pub use field::Field;
pub use look::{Begun, look};
use pass::{Bounds, Found, Pass, Way};
use table::Stays;
