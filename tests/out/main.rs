//! What is written into `out/`: it says the plan and nothing else, and it is there whole or not at all.

#![allow(clippy::unwrap_used, reason = "a test that can't go on stops")]

mod rows;
mod whole;
