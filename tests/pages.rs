//! Pictures, pages and files of a plan. One program, so that it is linked once.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test that can't go on stops"
)]

mod common;

#[path = "bench/main.rs"]
mod bench;
#[path = "draw/main.rs"]
mod draw;
#[path = "cli/folder.rs"]
#[allow(dead_code, reason = "the tests of the commands use all of it")]
mod folder;
#[path = "out/main.rs"]
mod out;
#[path = "paper/main.rs"]
mod paper;
#[path = "photographs/main.rs"]
mod photographs;
#[path = "report/main.rs"]
mod report;
