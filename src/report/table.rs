//! What the tables of the page share.

use maud::{Markup, html};

/// The head of a column, by what stands under it.
#[derive(Clone, Copy)]
pub(super) enum Head {
    /// Words: set to the left.
    Words(&'static str),
    /// Figures: set to the right.
    Figures(&'static str),
}

/// The heads of a table.
pub(super) fn heads(all: &[Head]) -> Markup {
    html! {
        thead { tr { @for head in all {
            @match head {
                Head::Words(head) => th scope="col" { (head) },
                Head::Figures(head) => th.figure scope="col" { (head) },
            }
        } } }
    }
}
