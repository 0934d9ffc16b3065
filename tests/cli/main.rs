//! The commands as a builder meets them: exit status, what is said where, and which files are there afterwards.

#![allow(clippy::unwrap_used, reason = "a test that can't go on stops")]

mod check;
mod demo;
mod disk;
mod folder;
mod input;
mod lines;
mod said;
mod shortage;
mod stop;
