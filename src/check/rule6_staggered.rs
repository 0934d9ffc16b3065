//! Rule 6: joints of near courses in one panel keep clear of each other along the boat.

use super::breach::{Breach, CoursePart, Wrong};
use super::rows::{Rows, Run, shortfall};
use crate::hull::Side;

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let near = rows.job.rules.joints.clear_courses;
    let mut found = Vec::new();
    let jointed: Vec<&Run> = rows.runs().filter(|run| run.pieces.len() > 1).collect();
    for run in &jointed {
        for earlier in &jointed {
            let neighbours = earlier.course.panel == run.course.panel
                && earlier.id < run.id
                && run.course.number.abs_diff(earlier.course.number) <= near
                && meet(earlier.side, run.side);
            if neighbours {
                apart(rows, earlier, run, &mut found);
            }
        }
    }
    found
}

/// Whether courses on these sides lie side by side: a centre course is near both.
fn meet(one: Side, other: Side) -> bool {
    one == other || one == Side::Centre || other == Side::Centre
}

fn apart(rows: &Rows, earlier: &Run, run: &Run, found: &mut Vec<Breach>) {
    let clear = rows.job.rules.joints.clear;
    for joint in run.joints() {
        let here = run.course.x_at(joint.at);
        for there in earlier.joints() {
            let distance = (here - earlier.course.x_at(there.at)).abs();
            if let Some(by) = shortfall(distance, clear) {
                let part = CoursePart::Joint(there.number);
                let other = rows.place(earlier.id, Some(earlier.side), part);
                let wrong = Wrong::TooNear { other, clear, by };
                found.push(rows.joint_breach(run, joint.number, wrong));
            }
        }
    }
}
