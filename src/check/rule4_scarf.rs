//! Rule 4: at a joint both pieces extend half a scarf past its centre, so they overlap by exactly one scarf.

use super::breach::{Breach, Wrong};
use super::rows::Rows;
use super::tolerance::same;

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let scarf = rows.job.rules.scarf();
    let mut found = Vec::new();
    for run in rows.runs() {
        for joint in run.joints() {
            let overlap = joint.fore.to - joint.aft.from;
            if !same(overlap, scarf) {
                let wrong = Wrong::Scarf(overlap - scarf);
                found.push(rows.joint_breach(run, joint.number, wrong));
            }
        }
    }
    found
}
