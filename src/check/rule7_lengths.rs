//! Rule 7: no piece of a jointed course is shorter than the shortest allowed, and no course has too many joints.
//!
//! A course in one piece may be as short as it is; a course shorter than the shortest piece therefore must be one.

use super::breach::{Breach, Wrong};
use super::rows::{Rows, shortfall};

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let joints = rows.job.rules.joints;
    let mut found = Vec::new();
    for run in rows.runs().filter(|run| run.pieces.len() > 1) {
        for (piece, from, to) in run.nominal() {
            if let Some(by) = shortfall(to - from, joints.shortest_piece) {
                let wrong = Wrong::TooShort {
                    shortest: joints.shortest_piece,
                    by,
                };
                found.push(rows.piece_breach(piece, wrong));
            }
        }
        let many = run.pieces.len() - 1;
        if many > joints.most as usize {
            let wrong = Wrong::TooManyJoints {
                joints: many,
                most: joints.most,
            };
            found.push(rows.course_breach(run.id, Some(run.side), wrong));
        }
    }
    found
}
