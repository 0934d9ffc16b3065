//! Where the forms fall on a piece: what is marked on the strip before it goes to the boat.

use super::Piece;
use crate::hull::{Crossing, Hull};
use crate::units::{Length, U};

/// Where a form falls on a piece.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct FormMark<'h> {
    /// The form, and where on the skin its course crosses it.
    pub crossing: &'h Crossing,
    /// Where to mark it, from the strip's marked end.
    pub at: U,
    /// The same from the piece's own end as it was cut, the one nearer the marked end: for when the strip is cut.
    pub from_cut: Length,
}

/// The marks of the forms that a piece lies over, allowance and overlap included, in the order of `u`.
///
/// Frame: `u` of the strip. A place s of the skin lies as far from the piece's forward end as on the strip from the end
/// that points to the bow. Why not from the boat's stations: between a course's ends they are spread evenly over the
/// skin, which is good enough to plan by; the crossings know better. Empty where no forms are known.
///
/// Mates from one board, cut at the same u, have the same marks: that is how the figure meets across the boat.
pub fn form_marks<'h>(hull: &'h Hull, piece: &Piece) -> Vec<FormMark<'h>> {
    let crossings = hull.course(piece.course).crossings.iter();
    let on_piece =
        crossings.filter(|crossing| piece.from <= crossing.at && crossing.at <= piece.to);
    let mut marks: Vec<FormMark<'h>> = on_piece
        .map(|crossing| {
            let at = piece.u_at(crossing.at);
            FormMark {
                crossing,
                at,
                from_cut: at - piece.cut_from,
            }
        })
        .collect();
    marks.sort_by_key(|mark| mark.at);
    marks
}
