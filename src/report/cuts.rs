//! The cut list: strip after strip as they lie in the rack, what each becomes and what is left.

use super::order::done;
use super::table::{Head, heads};
use super::{Report, marks};
use crate::job::Job;
use crate::plan::{Piece, Plan};
use crate::stock::Strip;
use crate::units::{Length, U};
use maud::{Markup, html};

/// A strip that is cut into, with its pieces from the marked end.
struct Cut<'a> {
    strip: &'a Strip,
    pieces: Vec<&'a Piece>,
}

/// The strips that are cut into, board by board.
fn cuts<'a>(job: &'a Job, plan: &'a Plan) -> Vec<Cut<'a>> {
    let cuts = plan.by_strip().into_iter().map(|(strip, pieces)| Cut {
        strip: job.stock.strip(strip),
        pieces,
    });
    let mut cuts: Vec<Cut<'_>> = cuts.collect();
    cuts.sort_by_key(|cut| {
        let strip = cut.strip;
        strip
            .origin
            .map_or((1, 0, 0), |origin| (0, origin.board.0, origin.seq))
    });
    cuts
}

const HEADS: [Head; 6] = [
    Head::Words("Strip"),
    Head::Figures("Cut from"),
    Head::Figures("to"),
    Head::Figures("Length"),
    Head::Words("Becomes"),
    Head::Figures("Left"),
];

pub(super) fn section(report: &Report<'_>) -> Markup {
    let job = report.job;
    let unit = job.unit;
    html! {
        section #cuts aria-labelledby="cuts-title" {
            h2 #cuts-title { "Cut list" }
            p.hint { "In the order of the rack: take the strip, cut at these places from its marked end, and write \
            the mark on each piece. Left is \
                      the longest sound length that remains." }
            div.wide tabindex="0" role="region" aria-labelledby="cuts-title" { table {
                (heads(&HEADS))
                @for cut in cuts(job, report.plan) {
                    tbody { @for (n, piece) in cut.pieces.iter().enumerate() { tr {
                        @if n == 0 { th scope="rowgroup" rowspan=(cut.pieces.len()) { (cut.strip.name) } }
                        td.figure { (unit.shop(piece.cut_from.from_origin())) }
                        td.figure { (unit.shop(piece.cut_to.from_origin())) }
                        td.figure { (unit.shop(piece.cut_to - piece.cut_from)) }
                        td {
                            (marks::marked(piece.side, &mark(job, piece))) " "
                            (job.hull.panel_of(piece.course).name) (done(job.stage(piece)))
                        }
                        @if n == 0 {
                            td.figure rowspan=(cut.pieces.len()) { (unit.shop(left(job, cut.strip, &cut.pieces))) }
                        }
                    } } }
                }
            } }
        }
    }
}

fn mark(job: &Job, piece: &Piece) -> String {
    let course = job.hull.course(piece.course).name().to_string();
    marks::number(&course, piece.number)
}

/// The longest length that can still be used: that neither a piece with its saw cuts nor a defect or an end takes.
pub(super) fn left(job: &Job, strip: &Strip, pieces: &[&Piece]) -> Length {
    let saw = job.rules.allow.saw;
    let allow = &job.rules.allow;
    let barred = allow.barred(strip.length, &strip.defects, &strip.kerfs);
    let mut taken: Vec<(U, U)> = barred.iter().map(|d| (d.from, d.to)).collect();
    taken.extend(pieces.iter().map(|p| (p.cut_from - saw, p.cut_to + saw)));
    taken.sort();
    let mut longest = Length::ZERO;
    let mut from = U::ORIGIN;
    for (begins, ends) in taken {
        longest = longest.max(begins - from);
        from = from.max(ends);
    }
    longest.max(U::at(strip.length) - from)
}
