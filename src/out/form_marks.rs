//! out/form-marks.csv: where each form falls on each piece.

use super::{Fault, side_mark};
use crate::job::Job;
use crate::plan::{Plan, form_marks};

const FILE: &str = "out/form-marks.csv";

const HEADER: [&str; 13] = [
    "order", "panel", "course", "side", "piece", "strip", "form", "u", "from_cut", "s", "width",
    "bevel", "mark",
];

/// The bytes of the form marks, a row for each piece and form; a header alone where no forms are known. Source of the columns: the
/// formats, out/form-marks.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn form_marks_csv(job: &Job, plan: &Plan) -> Result<Vec<u8>, Fault> {
    let mut sheet = csv::Writer::from_writer(Vec::new());
    sheet.write_record(HEADER).map_err(format)?;
    for (i, piece) in plan.pieces.iter().enumerate() {
        let length = |at| job.unit.exact(at);
        for mark in form_marks(&job.hull, piece) {
            let crossing = mark.crossing;
            sheet
                .write_record([
                    (i + 1).to_string().as_str(),
                    &job.hull.panel_of(piece.course).name,
                    &job.hull.course(piece.course).name().to_string(),
                    piece.side.name(),
                    &piece.number.to_string(),
                    &job.stock.strip(piece.strip).name,
                    &job.hull.forms[crossing.form.0].name,
                    &length(mark.at.from_origin()),
                    &length(mark.from_cut),
                    &length(crossing.at.from_origin()),
                    &length(crossing.width),
                    &crossing
                        .bevel
                        .map_or(String::new(), |bevel| format!("{bevel:.1}")),
                    &side_mark(&job.hull, piece),
                ])
                .map_err(format)?;
        }
    }
    sheet.into_inner().map_err(format)
}

fn format(error: impl std::fmt::Display) -> Fault {
    Fault::Format {
        file: FILE,
        why: error.to_string(),
    }
}
