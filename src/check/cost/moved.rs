//! The moved term: pieces that need new labels because the plan was made again.

use std::collections::BTreeMap;

use crate::check::rows::Rows;
use crate::hull::{CourseId, Side};
use crate::plan::Piece;
use crate::units::{Frame, Length, Place};

/// Less than this on the wood needs no new label. Unit: length; 0.5 mm. Source: model, "Moved".
const SAME: Length = Length::from_nm(500_000);

/// How many pieces of the plan, not laid yet, don't lie and aren't cut as the earlier plan had a piece of that place.
pub(super) fn pieces(rows: &Rows) -> usize {
    let Some(earlier) = &rows.job.earlier else {
        return 0;
    };
    let laid = by_place(&rows.job.laid);
    let then = by_place(&earlier.pieces);
    let is_new = |piece: &&Piece| {
        let place = place(piece);
        let labelled = then
            .get(&place)
            .is_some_and(|was| was.iter().any(|was| same(was, piece)));
        !laid.contains_key(&place) && !labelled
    };
    rows.plan.pieces.iter().filter(is_new).count()
}

/// Whether the labels of one piece say what those of the other must.
fn same(was: &Piece, is: &Piece) -> bool {
    (was.strip, was.bow_end, was.next_edge, was.face_out)
        == (is.strip, is.bow_end, is.next_edge, is.face_out)
        && near(was.from, is.from)
        && near(was.to, is.to)
        && near(was.cut_from, is.cut_from)
        && near(was.cut_to, is.cut_to)
}

fn near<F: Frame>(one: Place<F>, other: Place<F>) -> bool {
    (one.from_origin() - other.from_origin()).abs() <= SAME
}

type Spot = (CourseId, Side, u32);

fn place(piece: &Piece) -> Spot {
    (piece.course, piece.side, piece.number)
}

fn by_place(pieces: &[Piece]) -> BTreeMap<Spot, Vec<&Piece>> {
    let mut all: BTreeMap<Spot, Vec<&Piece>> = BTreeMap::new();
    for piece in pieces {
        all.entry(place(piece)).or_default().push(piece);
    }
    all
}
