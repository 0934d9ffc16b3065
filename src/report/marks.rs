//! The side mark on the page: the letter in its shape, drawn once and shown again wherever it is needed.

use crate::hull::Side;
use maud::{Markup, PreEscaped, html};

/// The shapes, out of sight. Source of the shapes: as for the marks of the drawing.
pub(super) fn shapes() -> Markup {
    PreEscaped(
        "<svg class=\"shapes\" aria-hidden=\"true\" focusable=\"false\">\
         <symbol id=\"mark-port\" viewBox=\"0 0 28 24\"><rect x=\"4\" y=\"2\" width=\"20\" height=\"20\"/>\
         <text x=\"14\" y=\"17.4\">P</text></symbol>\
         <symbol id=\"mark-starboard\" viewBox=\"0 0 28 24\"><polygon points=\"14,1.5 27,22 1,22\"/>\
         <text x=\"14\" y=\"20\">S</text></symbol>\
         <symbol id=\"mark-centre\" viewBox=\"0 0 28 24\"><circle cx=\"14\" cy=\"12\" r=\"10.5\"/>\
         <text x=\"14\" y=\"17.4\">C</text></symbol></svg>"
            .into(),
    )
}

/// The mark of a side, with what stands behind it.
pub(super) fn marked(side: Side, behind: &str) -> Markup {
    let symbol = format!("#mark-{}", side.name());
    html! {
        span.marked {
            svg class={ "mark " (side.name()) } viewBox="0 0 28 24" role="img" aria-label=(side.name()) {
                (PreEscaped(format!("<use href=\"{symbol}\"/>")))
            }
            (behind)
        }
    }
}

/// Course and piece as they are pencilled behind the mark: `12.1`.
pub(super) fn number(course: &str, piece: u32) -> String {
    format!("{course}.{piece}")
}
