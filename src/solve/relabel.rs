//! Timber against the labels that are on the wood already: which parts need new ones.
//!
//! Source: model, "Moved".

use super::problem::{Label, Problem};
use super::timber::Part;
use crate::plan::Face;

/// How far an end or a cut may move before the label has to be another. Unit: nm.
const SAME: i64 = 500_000;

/// How many pieces of a course need new labels where this timber lies on it.
pub fn new_labels(problem: &Problem, row: usize, timber: &[Part]) -> usize {
    if problem.labels.is_empty() {
        return 0;
    }
    let is_laid = |index: usize, side: usize| {
        let mut there = problem.glued[row]
            .iter()
            .filter(|glued| glued.index == index);
        there.any(|glued| glued.sides[side].is_some())
    };
    let new_on = |(index, part): (usize, &Part)| {
        let sides = part.sides().filter(|side| !is_laid(index, *side));
        let is_new = |side: &usize| label_kept(problem, row, index, *side, part).is_none();
        sides.filter(is_new).count()
    };
    timber.iter().enumerate().map(new_on).sum()
}

/// The face that a part shows by the labels that it keeps; `None` where it keeps none.
pub fn face_kept(
    problem: &Problem,
    row: usize,
    index: usize,
    side: usize,
    part: &Part,
) -> Option<Face> {
    label_kept(problem, row, index, side, part).map(|label| label.face)
}

/// The label that still is right for one side of a part.
fn label_kept<'p>(
    problem: &'p Problem,
    row: usize,
    index: usize,
    side: usize,
    part: &Part,
) -> Option<&'p Label> {
    let mut here = problem.labels.of_row(row).iter();
    here.find(|label| (label.index, label.side) == (index, side) && suits(problem, label, part))
}

fn suits(problem: &Problem, label: &Label, part: &Part) -> bool {
    let side = label.side;
    let near = |one: i64, other: i64| (one - other).abs() <= SAME;
    let (cut_from, cut_to) = part.span(side);
    part.wood[side] == label.strip
        && part.bow[side] == label.bow
        && near(part.from, label.from)
        && near(part.to, label.to)
        && near(cut_from, label.cut.0)
        && near(cut_to, label.cut.1)
        && match part.book_matched(problem) {
            true => (problem.port_face(part.wood[0], part.wood[1]) == label.face) == (side == 0),
            false => label.alone.is_none_or(|face| face == label.face),
        }
}
