//! The hull in three dimensions: each piece a ribbon of wood on the skin, between the two edges of its course.
//!
//! Decides where the wood lies in space. The edges are those curves that give the courses their lengths
//! ([`crate::lines::CourseEdge`]), so nothing here is a second opinion on the lines. Across its width a strip is flat,
//! as it is on the boat. Start with `edges`, then `ribbon`, and `shape` for the skin without wood; `gltf`, `glb` and
//! `page` are what a file format asks for.
//!
//! Frame: x aft of the bow, y to starboard, z up. Unit: millimetre, and metre in the files.

mod body;
mod edges;
mod glb;
mod gltf;
mod page;
mod ribbon;
mod shape;

pub use body::{Body, Vertex};
pub use glb::{Faces, Planked, write as glb};
pub use page::{of_shape as shape_page, write as page};
pub use ribbon::{Place, Ribbon, ribbons};
pub use shape::write as shape;

use crate::hull::{CourseId, PanelId};

/// Why there is no honest shape.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Missing {
    /// The panel has girths alone: how long and how wide it is, but not where it lies.
    Offsets(PanelId),
    /// The course is none that was worked out from the forms.
    Lines(CourseId),
}
