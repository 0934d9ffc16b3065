//! Twinstrake plans the planking of a strip-built boat: which book-matched pair goes on which course, cut where, which
//! way round, in which order.
//!
//! The map, in the order in which things depend on each other:
//!
//! - [`units`] — lengths, places, colours
//! - [`stock`] — the wood
//! - [`hull`] — the boat
//! - [`plan`] — what is decided, and the orientation algebra
//! - [`lines`] — from forms and offsets to courses
//! - [`disk`] — files, written whole or not at all
//! - [`log`] — what has happened in the shop
//! - [`job`] — a job folder, read and judged
//! - [`check`] — the checker, which trusts nothing but the files
//! - [`solve`] — the search
//! - [`why`] — why this plan: what each rule costs, and which demands clash
//! - [`choices`] — a choice of plans, from the best-looking to the thriftiest
//! - [`draw`] — pictures
//! - [`paper`] — labels and sheets for the bench
//! - [`report`] — the whole plan on one page
//! - [`out`] — the files of a plan

pub mod check;
pub mod choices;
pub mod disk;
pub mod draw;
pub mod hull;
// Jobs to measure and test on; no part of what a user of the library gets.
#[cfg(any(test, feature = "invented"))]
#[doc(hidden)]
pub mod invented;
pub mod job;
pub mod lines;
pub mod log;
pub mod out;
pub mod paper;
pub mod plan;
pub mod report;
pub mod solve;
pub mod stock;
pub mod units;
pub mod why;
