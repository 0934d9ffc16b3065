//! Rule 5: no scarf, over its whole length, lies in a zone that is kept clear. It may touch the zone's edge.

use super::breach::{Breach, Wrong};
use super::rows::Rows;
use super::tolerance::LENGTH;

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let half = rows.job.rules.half_scarf();
    let mut found = Vec::new();
    for run in rows.runs() {
        for joint in run.joints() {
            let fore = run.course.x_at(joint.at - half);
            let aft = run.course.x_at(joint.at + half);
            for zone in &rows.job.hull.keep_clear {
                let by = aft.min(zone.to) - fore.max(zone.from);
                if zone.covers(run.course) && by > LENGTH {
                    let wrong = Wrong::InZone {
                        name: zone.name.clone(),
                        from: zone.from,
                        to: zone.to,
                        by,
                    };
                    found.push(rows.joint_breach(run, joint.number, wrong));
                }
            }
        }
    }
    found
}
