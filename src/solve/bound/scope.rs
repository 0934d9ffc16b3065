//! The jobs that there is a bound for.

use super::bits::MOST;
use crate::solve::asked::BoundReason;
use crate::solve::problem::Problem;

/// The plans that a bound holds for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Scope {
    /// All plans that cover every course.
    All,
    /// Those of them that have no joints: joints are allowed.
    WithoutJoints,
}

/// The plans that there is a bound for, or why there is none. `needs_joints` is whether they are needed,
/// as far as is known.
pub fn scope(problem: &Problem, needs_joints: bool) -> Result<Scope, BoundReason> {
    if problem.is_again() {
        return Err(BoundReason::WoodIsLaid);
    }
    if needs_joints {
        return Err(BoundReason::Joints);
    }
    if problem.woods.len() > MOST {
        return Err(BoundReason::TooLarge);
    }
    let joints = problem.rows.iter().any(|row| !row.joint_windows.is_empty());
    Ok(match joints {
        true => Scope::WithoutJoints,
        false => Scope::All,
    })
}
