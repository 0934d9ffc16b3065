//! Timber against the labels that are on the wood already: which parts need new ones.
//!
//! Source: model, "Moved".

use super::problem::{Label, NONE, Problem, Span};
use super::timber::Part;
use crate::plan::Face;
use crate::units::Length;

/// How far an end or a cut may move before the label has to be another.
const SAME: Length = Length::from_mm(0.5);

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

/// What the new labels of a stretch of a course would cost with some wood, as far as strips and ends tell: a seat cuts
/// the wood where it was, if it can be. Nominal ends.
pub fn price_of_stretch(problem: &Problem, row: usize, wood: [u32; 2], ends: Span) -> f64 {
    let sides = 1 + usize::from(wood[1] != NONE);
    let kept = kept_by_ends(problem, row, wood, problem.ends(row, ends)).count();
    problem.weights.relabel * sides.saturating_sub(kept) as f64
}

/// What the labels of a course cost that name these strips, each on its side.
pub fn price_of_strips(problem: &Problem, row: usize, wood: [u32; 2]) -> f64 {
    let labels = problem.labels.of_row(row).iter();
    let named = labels.filter(|label| wood[label.side] == label.strip);
    problem.weights.relabel * named.count() as f64
}

/// The labels of a course that some wood would keep between two ends, were it cut where it was.
pub fn kept_by_ends(
    problem: &Problem,
    row: usize,
    wood: [u32; 2],
    ends: Span,
) -> impl Iterator<Item = &Label> {
    let labels = problem.labels.of_row(row).iter();
    labels.filter(move |label| suits_but_for_cut(label, wood, ends))
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

/// Whether two places on the skin or on a strip differ by so little that a label holds for both.
pub fn near(one: Length, other: Length) -> bool {
    (one - other).abs() <= SAME
}

fn suits_but_for_cut(label: &Label, wood: [u32; 2], (from, to): Span) -> bool {
    wood[label.side] == label.strip && near(from, label.ends.0) && near(to, label.ends.1)
}

fn suits(problem: &Problem, label: &Label, part: &Part) -> bool {
    let side = label.side;
    let (cut_from, cut_to) = part.span(side);
    suits_but_for_cut(label, part.wood, (part.from, part.to))
        && part.bow[side] == label.bow
        && near(cut_from, label.cut.0)
        && near(cut_to, label.cut.1)
        && match part.book_matched(problem) {
            true => (problem.port_face(part.wood[0], part.wood[1]) == label.face) == (side == 0),
            false => label.alone.is_none_or(|face| face == label.face),
        }
}
