//! out/laying-order.csv: a row for each piece and side, in the order of laying.

use super::{Fault, side_mark};
use crate::job::Job;
use crate::plan::Plan;

const FILE: &str = "out/laying-order.csv";

const HEADER: [&str; 15] = [
    "order",
    "panel",
    "course",
    "side",
    "piece",
    "strip",
    "mate",
    "from",
    "to",
    "cut_from",
    "cut_to",
    "bow_end",
    "next_edge",
    "face_out",
    "mark",
];

/// The bytes of the laying order. Source of the columns: the formats, out/laying-order.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn laying_order(job: &Job, plan: &Plan) -> Result<Vec<u8>, Fault> {
    let mut sheet = csv::Writer::from_writer(Vec::new());
    sheet.write_record(HEADER).map_err(format)?;
    for (i, piece) in plan.pieces.iter().enumerate() {
        let name = |strip| job.stock.strip(strip).name.as_str();
        let length = |at| job.unit.exact(at);
        sheet
            .write_record([
                (i + 1).to_string().as_str(),
                &job.hull.panel_of(piece.course).name,
                &job.hull.course(piece.course).name().to_string(),
                piece.side.name(),
                &piece.number.to_string(),
                name(piece.strip),
                piece.mate.map_or("", name),
                &length(piece.from.from_origin()),
                &length(piece.to.from_origin()),
                &length(piece.cut_from.from_origin()),
                &length(piece.cut_to.from_origin()),
                piece.bow_end.name(),
                piece.next_edge.name(),
                piece.face_out.name(),
                &side_mark(&job.hull, piece),
            ])
            .map_err(format)?;
    }
    sheet.into_inner().map_err(format)
}

fn format(error: impl std::fmt::Display) -> Fault {
    Fault::Format {
        file: FILE,
        why: error.to_string(),
    }
}
