//! Screens that say why there is nothing else to show.

use super::frame::{Look, Page, Screen};
use super::seen::{InShop, Planned, Seen};
use axum::http::StatusCode;
use axum::response::Response;
use maud::{Markup, html};
use twinstrake::check::Verdict;
use twinstrake::job::Complaint;

/// The job and its plan, or the screen that says what is wrong with them.
pub(super) fn planned(seen: &Seen, look: Look) -> Result<(&InShop, &Planned), Box<Response>> {
    let page = |title, main| Page {
        status: StatusCode::CONFLICT,
        look,
        seen,
        screen: Screen::None,
        title,
        main,
    };
    let shop = in_shop(seen, look)?;
    match &shop.planned {
        Ok(planned) => Ok((shop, planned)),
        Err(complaints) => Err(Box::new(page("No plan", no_plan(complaints)).answer())),
    }
}

/// The job, or the screen that says what is wrong with its files.
pub(super) fn in_shop(seen: &Seen, look: Look) -> Result<&InShop, Box<Response>> {
    seen.state.as_ref().map_err(|complaints| {
        let page = Page {
            status: StatusCode::CONFLICT,
            look,
            seen,
            screen: Screen::None,
            title: "Files to mend",
            main: files(complaints),
        };
        Box::new(page.answer())
    })
}

fn files(complaints: &[Complaint]) -> Markup {
    html! {
        h1 { "The files of the job can't be read" }
        p { "Somebody has changed them, or they are not filled yet. What was told before is safe. This page comes \
            back when they are mended." }
        ul.complaints { @for complaint in complaints { li { (complaint) } } }
        p { a.button href="/files" { "Look at the files" } }
    }
}

fn no_plan(complaints: &[Complaint]) -> Markup {
    html! {
        h1 { "There is no plan to lay from" }
        p { a.button href="/plan" { "Plan the boat" } }
        ul.complaints { @for complaint in complaints { li { (complaint) } } }
    }
}

/// The plan breaks a rule since something happened.
pub(super) fn broken(verdict: &Verdict) -> Markup {
    html! {
        div.care {
            p { "The plan can't be laid as it is any more." }
            ul { @for breach in &verdict.breaches { li { (breach) } } }
            p { a.button href="/plan" { "Plan again" } }
        }
    }
}

/// What was told can't be.
pub(super) fn not_so(
    seen: &Seen,
    look: Look,
    status: StatusCode,
    why: &str,
    back: &str,
) -> Response {
    Page {
        status,
        look,
        seen,
        screen: Screen::None,
        title: "Not written",
        main: html! {
            h1 { "Nothing was written" }
            @for line in why.lines() { p { (line) } }
            p { a.button href=(back) { "Back" } }
        },
    }
    .answer()
}

/// There is no such page.
pub(super) fn nothing_here(seen: &Seen, look: Look) -> Response {
    Page {
        status: StatusCode::NOT_FOUND,
        look,
        seen,
        screen: Screen::None,
        title: "Not there",
        main: html! {
            h1 { "There is nothing here" }
            p { "Perhaps the plan has changed since. " a.button href="/" { "The next piece" } }
        },
    }
    .answer()
}
