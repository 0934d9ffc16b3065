//! Rule 1: every course is covered from bow to stern, with the allowance of each end, on every side that it has; or it
//! is left out whole, and listed.

use std::collections::BTreeSet;

use super::breach::{Breach, Tip, Wrong};
use super::rows::{Rows, Run, shortfall};
use crate::hull::CourseId;
use crate::units::Length;

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let mut found = Vec::new();
    let mut left_out = BTreeSet::new();
    for &id in &rows.plan.uncovered {
        if !left_out.insert(id) {
            found.push(rows.course_breach(id, None, Wrong::LeftOutTwice));
        }
    }
    for (id, course) in rows.job.hull.courses() {
        if left_out.contains(&id) {
            found.extend(laid_all_the_same(rows, id));
            continue;
        }
        for &side in course.sides() {
            match rows.run(id, side) {
                Some(run) => covered(rows, run, &mut found),
                None => found.push(rows.course_breach(id, Some(side), Wrong::NotCovered)),
            }
        }
    }
    for run in rows.runs() {
        if !run.course.sides().contains(&run.side) {
            for piece in &run.pieces {
                found.push(rows.piece_breach(piece, Wrong::NoSuchSide));
            }
        }
    }
    found
}

fn laid_all_the_same(rows: &Rows, id: CourseId) -> Option<Breach> {
    let pieces: usize = rows
        .runs()
        .filter(|run| run.id == id)
        .map(|run| run.pieces.len())
        .sum();
    (pieces > 0).then(|| rows.course_breach(id, None, Wrong::LeftOutButLaid(pieces)))
}

fn covered(rows: &Rows, run: &Run, found: &mut Vec<Breach>) {
    let mut last = 0;
    for piece in &run.pieces {
        if piece.number == 0 {
            found.push(rows.piece_breach(piece, Wrong::NumberZero));
        } else if piece.number == last {
            found.push(rows.piece_breach(piece, Wrong::NumberTwice));
        } else if piece.number - last > 1 {
            let wrong = Wrong::NumbersMissing(last + 1, piece.number - 1);
            found.push(rows.course_breach(run.id, Some(run.side), wrong));
        }
        last = piece.number;
    }
    if let Some(piece) = run.pieces.first() {
        let allowed = rows.job.rules.allowance(run.course.bow_end);
        if let Some(by) = shortfall(-piece.from.from_origin(), allowed) {
            let tip = Tip::Bow;
            found.push(rows.piece_breach(piece, Wrong::EndNotReached { tip, by }));
        }
    }
    if let Some(piece) = run.pieces.last() {
        let allowed = rows.job.rules.allowance(run.course.stern_end);
        let past = piece.to.from_origin() - run.course.length;
        if let Some(by) = shortfall(past, allowed) {
            let tip = Tip::Stern;
            found.push(rows.piece_breach(piece, Wrong::EndNotReached { tip, by }));
        }
    }
    for joint in run.joints() {
        if let Some(by) = shortfall(joint.fore.to - joint.aft.from, Length::ZERO) {
            found.push(rows.joint_breach(run, joint.number, Wrong::Hole(by)));
        }
    }
}
