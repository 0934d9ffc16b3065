//! The joint term: each joint as if one metre long.

use super::weight;
use crate::check::rows::{Joint, Rows};
use crate::job::Job;
use crate::units::delta_e;

/// How many joints there are, one on both sides counting once, and what they cost.
pub(super) fn reckon(rows: &Rows) -> (usize, f64) {
    let job = rows.job;
    let (mut joints, mut cost) = (0, 0.0);
    for (id, course) in job.hull.courses() {
        let sides: Vec<Vec<Joint>> = rows.runs_of(id).map(|run| run.joints()).collect();
        let most = sides.iter().map(Vec::len).max().unwrap_or(0);
        for number in 0..most {
            let here: Vec<&Joint> = sides.iter().filter_map(|side| side.get(number)).collect();
            let Some(first) = here.first() else { continue };
            let steps: f64 = here.iter().map(|joint| step(job, joint)).sum();
            let weight = weight::at(&job.hull, course, course.x_at(first.at));
            cost += weight * (job.weights.joint + steps / here.len() as f64);
            joints += 1;
        }
    }
    (joints, cost)
}

fn step(job: &Job, joint: &Joint) -> f64 {
    delta_e(
        job.stock.strip(joint.fore.strip).colour,
        job.stock.strip(joint.aft.strip).colour,
    )
}
