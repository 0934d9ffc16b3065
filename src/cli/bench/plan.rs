//! Planning: a search begun, watched and stopped, plans to choose from beside each other, and one of them taken.

use super::boat::{has_shape, large};
use super::frame::{Screen, page};
use super::planning::{Came, Run, Wanted, What};
use super::print;
use super::refused::{self, Answer, Refused};
use super::seen::{InShop, Seen, Watched};
use super::visit::{Visit, to};
use crate::cli::args::Lay;
use crate::cli::pick::{self, Choice, NotPicked};
use crate::cli::say;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use std::sync::Arc;
use twinstrake::check::check;
use twinstrake::choices::Criteria;
use twinstrake::draw::scene::Rect;
use twinstrake::draw::{self, Picture, svg};
use twinstrake::job::{self, Job, Reading};
use twinstrake::out;
use twinstrake::plan::Plan;
use twinstrake::solve::CEILING;

/// The number of the plan in force among the pictures of plans.
const IN_FORCE: usize = 0;
/// So many places that change are shown without being asked for.
const FEW: usize = 12;

/// How a plan is to be looked for, as a form sends it.
#[derive(Deserialize, Default)]
#[serde(default)]
pub(super) struct How {
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
pub(super) fn start(visit: &Visit, boat: &Arc<Watched>, how: &How) -> Answer {
    let lay = how.typed(boat).map_err(|why| {
        refused::not_so(visit, &boat.now(), StatusCode::BAD_REQUEST, &why, "/plan")
    })?;
    visit.bench.planning.start(boat, Wanted::Plan(lay));
    Ok(to("/plan"))
}

/// A button alone.
#[derive(Deserialize, Default)]
pub(super) struct Pressed {}

/// Begins to look into the plan in force.
pub(super) fn why(visit: &Visit, boat: &Arc<Watched>, _: &Pressed) -> Response {
    visit.bench.planning.start(boat, Wanted::Why);
    to("/plan")
}

/// Ends the search with the best plan so far.
pub(super) fn stop(visit: &Visit, _: &Arc<Watched>, _: &Pressed) -> Response {
    visit.bench.planning.stop();
    to("/plan")
}

/// Puts away what came of the last search.
pub(super) fn forget(visit: &Visit, _: &Arc<Watched>, _: &Pressed) -> Response {
    visit.bench.planning.forget();
    to("/plan")
}

/// The plan that was just taken.
#[derive(Deserialize, Default)]
pub(super) struct Done {
    taken: Option<usize>,
}

/// The screen.
pub(super) fn screen(visit: &Visit, seen: &Seen, done: &Done) -> Answer {
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
pub(super) fn best(visit: &Visit, seen: &Seen) -> Response {
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

/// The plans to choose from, by their numbers, that can be read.
fn choices(seen: &Seen, shop: &InShop) -> Vec<(usize, Choice)> {
    let reading = in_force(shop);
    let there = (1..=out::MOST).filter(|number| {
        let folder = seen.dir.join(out::choice_folder(*number));
        folder.join("plan.json").is_file()
    });
    there
        .filter_map(|number| Some((number, pick::choice(&seen.dir, number, &reading).ok()?)))
        .collect()
}

/// The job as it is planned again: what moves is judged against the plan in force.
fn in_force(shop: &InShop) -> Reading {
    let mut reading = shop.reading.clone();
    reading.job.earlier = shop.plan().cloned();
    reading
}

fn to_choose(shop: &InShop, all: &[(usize, Choice)], may_tell: bool) -> Markup {
    let job = &shop.reading.job;
    let standings: Vec<Criteria> = all
        .iter()
        .map(|(_, choice)| Criteria::of(job, &choice.plan, &choice.verdict))
        .collect();
    let in_force = shop.plan();
    let rows: Vec<(&Criteria, bool)> = standings
        .iter()
        .zip(all)
        .map(|(standing, (_, choice))| (standing, Some(&choice.plan) == in_force))
        .collect();
    html! {
        h2 { "To choose from" }
        table.numbers {
            thead { tr {
                th scope="col" { "Plan" } th scope="col" { "Looks" } th scope="col" { "Joints" }
                th scope="col" { "Strips left whole" } th scope="col" { "New labels" }
            } }
            @let rows = all.iter().zip(say::choice_rows(&rows));
            tbody { @for ((number, choice), [_, looks, joints, whole, _, notes]) in rows {
                tr {
                    th scope="row" { a.button href={ "/plan/" (number) } aria-label={ "Plan " (number) } { (number) } }
                    td { (looks) } td { (joints) } td { (whole) } td { (2 * choice.verdict.relabelled) }
                }
                @if !notes.is_empty() || !choice.against.is_empty() {
                    tr { td colspan="5" {
                        (notes)
                        @for complaint in &choice.against { p.care { (complaint) } }
                    } }
                }
            } }
        }
        div.beside { @for (number, _) in all {
            a href={ "/plan/" (number) } {
                (seen_at(job, *number, Picture::Wood, ""))
                span { "Plan " (number) }
            }
        } }
        p.hint { "Looks: less is better. Look at a plan to see what it changes; then take it or leave it." }
        @if has_shape(&shop.reading) { p { a.button href="/hull" { "Compare them on the hull" } } }
        @if may_tell { form method="post" action="/plan/away" { button { "Put these plans away" } } }
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

/// One of the plans to choose from: what it changes, and the way to take it.
pub(super) fn one(visit: &Visit, seen: &Seen, number: usize) -> Answer {
    let shop = refused::in_shop(visit, seen)?;
    let reading = in_force(shop);
    let job = &reading.job;
    let choice = pick::choice(&seen.dir, number, &reading).map_err(|complaints| {
        let why = say::complaints(&complaints);
        refused::not_so(visit, seen, StatusCode::NOT_FOUND, &why, "/plan")
    })?;
    let before = shop.planned.as_ref().ok();
    let lines = before.map(|before| {
        let after = (&choice.plan, &choice.verdict);
        say::differences(job, &before.plan, after, "")
    });
    let facts = say::of_the_plan(job, &choice.plan, &choice.verdict);
    let may_take = choice.against.is_empty() && visit.may_tell();
    let main = html! {
        h1 { "Plan " (number) }
        @for complaint in &choice.against { p.care { (complaint) } }
        @if let Some((moved, more)) = lines {
            h2 { "What changes" }
            ul.changes { @for line in more { li { (line) } } }
            @if !moved.is_empty() {
                details open[moved.len() <= FEW] {
                    summary { "Place by place" }
                    ul.changes { @for line in moved { li { (line) } } }
                }
            }
        }
        @if may_take { (take(job, &choice.plan, number)) }
        h2 { "What it is" }
        dl { @for (word, said) in facts { div { dt { (word) } dd.lines { (said) } } } }
        @for (what, of) in [("The wood", Picture::Wood), ("The planking", Picture::Planking)] {
            h2 { (what) }
            @if before.is_some() {
                @let name = format!("{what} as it is");
                p { "As it is:" }
                (large(&format!("{}-now", of.svg()), &name, seen_at(job, IN_FORCE, of, &name)))
                p { "As it would be:" }
            }
            @let name = format!("{what} as it would be");
            (large(&format!("{}-then", of.svg()), &name, seen_at(job, number, of, &name)))
        }
    };
    Ok(page(visit, seen, Screen::Plan, "A plan to choose", main))
}

/// A picture of a plan, fetched by itself: the page is there before it is drawn. Without words it stands beside some.
fn seen_at(job: &Job, number: usize, picture: Picture, words: &str) -> Markup {
    let view = view(job, picture);
    let address = format!("/plan/{number}/{}", picture.svg());
    // So that nothing moves when it comes.
    let [wide, high] = [view.w, view.h].map(|side| side.round());
    html! { img src=(address) alt=(words) width=(wide) height=(high) loading="lazy"; }
}

fn view(job: &Job, picture: Picture) -> Rect {
    match picture {
        Picture::Wood => draw::hull(job),
        _ => draw::drawing(job),
    }
}

/// A picture of one of the plans to choose from, or of the plan in force.
pub(super) fn drawn(visit: &Visit, seen: &Seen, number: usize, name: &str) -> Answer {
    let shop = refused::in_shop(visit, seen)?;
    let job = &shop.reading.job;
    let plan = match number {
        IN_FORCE => shop.plan().cloned(),
        _ => job::read_choice(&seen.dir, number, job).ok(),
    };
    let mut all = Picture::ALL.into_iter();
    let picture = all.find(|picture| picture.svg() == name);
    let (Some(plan), Some(picture)) = (plan, picture) else {
        return Err(refused::nothing_here(visit, seen));
    };
    let scene = picture.scene(job, &plan, &check(job, &plan), None);
    let drawn = svg::element(&scene, view(job, picture), "img", &|_| None);
    let fields = [(header::CONTENT_TYPE, "image/svg+xml")];
    Ok((fields, drawn).into_response())
}

fn take(job: &Job, plan: &Plan, number: usize) -> Markup {
    let digest = out::plan_digest(job, plan).unwrap_or_default();
    html! {
        div.choose {
            form method="post" action="/plan/take" {
                input type="hidden" name="number" value=(number);
                input type="hidden" name="plan" value=(digest);
                button.act { "Take this plan" }
            }
            a.button href="/plan" { "Leave it" }
        }
    }
}

/// A plan that is taken, as a form sends it.
#[derive(Deserialize, Default)]
#[serde(default)]
pub(super) struct Taken {
    number: usize,
    /// The plan that whoever takes it has before him.
    plan: String,
}

/// Makes a plan the plan in force, as `pick` does.
pub(super) fn taken(visit: &Visit, boat: &Arc<Watched>, taken: &Taken) -> Answer {
    let picked = pick::pick(
        &boat.dir,
        taken.number,
        |_| {},
        |reading, choice| {
            let digest = out::plan_digest(&reading.job, &choice.plan);
            digest.is_ok_and(|digest| digest == taken.plan)
        },
    );
    let (status, why) = match picked {
        Ok(_) => {
            visit.bench.planning.forget();
            return Ok(to(&format!("/plan?taken={}", taken.number)));
        }
        Err(NotPicked::Complaints(all)) => (StatusCode::CONFLICT, say::complaints(&all)),
        Err(NotPicked::Against(both)) => (StatusCode::CONFLICT, say::complaints(&both.1.against)),
        Err(NotPicked::Fault(fault)) => (StatusCode::SERVICE_UNAVAILABLE, say::fault(&fault)),
    };
    let why = say::plain(&why);
    Err(refused::not_so(visit, &boat.now(), status, &why, "/plan"))
}

/// Puts away what may be chosen from.
pub(super) fn away(visit: &Visit, boat: &Arc<Watched>, _: &Pressed) -> Answer {
    super::planning::put_away(boat).map_err(|fault| not_written(visit, boat, &fault, "/plan"))?;
    visit.bench.planning.forget();
    Ok(to("/plan"))
}

/// The disk did not take it.
pub(super) fn not_written(
    visit: &Visit,
    boat: &Arc<Watched>,
    fault: &out::Fault,
    back: &str,
) -> Refused {
    let why = say::plain(&say::unwritten(fault));
    let status = StatusCode::SERVICE_UNAVAILABLE;
    refused::not_so(visit, &boat.now(), status, &why, back)
}
