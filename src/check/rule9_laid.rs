//! Rule 9: what is glued on stays as it was laid, and no piece lies across a cut that was made.

use super::breach::{Breach, Wrong};
use super::rows::Rows;
use super::tolerance::{LENGTH, same};
use crate::plan::Piece;
use crate::units::{Frame, Place};

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let mut found = Vec::new();
    for laid in &rows.job.laid {
        let place = (laid.course, laid.side, laid.number);
        let changes = rows
            .plan
            .pieces
            .iter()
            .filter(|piece| (piece.course, piece.side, piece.number) == place)
            .map(|piece| changes(laid, piece))
            .min_by_key(Vec::len);
        match changes {
            None => found.push(rows.piece_breach(laid, Wrong::LaidMissing)),
            Some(what) if !what.is_empty() => {
                found.push(rows.piece_breach(laid, Wrong::LaidChanged(what)));
            }
            Some(_) => {}
        }
    }
    let pieces = rows.plan.pieces.iter();
    found.extend(pieces.flat_map(|piece| across(rows, piece)));
    found
}

/// The cuts in its strip that a piece lies across, which is not laid itself.
fn across(rows: &Rows, piece: &Piece) -> Vec<Breach> {
    if rows.is_laid(piece) {
        return Vec::new();
    }
    let kerfs = rows.job.stock.strip(piece.strip).kerfs.iter();
    let reach = kerfs.map(|kerf| {
        let by = (piece.cut_to - kerf.from).min(kerf.to - piece.cut_from);
        (kerf, by)
    });
    reach
        .filter(|(_, by)| *by > LENGTH)
        .map(|(kerf, by)| {
            let at = kerf.from;
            rows.piece_breach(piece, Wrong::AcrossCut { at, by })
        })
        .collect()
}

/// The columns of the laying order in which two rows for one place differ. The mate is not asked for: it lies on the
/// other side, and where it is laid it has a row here of its own.
fn changes(laid: &Piece, planned: &Piece) -> Vec<&'static str> {
    [
        ("strip", laid.strip != planned.strip),
        ("from", other_place(laid.from, planned.from)),
        ("to", other_place(laid.to, planned.to)),
        ("cut_from", other_place(laid.cut_from, planned.cut_from)),
        ("cut_to", other_place(laid.cut_to, planned.cut_to)),
        ("bow_end", laid.bow_end != planned.bow_end),
        ("next_edge", laid.next_edge != planned.next_edge),
        ("face_out", laid.face_out != planned.face_out),
    ]
    .into_iter()
    .filter_map(|(column, changed)| changed.then_some(column))
    .collect()
}

fn other_place<F: Frame>(one: Place<F>, other: Place<F>) -> bool {
    !same(one.from_origin(), other.from_origin())
}
