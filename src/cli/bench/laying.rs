//! The screen for the day: one piece, large, and a button that says it is laid.

use super::frame::{Screen, mark, page};
use super::refused::{self, Answer};
use super::seen::{InShop, Planned, Seen, has_wood};
use super::token;
use super::visit::Visit;
use crate::cli::say;
use axum::Json;
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use serde_json::{Value, json};
use twinstrake::draw::svg;
use twinstrake::hull::Side;
use twinstrake::job::{Job, Stage};
use twinstrake::log::Spot;
use twinstrake::paper::facts::{self, BoatEnd, Way};
use twinstrake::paper::{self, words};
use twinstrake::plan::Piece;

/// How many pieces a telephone keeps, so that work goes on while the program can't be reached.
const AHEAD: usize = 24;

/// Which entry was just written.
#[derive(Deserialize, Default)]
pub struct After {
    entry: Option<usize>,
}

/// The screen of the next piece.
pub fn next(visit: &Visit, seen: &Seen, after: &After) -> Answer {
    screen(visit, seen, None, after)
}

/// The screen of the piece of that number in the order of laying.
pub fn one(visit: &Visit, seen: &Seen, order: usize) -> Answer {
    screen(visit, seen, Some(order), &After::default())
}

fn screen(visit: &Visit, seen: &Seen, asked: Option<usize>, after: &After) -> Answer {
    let (shop, planned) = refused::planned(visit, seen)?;
    let order = asked.or_else(|| planned.to_do(&shop.reading.job).next());
    let card = match order {
        None => finished(),
        Some(order) => match planned.piece(order) {
            Some(piece) => card(shop, planned, order, piece, visit.may_tell()),
            None => return Err(refused::nothing_here(visit, seen)),
        },
    };
    let main = html! {
        (done(shop, planned))
        div #said { (said(visit, shop, after)) }
        div #piece data-keep=[asked.is_none().then_some("next")] { (card) }
    };
    Ok(page(visit, seen, Screen::Lay, "Laying", main))
}

/// The pieces that come next as a script keeps them.
pub fn ahead(visit: &Visit, seen: &Seen) -> Json<Value> {
    let shop = seen.state.as_ref().ok();
    let Some((shop, planned)) = shop.and_then(|shop| Some((shop, shop.planned.as_ref().ok()?)))
    else {
        return Json(json!({ "stamp": seen.stamp, "pieces": [] }));
    };
    let next = planned.to_do(&shop.reading.job).take(AHEAD);
    let pieces: Vec<Value> = next
        .filter_map(|order| {
            let piece = planned.piece(order)?;
            let card = card(shop, planned, order, piece, visit.may_tell()).into_string();
            Some(json!({ "order": order, "card": card }))
        })
        .collect();
    Json(json!({ "stamp": seen.stamp, "plan": planned.digest, "pieces": pieces }))
}

/// How far the boat is.
fn done(shop: &InShop, planned: &Planned) -> Markup {
    let all = planned.plan.pieces.len();
    let laid = all - planned.to_do(&shop.reading.job).count();
    html! {
        div.done {
            progress max=(all.max(1)) value=(laid) aria-label="Pieces laid" {}
            span { (laid) " of " (all) " laid" }
        }
        @if !planned.verdict.is_good() { (refused::broken(&planned.verdict)) }
    }
}

/// The entry that was just written, and the way back.
pub fn said(visit: &Visit, shop: &InShop, after: &After) -> Markup {
    let log = shop.reading.log.as_ref();
    let both = after.entry.zip(log);
    let Some((number, log)) = both.filter(|(number, log)| (1..=log.entries.len()).contains(number))
    else {
        return html! {};
    };
    html! {
        p.written { "On the disk: " (say::entry(&shop.reading.job, &log.entries, number)) }
        @if visit.may_tell() { (undo(&shop.id, number, "")) }
    }
}

