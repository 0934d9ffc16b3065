//! The jobs that the bound is for.

use super::bits::MOST;
use crate::solve::problem::Problem;

/// Why there is no bound for a problem, or `None` where there is one.
pub fn no_bound_for(problem: &Problem) -> Option<&'static str> {
    if problem.most > 0 && problem.rows.iter().any(|row| !row.joint_windows.is_empty()) {
        return Some(
            "courses may be joined from several pieces, for which no bound is worked out yet",
        );
    }
    if problem.woods.len() > MOST {
        return Some("there are more strips than the bound can remember");
    }
    if (0..problem.woods.len() as u32).any(|strip| serves_two(problem, strip)) {
        return Some("a strip may serve several courses, for which no bound is worked out yet");
    }
    None
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
