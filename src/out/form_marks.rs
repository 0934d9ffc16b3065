//! out/form-marks.csv: where each form falls on each piece.

use super::{Fault, sheet, side_mark};
use crate::job::Job;
use crate::plan::{Plan, form_marks};

const HEADER: [&str; 13] = [
    "order", "panel", "course", "side", "piece", "strip", "form", "u", "from_cut", "s", "width",
    "bevel", "mark",
];

/// The bytes of the form marks, a row for each piece and form; a header alone where no forms are known. Source of the
/// columns: the formats, out/form-marks.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn form_marks_csv(job: &Job, plan: &Plan) -> Result<Vec<u8>, Fault> {
    let mut rows = Vec::new();
    for (i, piece) in plan.pieces.iter().enumerate() {
        let length = |at| job.unit.exact(at);
        for mark in form_marks(&job.hull, piece) {
            let crossing = mark.crossing;
            rows.push(vec![
                (i + 1).to_string(),
                job.hull.panel_of(piece.course).name.clone(),
                job.hull.course(piece.course).name().to_string(),
                piece.side.name().into(),
                piece.number.to_string(),
                job.stock.strip(piece.strip).name.clone(),
                job.hull.forms[crossing.form.0].name.clone(),
                length(mark.at.from_origin()),
                length(mark.from_cut),
                length(crossing.at.from_origin()),
                length(crossing.width),
                crossing
                    .bevel
                    .map_or(String::new(), |bevel| format!("{bevel:.1}")),
                side_mark(&job.hull, piece),
            ]);
        }
    }
    sheet("out/form-marks.csv", &HEADER, rows)
}
