//! The drift term: colour that goes the wrong way from one course of a panel to the next. Unit: ΔE00·metre.

use super::seam::sides;
use super::weight;
use crate::check::rows::{Rows, Run};
use crate::hull::{Course, Drift, Shade};
use crate::job::Job;

pub(super) fn reckon(rows: &Rows) -> f64 {
    let hull = &rows.job.hull;
    let mut cost = 0.0;
    for (upper, course) in hull.courses() {
        let Some(drift) = hull.panel(course.panel).drift else {
            continue;
        };
        for (lower, next) in hull
            .courses()
            .filter(|(_, next)| are_compared(rows.job, course, next))
        {
            for (_, one, other) in sides(course, next) {
                if let (Some(one), Some(other)) = (rows.run(upper, *one), rows.run(lower, *other)) {
                    cost += between(rows.job, drift, one, other);
                }
            }
        }
    }
    cost
}

/// Whether no course but those of accent bands lies between two, and neither is in one itself.
fn are_compared(job: &Job, upper: &Course, lower: &Course) -> bool {
    let in_accent = |number: u32| {
        let mut accents = job.wants.iter().filter(|want| want.accent.is_some());
        accents.any(|want| want.panel == upper.panel && want.covers_number(number))
    };
    upper.panel == lower.panel
        && upper.number < lower.number
        && !in_accent(upper.number)
        && !in_accent(lower.number)
        && (upper.number + 1..lower.number).all(in_accent)
}

fn between(job: &Job, drift: Drift, upper: &Run, lower: &Run) -> f64 {
    let mut cost = 0.0;
    for (p, q, _, weight) in weight::beside(&job.hull, upper, lower) {
        let lighter = job.stock.strip(q.strip).colour.l - job.stock.strip(p.strip).colour.l;
        let wrong_way = match drift.shade {
            Shade::Darker => lighter.max(0.0),
            Shade::Lighter => (-lighter).max(0.0),
        };
        cost += weight * drift.against * wrong_way;
    }
    cost
}
