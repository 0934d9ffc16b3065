//! Planning: a search begun, watched and stopped, and what came of it.

use super::boat::large;
use super::choose::{choices, to_choose};
use super::frame::{Screen, page};
use super::planning::{Came, Run, Wanted, What};
use super::print;
use super::refused::{self, Answer, Refused};
use super::seen::{InShop, Seen, Watched};
use super::visit::{Visit, to};
use crate::cli::args::Lay;
use crate::cli::say;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use std::sync::Arc;
use twinstrake::check::check;
use twinstrake::draw::{self, Picture, svg};
use twinstrake::out;
use twinstrake::plan::Plan;
use twinstrake::solve::CEILING;

/// How a plan is to be looked for, as a form sends it.
#[derive(Deserialize, Default)]
#[serde(default)]
pub struct How {
    /// Seconds at most; nothing for as long as it gets better.
    seconds: String,
    /// How many plans to choose from; nothing for one plan.
    choices: String,
    /// `keep` moves nothing but what lost its wood, `afresh` forgets the earlier plan.
    moved: String,
}

impl How {
    /// As it would be typed.
    ///
    /// Errors: the seconds are no number.
    fn typed(&self, boat: &Watched) -> Result<Lay, String> {
        let seconds = match self.seconds.trim() {
            "" => None,
            text => match text.parse::<f64>() {
                Ok(seconds) if seconds.is_finite() && seconds >= 0.0 => Some(seconds),
                _ => return Err("Write the seconds as a number, as 30.".into()),
            },
        };
        let many = self.choices.parse().ok();
        Ok(Lay {
            dir: boat.dir.clone(),
            seed: 1,
            rounds: None,
            seconds,
            threads: None,
            keep_order: self.moved == "keep",
            afresh: self.moved == "afresh",
            choices: many.filter(|many| (2..=out::MOST).contains(&usize::from(*many))),
            quiet: true,
        })
    }
}

/// Begins to look for a plan.
pub fn start(visit: &Visit, boat: &Arc<Watched>, how: &How) -> Answer {
    let lay = how.typed(boat).map_err(|why| {
        refused::not_so(visit, &boat.now(), StatusCode::BAD_REQUEST, &why, "/plan")
    })?;
    visit.bench.planning.start(boat, Wanted::Plan(lay));
    Ok(to("/plan"))
}

/// A button alone.
#[derive(Deserialize, Default)]
pub struct Pressed {}

/// Begins to look into the plan in force.
pub fn why(visit: &Visit, boat: &Arc<Watched>, _: &Pressed) -> Response {
    visit.bench.planning.start(boat, Wanted::Why);
    to("/plan")
}

/// Ends the search with the best plan so far.
pub fn stop(visit: &Visit, _: &Arc<Watched>, _: &Pressed) -> Response {
    visit.bench.planning.stop();
    to("/plan")
}

/// Puts away what came of the last search.
pub fn forget(visit: &Visit, _: &Arc<Watched>, _: &Pressed) -> Response {
    visit.bench.planning.forget();
    to("/plan")
}

/// The plan that was just taken.
#[derive(Deserialize, Default)]
pub struct Done {
    taken: Option<usize>,
}

/// The screen.
pub fn screen(visit: &Visit, seen: &Seen, done: &Done) -> Answer {
    let shop = refused::in_shop(visit, seen)?;
    let (run, came) = visit.bench.planning.now(&seen.id);
    let may_tell = visit.may_tell();
    let all = choices(seen, shop);
    let number = shop.planned.as_ref().ok().and_then(|p| p.told.as_ref());
    let main = html! {
        h1 { "Plan" }
        @if let Some(taken) = done.taken {
            p.written role="status" { "Plan " (taken) " of those to choose from is the plan now." }
            @if may_tell { (print::changed_labels()) }
        }
        @match (&run, shop.planned.as_ref()) {
            (None, Ok(planned)) if !planned.verdict.is_good() => { (refused::broken(&planned.verdict)) },
            (None, Ok(_)) => @if let Some(told) = number { p { "Plan number " (told.again.number) " is in force." } },
            (None, Err(_)) => p { "There is no plan yet." },
            _ => {},
        }
        @match run {
            Some(run) if run.boat == seen.id => { (under_way(shop, &run, may_tell)) },
            Some(_) => p.care { "A plan for another boat is being looked for. One at a time." },
            None => {
                @if let Some(came) = &came { (came_of_it(came, may_tell)) }
                @if !all.is_empty() { (to_choose(shop, &all, may_tell)) }
                @if may_tell { (begin(shop)) }
            },
        }
    };
    Ok(page(visit, seen, Screen::Plan, "Plan", main))
}

