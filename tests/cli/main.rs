//! The commands as a builder meets them: exit status, what is said where, and which files are there afterwards.

#![allow(clippy::unwrap_used, reason = "a test that can't go on stops")]

mod check;
mod choices;
mod demo;
mod disk;
mod folder;
mod input;
mod said;
mod shortage;
mod stop;
mod why;
