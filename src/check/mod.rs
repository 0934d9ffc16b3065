//! The checker: judges a plan from the job and the rows alone.
//!
//! It knows the ten hard rules and the cost as docs/model.md states them, and shares nothing with whatever made the
//! plan but the plain data types and the colour difference. It never skips a rule and never stops at the first breach,
//! and no row is too wild to be judged. One file a rule; start with `rows`, then `rule1_covered`.

mod begun;
mod breach;
mod cost;
mod rows;
mod rule10_wants;
mod rule1_covered;
mod rule2_mirrored;
mod rule3_cuts;
mod rule4_scarf;
mod rule5_kept_clear;
mod rule6_staggered;
mod rule7_lengths;
mod rule8_facing;
mod rule9_laid;
#[doc(hidden)]
pub mod tolerance;
mod verdict;
mod words;

pub use begun::check_laid;
pub use breach::{Breach, CoursePart, Tip, Where, Wrong};
pub use verdict::{MatchFigure, SeamFigure, Verdict};

use crate::job::Job;
use crate::plan::Plan;

/// Judges a plan against every hard rule, and reckons its cost term by term.
///
/// The ids in the rows must be of this job; everything else about them may be wrong.
pub fn check(job: &Job, plan: &Plan) -> Verdict {
    let rows = rows::Rows::of(job, plan);
    let breaches = [
        rule1_covered::breaches(&rows),
        rule2_mirrored::breaches(&rows),
        rule3_cuts::breaches(&rows),
        rule4_scarf::breaches(&rows),
        rule5_kept_clear::breaches(&rows),
        rule6_staggered::breaches(&rows),
        rule7_lengths::breaches(&rows),
        rule8_facing::breaches(&rows),
        rule9_laid::breaches(&rows),
        rule10_wants::breaches(&rows),
    ]
    .concat();
    Verdict {
        breaches,
        ..cost::reckon(&rows)
    }
}
