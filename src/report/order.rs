//! The order of laying, a row for each piece.

use super::table::{Head, heads};
use super::{Report, marks};
use crate::job::{Job, Stage};
use crate::plan::Piece;
use maud::{Markup, html};

const HEADS: [Head; 9] = [
    Head::Figures("No."),
    Head::Words("Mark"),
    Head::Words("Panel"),
    Head::Words("Strip"),
    Head::Words("Mate"),
    Head::Figures("Cut from"),
    Head::Figures("to"),
    Head::Words("Lies"),
    Head::Words("Ends"),
];

pub(super) fn section(report: &Report<'_>) -> Markup {
    let Report { job, plan, .. } = *report;
    let unit = job.unit;
    html! {
        section #order aria-labelledby="order-title" {
            h2 #order-title { "Order of laying" }
            p.hint { "Cut at both places, measured from the strip's marked end, and pencil the mark on the piece." }
            div.wide tabindex="0" role="region" aria-labelledby="order-title" { table {
                (heads(&HEADS))
                tbody { @for (n, piece) in plan.pieces.iter().enumerate() {
                    @let course = job.hull.course(piece.course);
                    @let strip = job.stock.strip(piece.strip);
                    tr id={ "piece-" (n + 1) } {
                        td.figure { (n + 1) }
                        th scope="row" {
                            (marks::marked(piece.side, &marks::number(&course.name().to_string(), piece.number)))
                        }
                        td { (job.hull.panel(course.panel).name) }
                        td { strong { (strip.name) } }
                        td { (piece.mate.map_or("", |mate| &job.stock.strip(mate).name)) }
                        td.figure { (unit.shop(piece.cut_from.from_origin())) }
                        td.figure { (unit.shop(piece.cut_to.from_origin())) }
                        td { (lies(job, piece)) (done(job.stage(piece))) }
                        td { (ends(report, piece)) }
                    }
                } }
            } }
        }
    }
}

/// What is done of a piece already.
pub(super) fn done(stage: Stage) -> Markup {
    html! {
        @match stage {
            Stage::Planned => {}
            stage => { " · " strong { (stage.name()) } }
        }
    }
}

fn lies(job: &Job, piece: &Piece) -> String {
    format!(
        "{} to bow · {} {} · {} out",
        piece.bow_end.name(),
        piece.next_edge.name(),
        job.hull.next_or_free(piece.course),
        piece.face_out.name()
    )
}

/// How the two ends are made, the bow end first.
fn ends(report: &Report<'_>, piece: &Piece) -> String {
    let course = report.job.hull.course(piece.course);
    let last = report
        .plan
        .pieces
        .iter()
        .filter(|other| other.course == piece.course && other.side == piece.side)
        .map(|other| other.number)
        .max();
    let bow = if piece.number == 1 {
        course.bow_end.name()
    } else {
        "joint"
    };
    let stern = if Some(piece.number) == last {
        course.stern_end.name()
    } else {
        "joint"
    };
    if bow == stern {
        format!("both {bow}")
    } else {
        format!("{bow}, {stern}")
    }
}