/// A search that goes on.
fn under_way(shop: &InShop, run: &Run, may_tell: bool) -> Markup {
    html! {
        section data-watch {
            h2 { "A plan is being looked for" }
            p #so-far { (run.told()) }
            p.hint { "It goes on when this page is closed." }
            div #best { @if let Some((_, plan)) = &run.best { (picture(shop, plan)) } }
            noscript { p { "Load the page again to see how far it is." } }
            @if may_tell {
                form method="post" action="/plan/stop" { button { "Stop, and take the best so far" } }
            }
        }
    }
}

/// The picture of the best plan so far; nothing where no search goes on.
pub fn best(visit: &Visit, seen: &Seen) -> Response {
    let (run, _) = visit.bench.planning.now(&seen.id);
    let best = run.filter(|run| run.boat == seen.id).and_then(|r| r.best);
    match (&seen.state, best) {
        (Ok(shop), Some((_, plan))) => picture(shop, &plan).into_string().into_response(),
        _ => StatusCode::NO_CONTENT.into_response(),
    }
}

fn picture(shop: &InShop, plan: &Plan) -> Markup {
    let job = &shop.reading.job;
    let scene = Picture::Wood.scene(job, plan, &check(job, plan), None);
    let wood = svg::element(&scene, draw::hull(job), "img", &|_| None);
    large("best", "The wood as it would be", PreEscaped(wood))
}

/// What came of the last search.
fn came_of_it(came: &Came, may_tell: bool) -> Markup {
    html! {
        section {
            @match &came.what {
                What::Plan(facts, more) => {
                    h2 { "This was found" }
                    dl { @for (word, said) in facts { div { dt { (word) } dd.lines { (said) } } } }
                    @if !more.is_empty() { p.lines.care { (more.trim()) } }
                },
                What::Words(words) => {
                    h2 { "What came of it" }
                    div.told tabindex="0" role="region" aria-label="What came of it" { pre { (words.trim()) } }
                },
                What::Complaints(all) => {
                    h2 { "The files of the job can't be read" }
                    (refused::list(all))
                },
            }
            @if may_tell { form method="post" action="/plan/forget" { button { "Put this away" } } }
        }
    }
}

/// How a search is begun.
fn begin(shop: &InShop) -> Markup {
    let again = shop.planned.is_ok() && shop.reading.log.is_some();
    html! {
        h2 { @if shop.planned.is_ok() { "Plan again" } @else { "Plan the boat" } }
        p { "What is laid stays. The plan in force stays too, until you take another." }
        form.happened method="post" action="/plan/start" {
            label for="seconds" { "Seconds at most" }
            p.hint #seconds-hint {
                "Left empty: until nothing better turns up, and no longer than " (CEILING) " seconds for a plan."
            }
            input #seconds name="seconds" inputmode="decimal" autocomplete="off" aria-describedby="seconds-hint";
            label for="choices" { "How many plans" }
            select #choices name="choices" {
                option value="" { "One" @if again { ", and its neighbours" } }
                @for many in [3, 5, 9] { option value=(many) { (many) " to choose from, from looks to thrift" } }
            }
            @if again {
                label for="moved" { "What may move" }
                select #moved name="moved" {
                    option value="" { "What gains more than its new labels cost" }
                    option value="keep" { "Nothing but what lost its wood" }
                    option value="afresh" { "Everything that is not laid" }
                }
            }
            button { "Look for a plan" }
        }
        @if shop.planned.is_ok() {
            h2 { "Why this plan" }
            p { "What each rule costs, what more wood would gain, and what stands in each other's way. It takes a \
                while." }
            form.happened method="post" action="/plan/why" { button { "Find out why" } }
        }
    }
}

/// The disk did not take it.
pub fn not_written(visit: &Visit, boat: &Arc<Watched>, fault: &out::Fault, back: &str) -> Refused {
    let (status, why) = (StatusCode::SERVICE_UNAVAILABLE, say::unwritten(fault));
    refused::not_so(visit, &boat.now(), status, &why, back)
}