/// The button that takes an entry back.
pub fn undo(job: &str, number: usize, back: &str) -> Markup {
    html! {
        form.undo method="post" action="/entry" data-entry data-said={ "undo entry " (number) } {
            input type="hidden" name="back" value=(back);
            input type="hidden" name="kind" value="undo";
            input type="hidden" name="key" value=(token::key(job));
            input type="hidden" name="entry" value=(number);
            button aria-label={ "Undo entry " (number) } { "Undo" }
        }
    }
}

fn finished() -> Markup {
    html! { h1 { "Everything in the plan is laid" } }
}

/// All that is said of one piece.
fn card(shop: &InShop, planned: &Planned, order: usize, piece: &Piece, may_tell: bool) -> Markup {
    let job = &shop.reading.job;
    let strip = job.stock.strip(piece.strip);
    let panel = &job.hull.panel_of(piece.course).name;
    let (scene, view) = paper::lying(job, &planned.plan, piece);
    let picture = svg::element(&scene, view, "img", &|_| None);
    html! {
        article data-order=(order) {
            p.turn { (turn(job, planned, order, piece)) }
            h1 {
                (mark(piece.side))
                span.place { (facts::course_and_piece(job, piece)) }
                span.panel { (panel) " " (piece.side.name()) }
            }
            p.strip { span { "Strip" } " " a href={ "/strip/" (piece.strip.0) } { strong { (strip.name) } } }
            @if planned.no_spare.contains(&piece.strip) {
                p.care { "No spare: nothing left in the rack could stand in for this strip." }
            }
            div.lying { (PreEscaped(picture)) }
            (how(job, piece))
            (ends(job, planned, piece))
            (forms(job, piece))
            (rest(job, piece))
        }
        div.hands {
            (told(shop, planned, order, piece, may_tell))
            (ways(job, planned, order))
        }
    }
}

/// Whether it is this piece's turn.
fn turn(job: &Job, planned: &Planned, order: usize, piece: &Piece) -> String {
    let all = planned.plan.pieces.len();
    let now = match job.stage(piece) {
        Stage::Laid => "Laid already",
        stage => {
            let is_first = planned.to_do(job).next() == Some(order);
            let on_side = planned.next_by_side(job).contains(&(piece.side, order));
            match (is_first, on_side, stage) {
                (true, _, Stage::Cut) => "Next, and cut already",
                (true, ..) => "Next",
                (_, true, _) => match piece.side {
                    Side::Port => "Next to port",
                    Side::Starboard => "Next to starboard",
                    Side::Centre => "Next on the centreline",
                },
                (.., Stage::Cut) => "Later, and cut already",
                _ => "Later",
            }
        }
    };
    format!("{now} · {order} of {all}")
}

/// Which way round, in words.
fn how(job: &Job, piece: &Piece) -> Markup {
    let way = match facts::next_way(job, piece) {
        Way::Up => "above",
        Way::Down => "below",
    };
    html! {
        ul.how {
            li { strong { (piece.bow_end.spoken()) " end" } " to the bow" }
            li { strong { "edge " (piece.next_edge.name()) } " to the next course, " (way) }
            li { strong { (piece.face_out.name()) " face" } " out" }
        }
    }
}

/// Where to cut, how long, and how both ends are made.
fn ends(job: &Job, planned: &Planned, piece: &Piece) -> Markup {
    html! {
        dl.ends {
            div { dt { "Length" } dd { (job.unit.shop(facts::length(piece))) } }
            @for end in [BoatEnd::Bow, BoatEnd::Stern] {
                div {
                    dt { @match end { BoatEnd::Bow => "Bow end", BoatEnd::Stern => "Stern end" } }
                    dd {
                        span { (words::cut(job, piece, end)) }
                        span { (words::end(job, &planned.plan, piece, end)) }
                    }
                }
            }
        }
    }
}

