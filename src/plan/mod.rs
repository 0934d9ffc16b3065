//! What is decided: which piece of which strip goes where, which way round. Plain data; no search in it.

mod cost;
mod facing;
mod form_marks;
mod order;
mod piece;
mod rules;
mod want;

pub use cost::Cost;
pub use facing::{BowEnd, Edge, Face, Facing, next_edge_sign};
pub use form_marks::{FormMark, form_marks};
pub use order::in_laying_order;
pub use piece::{Piece, Plan};
pub use rules::{Allow, Edges, Joints, Rules, Weights};
pub use want::Want;
