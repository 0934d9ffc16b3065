//! The seams that are seen most.

use super::table::{Head, heads};
use super::{Report, marks};
use crate::check::SeamFigure;
use crate::hull::{CourseId, Side};
use maud::{Markup, html};

/// How many are told.
const TOLD: usize = 12;

const HEADS: [Head; 7] = [
    Head::Words("Side"),
    Head::Words("Panel"),
    Head::Words("Courses"),
    Head::Figures("Mean step"),
    Head::Figures("Largest"),
    Head::Words("To the eye"),
    Head::Words("Strips that meet"),
];

pub(super) fn section(report: &Report<'_>) -> Markup {
    let hull = &report.job.hull;
    let mut seams: Vec<&SeamFigure> = report.verdict.seams_to_hide().collect();
    seams.sort_by(|a, b| b.step.total_cmp(&a.step));
    seams.truncate(TOLD);
    html! {
        section #seams aria-labelledby="seams-title" {
            h2 #seams-title { "Worst seams" }
            @if seams.is_empty() { p { "No two courses meet." } }
            @else {
                p.hint { "By the mean step in colour from course to course, ΔE00. The words hold for flat patches \
                side by side; figured wood \
                          hides a little more." }
                div.wide tabindex="0" role="region" aria-labelledby="seams-title" { table {
                    (heads(&HEADS))
                    tbody { @for seam in seams { tr {
                        td { (marks::marked(seam.side, "")) }
                        td { (hull.panel(seam.panel).name) }
                        th scope="row" { (hull.course(seam.upper).name()) " to " (hull.course(seam.lower).name()) }
                        td.figure { (format!("{:.1}", seam.step)) }
                        td.figure { (format!("{:.1}", seam.worst)) }
                        td { (seam.to_the_eye(seam.step)) }
                        td {
                            (strips(report, seam.upper, seam.side)) " against "
                            (strips(report, seam.lower, seam.side))
                        }
                    } } }
                } }
            }
        }
    }
}

fn strips(report: &Report<'_>, course: CourseId, side: Side) -> String {
    let of = |side| {
        let mut pieces: Vec<_> = report
            .plan
            .pieces
            .iter()
            .filter(|piece| piece.course == course && piece.side == side)
            .collect();
        pieces.sort_by_key(|piece| piece.number);
        pieces
    };
    let mut pieces = of(side);
    if pieces.is_empty() {
        pieces = of(Side::Centre);
    }
    let names = pieces
        .iter()
        .map(|piece| report.job.stock.strip(piece.strip).name.as_str());
    names.collect::<Vec<_>>().join(", ")
}
