//! out/laying-order.csv: a row for each piece and side, in the order of laying.

use super::{Fault, LAYING_ORDER, in_64ths, sheet, side_mark, with_64ths};
use crate::job::{Job, LAYING_ORDER_COLUMNS};
use crate::plan::Plan;

/// The bytes of the laying order. Source of the columns: the formats, out/laying-order.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn laying_order(job: &Job, plan: &Plan) -> Result<Vec<u8>, Fault> {
    // A column more where it says something: which strips are not sawn yet.
    let promised = !job.stock.promised().is_empty();
    let rows = plan.pieces.iter().enumerate().map(|(i, piece)| {
        let name = |strip| job.stock.strip(strip).name.clone();
        let length = |at| job.unit.exact(at);
        let cuts = [piece.cut_from, piece.cut_to].map(|cut| cut.from_origin());
        let mut row = vec![
            (i + 1).to_string(),
            job.hull.panel_of(piece.course).name.clone(),
            job.hull.course(piece.course).name().to_string(),
            piece.side.name().into(),
            piece.number.to_string(),
            name(piece.strip),
            piece.mate.map_or(String::new(), name),
            length(piece.from.from_origin()),
            length(piece.to.from_origin()),
            length(cuts[0]),
            length(cuts[1]),
            piece.bow_end.name().into(),
            piece.next_edge.name().into(),
            piece.face_out.name().into(),
            side_mark(&job.hull, piece),
        ];
        row.extend(in_64ths(job.unit, &cuts));
        if promised {
            let said = match job.stock.strip(piece.strip).promised {
                true => "not sawn yet",
                false => "",
            };
            row.push(said.into());
        }
        row
    });
    let [own @ .., if_promised, bow_64, stern_64] = LAYING_ORDER_COLUMNS;
    let mut header = with_64ths(job.unit, &own, &[bow_64, stern_64]);
    header.extend(promised.then_some(if_promised));
    sheet(LAYING_ORDER, &header, rows)
}
