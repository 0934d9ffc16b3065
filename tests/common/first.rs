//! A plan of the search that takes next to no time: for tests to which any plan is as good as the best.

use twinstrake::job::Job;
use twinstrake::plan::Plan;
use twinstrake::solve::{Asked, Progress, Watch, lay};

/// Stops the search before it has begun.
pub struct AtOnce;

impl Watch for AtOnce {
    fn progress(&self, _: &Progress) {}
    fn stop(&self) -> bool {
        true
    }
}

/// The search's first plan, and nothing that would better it.
pub fn first_plan(job: &Job, seed: u64) -> Plan {
    let asked = Asked {
        seed,
        trial: true,
        ..Asked::default()
    };
    lay(job, &asked, &AtOnce).plan
}
