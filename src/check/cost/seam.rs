//! The seam term: what the eye meets between two neighbouring courses.

use super::{Steps, apart, weight};
use crate::check::rows::{Rows, Run};
use crate::check::verdict::SeamFigure;
use crate::hull::{Course, Kind, Side};
use crate::job::Job;
use crate::plan::{BowEnd, Piece};
use crate::units::{Length, delta_e};

pub(super) fn figures(rows: &Rows) -> Vec<SeamFigure> {
    let mut figures = Vec::new();
    for (upper, course) in rows.job.hull.courses() {
        let all = rows.job.hull.courses();
        for (lower, next) in all.filter(|(_, next)| course.lies_before(next)) {
            for (side, one, other) in sides(course, next) {
                if let (Some(one), Some(other)) = (rows.run(upper, *one), rows.run(lower, *other)) {
                    figures.extend(figure(rows.job, *side, one, other));
                }
            }
        }
    }
    figures
}

/// A side of the boat, and which side's pieces of the upper and of the lower course meet there.
pub(super) type Meeting = (Side, Side, Side);

/// A centre course meets both its port and its starboard neighbour; two centre courses meet once.
pub(super) const fn sides(upper: &Course, lower: &Course) -> &'static [Meeting] {
    use Side::{Centre, Port, Starboard};
    match (upper.kind, lower.kind) {
        (Kind::Mirrored, Kind::Mirrored) => {
            &[(Port, Port, Port), (Starboard, Starboard, Starboard)]
        }
        (Kind::Mirrored, Kind::Centre) => &[(Port, Port, Centre), (Starboard, Starboard, Centre)],
        (Kind::Centre, Kind::Mirrored) => &[(Port, Centre, Port), (Starboard, Centre, Starboard)],
        (Kind::Centre, Kind::Centre) => &[(Centre, Centre, Centre)],
    }
}

fn figure(job: &Job, side: Side, upper: &Run, lower: &Run) -> Option<SeamFigure> {
    let accent = accent(job, upper.course, lower.course);
    let mut steps = Steps::default();
    let mut length = Length::ZERO;
    let mut cost = 0.0;
    let mut guessed = true;
    for (p, q, over, weight) in weight::beside(&job.hull, upper, lower) {
        let [one, other] = [p, q].map(|piece| job.stock.strip(piece.strip).colour);
        guessed &= one.is_a_guess_away(other);
        let colour = delta_e(one, other);
        let shown = match accent {
            Some(accent) => (accent - colour).max(0.0),
            None => colour,
        };
        cost += weight * (shown + figure_step(job, p, q));
        steps.add(colour, over.metres());
        length += over;
    }
    (length > Length::ZERO).then(|| SeamFigure {
        panel: upper.course.panel,
        upper: upper.id,
        lower: lower.id,
        side,
        step: steps.mean(),
        worst: steps.worst,
        length,
        cost,
        accent,
        guessed,
    })
}

/// How much contrast is welcome on a seam at the outer edge of an accent band; none elsewhere. Unit: ΔE00.
fn accent(job: &Job, upper: &Course, lower: &Course) -> Option<f64> {
    let at_edge = job
        .wants
        .iter()
        .filter(|want| want.covers(upper) != want.covers(lower));
    at_edge.filter_map(|want| want.accent).reduce(f64::max)
}

/// step(P, Q) of the model: how much the figure jumps, beyond the colour. Unit: ΔE00.
fn figure_step(job: &Job, p: &Piece, q: &Piece) -> f64 {
    let weights = job.weights;
    let Some(seqs) = apart(&job.stock, p.strip, q.strip) else {
        return weights.board;
    };
    let skipped = weights.skip * f64::from(seqs.saturating_sub(2));
    let shift = if p.bow_end == q.bow_end {
        let out_of_register = (register(job, p) - register(job, q)).abs();
        out_of_register.metres().min(1.0)
    } else {
        1.0
    };
    weights.board.min(skipped) + weights.shift * shift
}

/// r of the model: where the board's figure lies along the boat.
fn register(job: &Job, piece: &Piece) -> Length {
    let bow_tip = job.hull.course(piece.course).x_at(piece.from).from_origin();
    match piece.bow_end {
        BowEnd::Mark => bow_tip - piece.cut_from.from_origin(),
        BowEnd::Plain => bow_tip + piece.cut_to.from_origin(),
    }
}
