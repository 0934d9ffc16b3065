//! The jobs that there is a bound for, and which.

use super::bits::MOST;
use crate::solve::problem::Problem;

/// How a problem is bounded from below.
pub enum Scope {
    /// Every course is one piece and each strip serves one: courses are nodes of a path.
    ByCourse,
    /// Pieces may be joined, or strips serve several courses: the boat is cut across.
    ByMetre,
    /// There is no bound, and why.
    Nothing(&'static str),
}

/// How a problem is bounded.
pub fn scope(problem: &Problem) -> Scope {
    if problem.woods.len() > MOST {
        return Scope::Nothing("there are more strips than the bound can remember");
    }
    let joints = problem.rows.iter().any(|row| !row.joint_windows.is_empty());
    let strips = 0..problem.woods.len() as u32;
    if joints || strips.into_iter().any(|strip| serves_two(problem, strip)) {
        return Scope::ByMetre;
    }
    Scope::ByCourse
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
