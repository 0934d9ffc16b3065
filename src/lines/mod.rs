//! The lines of the boat: from girths taped round the forms, or from offsets, to courses.
//!
//! Decides where each course begins and ends, how wide it is at every form, how long it is along the skin, what bevel
//! it takes and how its ends narrow. It must not know files, wood or plans: what it is told comes in as [`PanelShape`],
//! what it finds goes out as [`Laid`]. Planner and checker both start from what it finds, so it has tests of its own
//! against closed forms. Start with `courses`.
//!
//! Everything here is reckoned in millimetres and `f64`: it is measured with a tape, not with an inch rule's
//! nanometres.

mod area;
mod bands;
mod bevel;
mod closing;
mod courses;
mod curve;
mod fair;
mod fit;
mod misprint;
mod need;
mod panel;
mod skin;
mod taper;
mod ways;

pub use area::area;
pub use bands::{Band, Covers, bands};
pub use bevel::{bevel, gape, radius};
pub use closing::{Closing, closing};
pub use courses::{Laid, MOST, TooMany, courses};
pub use curve::{Bend, Curve, Point};
pub(crate) use curve::{dot, length, sub};
pub use fair::Fair;
pub use fit::Plane;
pub use misprint::{Misprint, Ordinate, misprints};
pub use need::{BoardSize, Boards, Need, NeedTerms, boards, need, one_piece, slices};
pub use panel::{Centre, Fit, Measured, PanelShape, Scantling};
pub use skin::CourseEdge;
pub use taper::Taper;
