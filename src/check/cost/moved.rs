//! The moved term: labels that have to be changed because the plan was made again.

use std::collections::{BTreeMap, BTreeSet};

use crate::check::rows::Rows;
use crate::hull::{CourseId, Side};
use crate::plan::Piece;
use crate::stock::StripId;

/// How many places of the earlier plan were lost by a strip that is not laid yet.
///
/// A place is panel, course, side and piece number. A strip that keeps its places and gains another has not moved. A
/// piece that was laid elsewhere than planned has accounted for one lost place of its strip: nobody relabels it. A place on a
/// side that its course has not got any more is lost to every plan, and counts for nothing.
pub(super) fn pieces(rows: &Rows) -> usize {
    let Some(earlier) = &rows.job.earlier else {
        return 0;
    };
    let hull = &rows.job.hull;
    let still_there = |piece: &&Piece| hull.course(piece.course).sides().contains(&piece.side);
    let then = places(earlier.pieces.iter().filter(still_there));
    let now = places(&rows.plan.pieces);
    let laid = places(&rows.job.laid);
    let missing_from = |wanted: &BTreeSet<Place>, given: Option<&BTreeSet<Place>>| {
        given.map_or(wanted.len(), |given| wanted.difference(given).count())
    };
    then.iter()
        .map(|(strip, places)| {
            let lost = missing_from(places, now.get(strip));
            let laid_elsewhere = laid
                .get(strip)
                .map_or(0, |laid| missing_from(laid, Some(places)));
            lost.saturating_sub(laid_elsewhere)
        })
        .sum()
}

type Place = (CourseId, Side, u32);

fn places<'p>(pieces: impl IntoIterator<Item = &'p Piece>) -> BTreeMap<StripId, BTreeSet<Place>> {
    let mut by_strip: BTreeMap<StripId, BTreeSet<Place>> = BTreeMap::new();
    for piece in pieces {
        let place = (piece.course, piece.side, piece.number);
        by_strip.entry(piece.strip).or_default().insert(place);
    }
    by_strip
}
