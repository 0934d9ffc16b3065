//! Pictures.
//!
//! A picture is decided once, as a [`scene`]: shapes, words and groups in millimetres of paper. What a file format asks for is
//! known to its back end alone ([`svg`]). Nothing here reads or writes a file. Start with `planking`, then `sheet`,
//! which decides what lies where.

mod fit;
mod forms;
mod ink;
mod legend;
mod marks;
mod pieces;
mod planking;
mod ruler;
pub mod scene;
mod sheet;
pub mod svg;
mod words;
mod zones;

use crate::check::Verdict;
use crate::job::Job;
use crate::plan::Plan;

/// The planking as SVG: both sides of the boat opened flat, mirrored about the centreline, seen from outside.
///
/// The same job and plan give the same bytes. A plan with breaches is drawn as far as its rows make sense, and says so.
pub fn planking(job: &Job, plan: &Plan, verdict: &Verdict) -> String {
    svg::write(&planking::scene(job, plan, verdict))
}
