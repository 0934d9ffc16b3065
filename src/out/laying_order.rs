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
    // A column more where it says something: which strips are not sawn yet.
    let promised = !job.stock.promised().is_empty();
    let header = HEADER.into_iter().chain(promised.then_some("promised"));
    sheet.write_record(header).map_err(format)?;
    for (i, piece) in plan.pieces.iter().enumerate() {
        let name = |strip| job.stock.strip(strip).name.as_str();
        let length = |at| job.unit.exact(at);
        let mut cells = vec![
            (i + 1).to_string(),
            job.hull.panel_of(piece.course).name.clone(),
            job.hull.course(piece.course).name().to_string(),
            piece.side.name().into(),
            piece.number.to_string(),
            name(piece.strip).into(),
            piece.mate.map_or("", name).into(),
            length(piece.from.from_origin()),
            length(piece.to.from_origin()),
            length(piece.cut_from.from_origin()),
            length(piece.cut_to.from_origin()),
            piece.bow_end.name().into(),
            piece.next_edge.name().into(),
            piece.face_out.name().into(),
            side_mark(&job.hull, piece),
        ];
        if promised {
            let said = match job.stock.strip(piece.strip).promised {
                true => "not sawn yet",
                false => "",
            };
            cells.push(said.into());
        }
        sheet.write_record(cells).map_err(format)?;
    }
    sheet.into_inner().map_err(format)
}

fn format(error: impl std::fmt::Display) -> Fault {
    Fault::Format {
        file: FILE,
        why: error.to_string(),
    }
}
