//! The cost, term by term and in words.

use super::Report;
use super::table::{Head, heads};
use maud::{Markup, html};

const HEADS: [Head; 4] = [
    Head::Words("Term"),
    Head::Figures("ΔE00·m"),
    Head::Figures("Part"),
    Head::Words("What it is"),
];

pub(super) fn section(report: &Report<'_>) -> Markup {
    let cost = report.verdict.cost;
    let total = cost.total();
    let mut terms = vec![
        (
            "Seams between courses",
            cost.seam,
            "steps in colour and breaks in figure from course to course, over the length at which they are met; more \
            where looks count",
        ),
        (
            "Mates across the boat",
            cost.matching,
            "steps in colour between port and starboard, and mates that are not sisters",
        ),
        (
            "Joints",
            cost.joint,
            "each scarf, with the step in colour across it",
        ),
        (
            "Strips cut into",
            cost.thrift,
            "so that wood is kept whole where looks do not gain by cutting",
        ),
    ];
    if cost.drift != 0.0 {
        terms.push((
            "Shade the wrong way",
            cost.drift,
            "courses lighter than the one before where the panel is to go darker, or the other way about",
        ));
    }
    if cost.moved != 0.0 {
        terms.push((
            "Pieces moved",
            cost.moved,
            "pieces that lie elsewhere than in the earlier plan",
        ));
    }
    let part = |worth: f64| {
        if total > 0.0 {
            format!("{:.0} %", 100.0 * worth / total)
        } else {
            "-".into()
        }
    };
    html! {
        section #cost aria-labelledby="cost-title" {
            h2 #cost-title { "Cost" }
            p { "What the eye meets, added up: the step in colour (ΔE00, where 1 can just be seen side by side) times \
            the metres over which it is \
                 met. Less is better. It serves to compare two plans of one boat and says nothing across boats." }
            div.wide tabindex="0" role="region" aria-labelledby="cost-title" { table {
                (heads(&HEADS))
                tbody { @for (name, worth, told) in terms { tr {
                    th scope="row" { (name) }
                    td.figure { (format!("{worth:.2}")) }
                    td.figure { (part(worth)) }
                    td { (told) }
                } } }
                tfoot { tr { th scope="row" { "Together" } td.figure { (format!("{total:.2}")) } td {} td {} } }
            } }
            @if !report.verdict.is_good() { p { "Reckoned from those rows of the plan that make sense." } }
        }
    }
}
