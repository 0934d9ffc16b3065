//! What the tests are built with: jobs made by hand in a few lines ([`boat`]), random jobs from a seed
//! ([`random_job`]), a plain planner that lays what it finds first ([`naive`]),
//! and what is asked of a text ([`Says`]).
//!
//! Each test file uses a part of it.
#![allow(dead_code, unused_imports, clippy::unwrap_used, clippy::expect_used)]

mod bench;
mod bought;
mod builder;
mod corrupt;
mod first;
mod many;
pub mod naive;
mod random;
mod says;

pub use bench::{Cut, complete, lay_course, lay_whole, spans};
pub use bought::bought;
pub use builder::{Builder, boat, mm};
pub use corrupt::{Corruption, corruptions, every_way};
pub use first::{AtOnce, first_plan};
pub use many::many;
pub use random::{Size, any_job, random_job};
pub use says::Says;
