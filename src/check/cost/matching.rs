//! The match term: what the eye meets between the two sides of the boat.

use super::{Steps, apart, weight};
use crate::check::rows::Rows;
use crate::check::verdict::MatchFigure;
use crate::hull::{Kind, Side};
use crate::job::Job;
use crate::stock::StripId;
use crate::units::delta_e;

pub(super) fn figures(rows: &Rows) -> Vec<MatchFigure> {
    let job = rows.job;
    let mut figures = Vec::new();
    for (id, course) in job.hull.courses() {
        let (Kind::Mirrored, Some(port), Some(starboard)) = (
            course.kind,
            rows.run(id, Side::Port),
            rows.run(id, Side::Starboard),
        ) else {
            continue;
        };
        let mut steps = Steps::default();
        let mut cost = 0.0;
        for (piece, from, to) in port.nominal_on_boat() {
            let mate = starboard
                .pieces
                .iter()
                .find(|mate| mate.number == piece.number);
            let Some(mate) = mate.filter(|_| from < to) else {
                continue;
            };
            let colour = delta_e(
                job.stock.strip(piece.strip).colour,
                job.stock.strip(mate.strip).colour,
            );
            let weight = weight::over(&job.hull, course, from, to);
            cost += weight * (colour + foster(job, piece.strip, mate.strip));
            steps.add(colour, (to - from).metres());
        }
        if steps.met > 0.0 {
            figures.push(MatchFigure {
                course: id,
                step: steps.mean(),
                worst: steps.worst,
                cost,
            });
        }
    }
    figures
}

/// foster(a, b) of the model: how much the figure of two mates differs, beyond the colour. Unit: ΔE00.
fn foster(job: &Job, one: StripId, other: StripId) -> f64 {
    let weights = job.weights;
    if job.stock.are_sisters(one, other) {
        return 0.0;
    }
    match apart(&job.stock, one, other) {
        Some(seqs) => weights
            .foster
            .min(weights.skip * f64::from(seqs.saturating_sub(1))),
        None => weights.foster,
    }
}
