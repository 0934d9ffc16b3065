//! Twinstrake plans the planking of a strip-built boat: which book-matched pair goes on which course, cut where, which
//! way round, in which order.
//!
//! The map, in the order in which things depend on each other:
//!
//! - [`untrusted`] — text from outside, made safe to show
//! - [`units`] — lengths, places, colours
//! - [`stock`] — the wood
//! - [`hull`] — the boat
//! - [`plan`] — what is decided, and the orientation algebra
//! - [`log`] — what has happened in the shop
//! - [`job`] — a job folder, read and judged
//! - [`check`] — the checker, which trusts nothing but the files
//! - [`solve`] — the search
//! - [`draw`] — pictures
//! - [`report`] — the whole plan on one page
//! - [`paper`] — labels and sheets for the bench
//! - [`solid`] — the hull in three dimensions
//!
//! A job read, laid, checked and drawn:
//!
//! ```
//! use std::{error::Error, fs, path::Path};
//! use twinstrake::check::check;
//! use twinstrake::job;
//! use twinstrake::solve::{Asked, Quiet, lay};
//!
//! fn drawn(folder: &Path, to: &Path) -> Result<(), Box<dyn Error>> {
//!     // Whatever is wrong with the files is told at once, by file and line.
//!     let reading = job::read(folder).map_err(|all| format!("{} complaints", all.len()))?;
//!     let asked = Asked { seed: 1, rounds: Some(1), seconds: None, ..Asked::default() };
//!     let outcome = lay(&reading.job, &asked, &Quiet);
//!     let verdict = check(&reading.job, &outcome.plan);
//!     assert!(verdict.breaches.is_empty());
//!     fs::write(to, twinstrake::draw::planking(&reading.job, &outcome.plan, &verdict))?;
//!     Ok(())
//! }
//!
//! # fn main() -> Result<(), Box<dyn Error>> {
//! # let out = tempfile::tempdir()?;
//! drawn(Path::new("demo-stock"), &out.path().join("planking.svg"))
//! # }
//! ```
//!
//! The modules `lines`, `mill`, `photographs`, `sorting`, `why`, `choices`, `out` and `disk`, and what is left out of
//! these pages elsewhere, are public only because the program of this package is built on them. They change without
//! notice.

pub mod check;
#[doc(hidden)]
pub mod choices;
#[doc(hidden)]
pub mod disk;
pub mod draw;
pub mod hull;
// Jobs to measure and test on; no part of what a user of the library gets.
#[cfg(any(test, feature = "invented"))]
#[doc(hidden)]
pub mod invented;
pub mod job;
#[doc(hidden)]
pub mod lines;
pub mod log;
#[doc(hidden)]
pub mod mill;
#[doc(hidden)]
pub mod out;
pub mod paper;
#[doc(hidden)]
pub mod photographs;
pub mod plan;
pub mod report;
pub mod solid;
pub mod solve;
#[doc(hidden)]
pub mod sorting;
pub mod stock;
pub mod units;
#[doc(hidden)]
pub mod untrusted;
#[doc(hidden)]
pub mod why;