/// The forms to hold it by, from its bow end.
fn forms(job: &Job, piece: &Piece) -> Markup {
    let forms = facts::forms(job, piece);
    let narrow = forms.iter().any(|form| form.narrow.is_some());
    let bevel = forms.iter().any(|form| form.bevel.is_some());
    html! {
        @if !forms.is_empty() {
            table.forms {
                caption { "Forms, from the bow end of the piece" }
                thead { tr {
                    th scope="col" { "Form" } th scope="col" { "At" }
                    @if narrow { th scope="col" { "Width" } }
                    @if bevel { th scope="col" { "Bevel" } }
                } }
                tbody { @for form in &forms { tr {
                    th scope="row" { (form.form) }
                    td { (job.unit.shop(form.from_bow_end)) }
                    @if narrow {
                        td { @match form.narrow { Some(width) => (words::width(job, width)), None => "full" } }
                    }
                    @if bevel { td { @if let Some(bevel) = form.bevel { (format!("{bevel:.1}°")) } } }
                } } }
            }
        }
    }
}

/// What else there is to know.
fn rest(job: &Job, piece: &Piece) -> Markup {
    let strip = job.stock.strip(piece.strip);
    html! {
        dl.rest {
            @if let Some(mate) = piece.mate { div { dt { "Mate" } dd { (job.stock.strip(mate).name) } } }
            div { dt { "Cut, from the marked end" } dd {
                (job.unit.shop(piece.cut_from.from_origin())) " to " (job.unit.shop(piece.cut_to.from_origin()))
            } }
            @if let Some(origin) = strip.origin {
                div { dt { "Board" } dd { (job.stock.boards[origin.board.0]) ", slice " (origin.seq) } }
            }
            @if !strip.grain.is_empty() { div { dt { "Grain" } dd { (strip.grain) } } }
            @if !strip.notes.is_empty() { div { dt { "Note" } dd { (strip.notes) } } }
        }
    }
}

/// The button, or why there is none.
fn told(shop: &InShop, planned: &Planned, order: usize, piece: &Piece, may_tell: bool) -> Markup {
    let job = &shop.reading.job;
    match job.stage(piece) {
        Stage::Laid => {
            let entry = shop
                .reading
                .log
                .as_ref()
                .and_then(|log| log.standing.at(&Spot::of(piece)));
            html! {
                p.written { "Laid" @if let Some(glued) = entry { ": entry " (glued.entry) } "." }
                @if may_tell { (taken_up(&shop.id, planned, order)) }
            }
        }
        _ if !has_wood(job, piece) => html! {
            p.care { "Its wood is gone. Other wood has to be found for it. " a href="/plan" { "Plan again" } }
        },
        _ if !may_tell => html! {},
        _ => html! {
            form.laid method="post" action="/entry" data-entry {
                input type="hidden" name="kind" value="laid";
                input type="hidden" name="key" value=(token::key(&shop.id));
                input type="hidden" name="plan" value=(planned.digest);
                input type="hidden" name="order" value=(order);
                button { "Laid" span.which { " " (facts::side_and_place(job, piece)) } }
            }
        },
    }
}

/// What can be told of a piece that is laid.
fn taken_up(job: &str, planned: &Planned, order: usize) -> Markup {
    html! {
        form.choose method="post" action="/entry" data-entry data-said="taken up" {
            input type="hidden" name="kind" value="taken up";
            input type="hidden" name="key" value=(token::key(job));
            input type="hidden" name="plan" value=(planned.digest);
            input type="hidden" name="order" value=(order);
            button { "It came off, and is spoiled" }
            button name="whole" value="yes" { "It came off whole" }
        }
    }
}

/// Back and forth, and the next of each side.
fn ways(job: &Job, planned: &Planned, order: usize) -> Markup {
    let all = planned.plan.pieces.len();
    html! {
        nav.ways aria-label="Pieces" {
            @if order > 1 { a.back href={ "/piece/" (order - 1) } data-go=(order - 1) { "Back" } }
            @for (side, next) in planned.next_by_side(job) {
                a href={ "/piece/" (next) } data-go=(next) aria-current=[(next == order).then_some("true")] {
                    (mark(side))
                    span { @if let Some(piece) = planned.piece(next) { (facts::course_and_piece(job, piece)) } }
                }
            }
            @if order < all { a.forth href={ "/piece/" (order + 1) } data-go=(order + 1) { "On" } }
        }
    }
}
