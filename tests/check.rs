//! The checker, and the geometry that it judges by. One program, so that it is linked once.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test that can't go on stops"
)]

mod common;

mod colour_reference;
#[path = "cost_by_hand/main.rs"]
mod cost_by_hand;
mod cost_sampled;
mod facing;
mod form_marks;
mod independence;
#[path = "rules/main.rs"]
mod rules;
mod stretches;
