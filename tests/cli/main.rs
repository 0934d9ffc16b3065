//! The commands as a builder meets them: exit status, what is said where, and which files are there afterwards.

#![allow(clippy::unwrap_used, reason = "a test that can't go on stops")]

mod boards;
#[path = "../photographs/camera.rs"]
#[allow(dead_code, reason = "the tests of photographs use all of it")]
mod camera;
mod check;
mod choices;
mod demo;
#[path = "../photographs/desk.rs"]
#[allow(dead_code, reason = "the tests of photographs use all of it")]
mod desk;
mod disk;
mod folder;
mod input;
mod large;
mod lines;
#[path = "../log/main.rs"]
mod log;
mod paper;
mod photos;
mod pictures;
#[path = "../paper/poppler.rs"]
#[allow(dead_code, reason = "the tests of the pages use all of it")]
mod poppler;
#[path = "../readme.rs"]
mod readme;
mod said;
mod saw;
#[path = "../common/says.rs"]
mod says;
mod shortage;
mod stop;
mod stranger;
mod swap;
mod wants;
mod why;
