//! Plans to choose from: beside each other, one by one against the plan in force, and one of them taken or all put
//! away.

use super::boat::{has_shape, large};
use super::frame::{Screen, page};
use super::plan::{Pressed, not_written};
use super::planning::put_away;
use super::refused::{self, Answer};
use super::seen::{InShop, Seen, Watched};
use super::visit::{Visit, to};
use crate::cli::pick::{self, Choice, NotPicked};
use crate::cli::say;
use axum::http::{StatusCode, header};
use axum::response::IntoResponse;
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;
use twinstrake::check::check;
use twinstrake::choices::Criteria;
use twinstrake::draw::scene::Rect;
use twinstrake::draw::{self, Picture, svg};
use twinstrake::job::{self, Job, Reading};
use twinstrake::out;
use twinstrake::plan::Plan;

/// The number of the plan in force among the pictures of plans.
const IN_FORCE: usize = 0;
/// So many places that change are shown without being asked for.
const FEW: usize = 12;

/// The plans to choose from, by their numbers, that can be read.
pub fn choices(seen: &Seen, shop: &InShop) -> Vec<(usize, Choice)> {
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

/// The plans to choose from, beside each other.
pub fn to_choose(shop: &InShop, all: &[(usize, Choice)], may_tell: bool) -> Markup {
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

/// One of the plans to choose from: what it changes, and the way to take it.
pub fn one(visit: &Visit, seen: &Seen, number: usize) -> Answer {
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
pub fn drawn(visit: &Visit, seen: &Seen, number: usize, name: &str) -> Answer {
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
pub struct Taken {
    number: usize,
    /// The plan that whoever takes it has before him.
    plan: String,
}

/// Makes a plan the plan in force, as `pick` does.
pub fn taken(visit: &Visit, boat: &Arc<Watched>, taken: &Taken) -> Answer {
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
    Err(refused::not_so(visit, &boat.now(), status, &why, "/plan"))
}

/// Puts away what may be chosen from.
pub fn away(visit: &Visit, boat: &Arc<Watched>, _: &Pressed) -> Answer {
    put_away(boat).map_err(|fault| not_written(visit, boat, &fault, "/plan"))?;
    visit.bench.planning.forget();
    Ok(to("/plan"))
}
