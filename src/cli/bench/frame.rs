//! What stands around every screen.

use super::Bench;
use super::guard::cookie;
use super::seen::Seen;
use super::visit::Visit;
use axum::http::HeaderMap;
use axum::response::{Html, IntoResponse, Response};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use twinstrake::hull::Side;

/// The screens that one can go to from anywhere.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Screen {
    Lay,
    Boat,
    Find,
    Record,
    Plan,
    Paper,
    Files,
    Boats,
    /// What can't be gone to.
    None,
}

impl Screen {
    const ALL: [(Screen, &'static str, &'static str); 8] = [
        (Screen::Lay, "/", "Lay"),
        (Screen::Boat, "/boat", "Boat"),
        (Screen::Find, "/find", "Find"),
        (Screen::Record, "/record", "Record"),
        (Screen::Plan, "/plan", "Plan"),
        (Screen::Paper, "/paper", "Paper"),
        (Screen::Files, "/files", "Files"),
        (Screen::Boats, "/boats", "Boats"),
    ];
}

/// How a screen looks.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// As the telephone is set.
    AsSet,
    /// For bright sun.
    Sun,
    /// For a dark shop.
    Dark,
}

impl Look {
    fn name(self) -> Option<&'static str> {
        match self {
            Look::AsSet => None,
            Look::Sun => Some("sun"),
            Look::Dark => Some("dark"),
        }
    }

    /// As whoever asks has chosen it.
    pub fn of(bench: &Bench, headers: &HeaderMap) -> Look {
        match cookie(headers, &Look::cookie(bench)) {
            Some("sun") => Look::Sun,
            Some("dark") => Look::Dark,
            _ => Look::AsSet,
        }
    }

    pub fn cookie(bench: &Bench) -> String {
        format!("look-{}", bench.door.port)
    }
}

/// A page.
pub fn page(visit: &Visit, seen: &Seen, screen: Screen, title: &str, main: Markup) -> Response {
    let look = visit.look.name();
    let job = seen.state.as_ref().map(|shop| &*shop.reading.job.name);
    let name = job.unwrap_or("The bench");
    let stamp = Some(&seen.stamp).filter(|stamp| !stamp.is_empty());
    let page = html! {
        (DOCTYPE)
        html lang="en" data-look=[look] {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · " (name) }
                link rel="icon" href="/icon.svg";
                link rel="stylesheet" href="/page.css";
                script src="/page.js" defer {}
            }
            body data-stamp=[stamp] {
                a.skip href="#main" { "Skip to the work" }
                (shapes())
                header {
                    p.job { (name) }
                }
                div #spoken.unseen role="status" {}
                div #away role="alert" hidden {}
                div #waiting role="status" hidden {}
                main #main tabindex="-1" { (main) }
                nav aria-label="Screens" { ul {
                    @for (other, to, word) in Screen::ALL {
                        @if other != Screen::Boats || seen.is_one_of_many {
                            @let here = (other == screen).then_some("page");
                            li { a href=(to) aria-current=[here] { (word) } }
                        }
                    }
                } }
                footer {
                    form.look method="post" action="/look" {
                        @for (value, word) in [("sun", "Bright sun"), ("dark", "Dark shop")] {
                            @let pressed = look == Some(value);
                            button name="look" value=(value) aria-pressed=(pressed.to_string()) { (word) }
                        }
                    }
                }
            }
        }
    };
    Html(page.into_string()).into_response()
}

/// The shapes of the side marks, drawn once and shown again wherever one is needed. Source of the shapes: as for the
/// marks of the drawing.
fn shapes() -> Markup {
    PreEscaped(
        "<svg class=\"shapes\" aria-hidden=\"true\" focusable=\"false\" fill=\"none\" stroke=\"currentColor\" \
            stroke-width=\"2\" \
         font-weight=\"700\" font-size=\"17\" text-anchor=\"middle\">\
         <symbol id=\"mark-port\" viewBox=\"0 0 28 24\"><rect x=\"3\" y=\"1\" width=\"22\" height=\"22\"/>\
         <text fill=\"currentColor\" stroke=\"none\" x=\"14\" y=\"18\">P</text></symbol>\
         <symbol id=\"mark-starboard\" viewBox=\"0 0 28 24\"><polygon points=\"14,0.5 27.5,23 0.5,23\"/>\
         <text fill=\"currentColor\" stroke=\"none\" x=\"14\" y=\"21\">S</text></symbol>\
         <symbol id=\"mark-centre\" viewBox=\"0 0 28 24\"><circle cx=\"14\" cy=\"12\" r=\"11\"/>\
         <text fill=\"currentColor\" stroke=\"none\" x=\"14\" y=\"17.6\">C</text></symbol></svg>"
            .into(),
    )
}

/// The mark of a side.
pub fn mark(side: Side) -> Markup {
    let name = side.name();
    html! {
        svg class={ "mark " (name) } viewBox="0 0 28 24" role="img" aria-label=(name)
            fill="none" stroke="currentColor" stroke-width="2" font-weight="700" font-size="17" text-anchor="middle" {
            (PreEscaped(format!("<use href=\"#mark-{name}\"/>")))
        }
    }
}
