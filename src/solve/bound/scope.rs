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
    let strips = 0..problem.woods.len() as u32;
    if joints || strips.into_iter().any(|strip| serves_two(problem, strip)) {
        return Some(BoundReason::Joints);
    }
    (problem.woods.len() > MOST).then_some(BoundReason::TooLarge)
}

/// Whether two courses could be cut from one strip.
fn serves_two(problem: &Problem, strip: u32) -> bool {
    let mut lengths: Vec<i64> = problem.rows.iter().map(|row| row.one_piece()).collect();
    lengths.sort_unstable();
    let [short, other, ..] = lengths[..] else {
        return false;
    };
    let clear = &problem.woods[strip as usize].clear;
    let apart = clear.iter().filter(|(a, b)| b - a >= short).count() > 1;
    apart
        || clear
            .iter()
            .any(|(a, b)| b - a >= short + problem.saw + other)
}
