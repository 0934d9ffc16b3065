//! A piece or a strip by its name, and the whole order of laying.

use super::frame::{Screen, mark, page};
use super::refused::{self, Answer};
use super::scan;
use super::seen::{InShop, Planned, Seen};
use super::visit::{Visit, to};
use crate::cli::log::{Named, Shop, named};
use maud::{Markup, html};
use serde::Deserialize;
use twinstrake::job::{Job, Stage};
use twinstrake::log::Spot;
use twinstrake::paper::facts;
use twinstrake::stock::Strip;

/// The longest name that is looked for. Unit: characters.
const LONGEST: usize = 300;

/// What is looked for.
#[derive(Deserialize, Default)]
#[serde(default)]
pub struct Sought {
    name: String,
}

/// The screen, or what the words name.
pub fn screen(visit: &Visit, seen: &Seen, sought: &Sought) -> Answer {
    let shop = refused::in_shop(visit, seen)?;
    let asked = Some(sought.name.trim()).filter(|words| !words.is_empty());
    let found = asked.map(|words| find(shop, words));
    match &found {
        Some(Ok(Found::Strip(at))) => return Ok(to(&format!("/strip/{at}"))),
        Some(Ok(Found::Pieces(orders))) => {
            if let [one] = orders.as_slice() {
                return Ok(to(&format!("/piece/{one}")));
            }
        }
        _ => {}
    }
    let planned = shop.planned.as_ref().ok();
    let main = html! {
        h1 { "Find" }
        (scan::camera())
        form.find method="get" action="/find" {
            label for="name" { "A strip, a mark or a course, as D4, P12.1 or 12 port" }
            input #name name="name" value=(asked.unwrap_or_default())
                autocomplete="off" autocapitalize="off" spellcheck="false";
            button { "Find" }
        }
        @match &found {
            Some(Err(why)) => p.care role="alert" { (why) },
            Some(Ok(Found::Pieces(orders))) if orders.is_empty() => {
                p.care role="alert" { "The plan has nothing there." }
            },
            Some(Ok(Found::Pieces(orders))) => {
                @if let Some(planned) = planned { (list(&shop.reading.job, planned, orders)) }
            },
            _ => {
                @if let Some(planned) = planned {
                    h2 { "The order of laying" }
                    (list(&shop.reading.job, planned, &(1..=planned.plan.pieces.len()).collect::<Vec<_>>()))
                }
            },
        }
    };
    Ok(page(visit, seen, Screen::Find, "Find", main))
}

enum Found {
    /// A strip, by its place in the rack.
    Strip(usize),
    /// Pieces, by their numbers in the order of laying.
    Pieces(Vec<usize>),
}

/// What the words name, understood as `log` understands them.
fn find(shop: &InShop, words: &str) -> Result<Found, String> {
    if words.chars().count() > LONGEST {
        return Err("That is too long for a name.".into());
    }
    let strip = |name: &str| Some(shop.reading.job.stock.named(name)?.0);
    // A name that is typed as it stands on the strip, whatever else it might mean.
    if let Some(at) = strip(words) {
        return Ok(Found::Strip(at));
    }
    let plan = shop.plan();
    let asked = Shop {
        reading: &shop.reading,
        plan,
        whole: false,
        origin: None,
    };
    match named(&asked, &words.split_whitespace().collect::<Vec<_>>())? {
        Named::Strip(name) => strip(&name)
            .map(Found::Strip)
            .ok_or_else(|| "There is no such strip.".into()),
        Named::Places(spots) => {
            let pieces = plan.iter().flat_map(|plan| plan.pieces.iter().enumerate());
            let there =
                pieces.filter(|(_, piece)| spots.iter().any(|spot| spot.covers(&Spot::of(piece))));
            Ok(Found::Pieces(there.map(|(i, _)| i + 1).collect()))
        }
    }
}

/// Strips by their places in the rack, a line each.
pub fn strips(all: &[Strip], which: &[usize]) -> Markup {
    html! {
        ul.pieces { @for at in which { li {
            a href={ "/strip/" (at) } { strong { (all[*at].name) } span { "strip" } }
        } } }
    }
}

/// Pieces, a line each.
pub fn list(job: &Job, planned: &Planned, orders: &[usize]) -> Markup {
    html! {
        ul.pieces { @for order in orders { @if let Some(piece) = planned.piece(*order) {
            li { a href={ "/piece/" (order) } {
                (mark(piece.side))
                strong { (facts::course_and_piece(job, piece)) }
                span {
                    (job.hull.panel_of(piece.course).name) " " (piece.side.name()) ", strip "
                    (job.stock.strip(piece.strip).name)
                }
                @match job.stage(piece) {
                    Stage::Planned => {},
                    Stage::Cut => em { "cut" },
                    Stage::Laid => em { "laid" },
                }
            } }
        } } }
    }
}
