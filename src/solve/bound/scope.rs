//! The jobs that there is a bound for.

use super::bits::MOST;
use crate::solve::asked::BoundReason;
use crate::solve::problem::Problem;

/// Why there is no bound, where there is none.
pub fn out_of_scope(problem: &Problem) -> Option<BoundReason> {
    if problem.is_again() {
        return Some(BoundReason::WoodIsLaid);
    }
    let joints = problem.rows.iter().any(|row| !row.joint_windows.is_empty());
    if joints {
        return Some(BoundReason::Joints);
    }
    (problem.woods.len() > MOST).then_some(BoundReason::TooLarge)
}
