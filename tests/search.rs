//! The search: against the checker, against known optima, and planning again. One program, so that it is linked once.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test that can't go on stops"
)]

mod common;

#[path = "again/main.rs"]
mod again;
mod choices;
mod enumerated;
mod oracle;
mod random_jobs;
mod run_outs;
mod solver;
mod taken_up;
mod wants;
mod why;
