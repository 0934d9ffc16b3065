//! Reading a job folder: what is understood, and what is complained of.

#![allow(clippy::unwrap_used, reason = "a test that can't go on stops")]

mod boards;
mod colours;
mod complaints_boat;
mod complaints_courses;
mod complaints_files;
mod complaints_forms;
mod complaints_strips;
mod complaints_wants;
mod demo;
mod documents;
mod folder;
mod fuzz;
mod lengths;
#[path = "../lines/main.rs"]
mod lines;
mod plan;
#[path = "../common/says.rs"]
#[allow(dead_code, reason = "the tests of the commands use all of it")]
mod says;
mod sheets;
mod spreadsheets;
mod stationery;
