//! Screens that say why there is nothing else to show.

use super::frame::{Screen, page};
use super::seen::{InShop, Planned, Seen};
use super::visit::Visit;
use crate::cli::planned::NotMade;
use crate::cli::say;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use twinstrake::check::Verdict;
use twinstrake::job::Complaint;

/// A screen that was asked for, or the one that is shown instead.
pub type Answer = Result<Response, Refused>;

/// The screen that is shown instead. Boxed, since an answer is large.
pub struct Refused(Box<Response>);

impl Refused {
    fn of(visit: &Visit, seen: &Seen, status: StatusCode, title: &str, main: Markup) -> Refused {
        let page = page(visit, seen, Screen::None, title, main);
        Refused(Box::new((status, page).into_response()))
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        *self.0
    }
}

/// The job and its plan, or the screen that says what is wrong with them.
pub fn planned<'s>(visit: &Visit, seen: &'s Seen) -> Result<(&'s InShop, &'s Planned), Refused> {
    let shop = in_shop(visit, seen)?;
    let planned = shop.planned.as_ref().map_err(|complaints| {
        let main = html! {
            h1 { "There is no plan to lay from" }
            p { a.button href="/plan" { "Plan the boat" } }
            (list(complaints))
        };
        Refused::of(visit, seen, StatusCode::CONFLICT, "No plan", main)
    })?;
    Ok((shop, planned))
}

/// The job, or the screen that says what is wrong with its files.
pub fn in_shop<'s>(visit: &Visit, seen: &'s Seen) -> Result<&'s InShop, Refused> {
    seen.state.as_ref().map_err(|complaints| {
        let main = html! {
            h1 { "The files of the job can't be read" }
            p { "Somebody has changed them, or they are not filled yet. What was told before is safe. This page comes \
                back when they are mended." }
            (list(complaints))
            p { a.button href="/files" { "Look at the files" } }
        };
        Refused::of(visit, seen, StatusCode::CONFLICT, "Files to mend", main)
    })
}

/// Complaints, a line each.
pub fn list(complaints: &[Complaint]) -> Markup {
    html! { ul.complaints { @for complaint in complaints { li { (complaint) } } } }
}

/// The plan breaks a rule since something happened.
pub fn broken(verdict: &Verdict) -> Markup {
    html! {
        div.care {
            p { "The plan can't be laid as it is any more." }
            ul { @for breach in &verdict.breaches { li { (breach) } } }
            p { a.button href="/plan" { "Plan again" } }
        }
    }
}

/// Nothing was made; `nothing` where there is nothing to make.
pub fn not_made(visit: &Visit, seen: &Seen, not: NotMade, nothing: &str, back: &str) -> Refused {
    let unchanged = "Nothing has changed since the labels were printed last.";
    let (status, why) = match not {
        NotMade::Nothing => (StatusCode::CONFLICT, nothing.to_owned()),
        NotMade::Unchanged => (StatusCode::OK, unchanged.to_owned()),
        NotMade::NotSo(why) => (StatusCode::CONFLICT, why),
        NotMade::Fault(fault) => (StatusCode::SERVICE_UNAVAILABLE, say::unwritten(&fault)),
    };
    not_so(visit, seen, status, &why, back)
}

/// What was told can't be.
pub fn not_so(visit: &Visit, seen: &Seen, status: StatusCode, why: &str, back: &str) -> Refused {
    let main = html! {
        h1 { "Nothing was written" }
        @for line in say::plain(why).lines() { p { (line) } }
        p { a.button href=(back) { "Back" } }
    };
    Refused::of(visit, seen, status, "Not written", main)
}

/// There is no such page.
pub fn nothing_here(visit: &Visit, seen: &Seen) -> Refused {
    let main = html! {
        h1 { "There is nothing here" }
        p { "Perhaps the plan has changed since. " a.button href="/" { "The next piece" } }
    };
    Refused::of(visit, seen, StatusCode::NOT_FOUND, "Not there", main)
}
