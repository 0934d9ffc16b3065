//! The drawing of the planking, each piece a link to its row in the order of laying.

use super::{Report, marks};
use crate::draw;
use crate::draw::scene::Group;
use crate::draw::svg::{self, Link};
use crate::hull::Side;
use maud::{Markup, PreEscaped, html};

/// The wood alone.
pub(super) fn wood(report: &Report<'_>) -> Markup {
    let Report { job, plan, .. } = *report;
    let wood = svg::element(report.wood, draw::hull(job), "img", &|_| None);
    html! {
        figure.wood {
            (PreEscaped(wood))
            figcaption { "The wood as the finished hull would look: the skin laid flat along the keel, seen from \
            below, bow to the left. The \
                          figure is drawn freely; where it runs on, mirrors and breaks is the plan's."
                @if let Some(photographs) = report.photographs { " " (photographs.told(plan)) }
                @if report.inputs.iter().any(|input| input.file.starts_with("offsets.")) {
                    " " a href="hull.html" { "The hull in three dimensions" }
                    ", once twinstrake hull has been run for this plan."
                }
            }
        }
    }
}

pub(super) fn section(report: &Report<'_>) -> Markup {
    let to_row = |group: &Group| Link::of_piece(group, "#piece-");
    let drawing = svg::element(report.planking, draw::drawing(report.job), "group", &to_row);
    html! {
        section #picture aria-labelledby="picture-title" {
            h2 #picture-title { "Picture" }
            p.hint { "Both sides opened flat, seen from outside, bow to the left. Each piece leads to its row in the \
                order of laying." }
            p.hint.scripted hidden { "Rest the pointer on a piece, tap it, or go to it with the arrow keys, to see \
                how it is cut and how it lies." }
            input #large type="checkbox"; label.large for="large" { "Large" }
            div.drawing { (PreEscaped(drawing)) }
            div #details .details hidden {}
            (signs())
        }
    }
}

fn signs() -> Markup {
    let signs: [(Markup, &str); 7] = [
        (
            marks::marked(Side::Port, ""),
            "port, with the number of the course",
        ),
        (
            marks::marked(Side::Starboard, ""),
            "starboard; the mate of a piece has the same number to port",
        ),
        (
            marks::marked(Side::Centre, ""),
            "a course on the centreline, laid once",
        ),
        (html! { "dot" }, "lies toward the marked end of the strip"),
        (html! { "slant" }, "a joint, as long as its scarf"),
        (html! { "hatch" }, "kept clear: no scarf there"),
        (
            html! { "step 3.1" },
            "one of the largest steps in colour, ΔE00",
        ),
    ];
    html! {
        h3 { "Signs in the picture" }
        dl.signs { @for (sign, meaning) in signs { div { dt { (sign) } dd { (meaning) } } } }
    }
}
