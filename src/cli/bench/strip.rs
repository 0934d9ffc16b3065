//! One strip: what it is, what is cut from it, and what has happened to it.

use super::find;
use super::frame::{Screen, page};
use super::refused::{self, Answer};
use super::seen::{InShop, Seen};
use super::token;
use super::visit::Visit;
use crate::cli::say;
use maud::{Markup, PreEscaped, html};
use twinstrake::draw::svg;
use twinstrake::job::Job;
use twinstrake::log::stretch;
use twinstrake::paper;
use twinstrake::stock::{Strip, StripId};

/// The screen of the strip at that place in the rack.
pub fn screen(visit: &Visit, seen: &Seen, at: usize) -> Answer {
    let shop = refused::in_shop(visit, seen)?;
    let job = &shop.reading.job;
    let Some(strip) = job.stock.strips.get(at) else {
        return Err(refused::nothing_here(visit, seen));
    };
    let id = StripId(at);
    let main = html! {
        h1 { "Strip " (strip.name) }
        (facts(job, strip))
        (picture(shop, id))
        (pieces(shop, id))
        @if visit.may_tell() { (happened(&shop.id, job, strip)) }
    };
    Ok(page(visit, seen, Screen::Find, &strip.name, main))
}

fn facts(job: &Job, strip: &Strip) -> Markup {
    let unit = job.unit;
    let gone = strip.gone();
    html! {
        dl {
            div { dt { "Length" } dd { (unit.shop(strip.length)) } }
            @match strip.origin {
                Some(origin) => {
                    div { dt { "Board" } dd { (job.stock.boards[origin.board.0]) ", slice " (origin.seq) } }
                },
                None => div { dt { "Board" } dd { "not known: a stray" } },
            }
            div { dt { "Colour" } dd { (say::colour_told(strip.colour)) } }
            @if !strip.defects.is_empty() {
                div { dt { "Not to be used, from the marked end" } dd {
                    @for (n, defect) in strip.defects.iter().enumerate() { @if n > 0 { "; " } (stretch(unit, *defect)) }
                } }
            }
            @if gone.len() == 1 && gone[0].to - gone[0].from >= strip.length { div { dt { "Left" } dd { "nothing" } } }
            @if !strip.grain.is_empty() { div { dt { "Grain" } dd { (strip.grain) } } }
            @if !strip.notes.is_empty() { div { dt { "Note" } dd { (strip.notes) } } }
        }
    }
}

/// The strip from its marked end, to be touched where something happened.
fn picture(shop: &InShop, id: StripId) -> Markup {
    let job = &shop.reading.job;
    let plan = shop.plan();
    let (scene, view, strip) = paper::strip(job, plan, id);
    let picture = svg::element(&scene, view, "img", &|_| None);
    let part = |x: f64| format!("{:.5}", (x - view.x) / view.w);
    html! {
        div.touch data-from=(part(strip.x)) data-to=(part(strip.right()))
            data-length=(job.unit.exact(job.stock.strip(id).length)) { (PreEscaped(picture)) }
    }
}

fn pieces(shop: &InShop, id: StripId) -> Markup {
    let Ok(planned) = &shop.planned else {
        return html! {};
    };
    let all = planned.plan.pieces.iter().enumerate();
    let here: Vec<usize> = all
        .filter(|(_, piece)| piece.strip == id)
        .map(|(i, _)| i + 1)
        .collect();
    html! {
        @if here.is_empty() { p { "The plan needs nothing of it." } }
        @else { (find::list(&shop.reading.job, planned, &here)) }
    }
}

/// What can be told of it.
fn happened(id: &str, job: &Job, strip: &Strip) -> Markup {
    let begin = |what: Option<&str>| {
        html! {
            input type="hidden" name="key" value=(token::key(id));
            input type="hidden" name="back" value="record";
            input type="hidden" name="strip" value=(strip.name);
            @if let Some(what) = what { input type="hidden" name="kind" value=(what); }
        }
    };
    let said = |what: &str| format!("{what}: {}", strip.name);
    html! {
        h2 { "What happened" }
        form.happened method="post" action="/entry" data-entry data-said=(said("broken or spoiled")) {
            (begin(None))
            label for="at" { "Where, from the marked end" }
            p.hint #at-hint { "Touch the place on the drawing, or write it: 2210, or a stretch, 1200-1260. In \
                " (job.unit.name()) "." }
            input #at name="at" required aria-describedby="at-hint" autocomplete="off";
            label for="note" { "Note" }
            input #note name="note" maxlength="500" autocomplete="off";
            div.choose {
                button name="kind" value="broken" { "Broke there" }
                button name="kind" value="spoiled" { "That stretch is spoiled" }
            }
        }
        div.choose {
            form method="post" action="/entry" data-entry data-said=(said("cut")) {
                (begin(Some("cut"))) button { "Cut as planned" }
            }
            form method="post" action="/entry" data-entry data-said=(said("lost")) {
                (begin(Some("lost"))) button { "Lost" }
            }
            form method="post" action="/entry" data-entry data-said=(said("found")) {
                (begin(Some("found"))) button { "Found again" }
            }
        }
        form.happened method="post" action="/entry" data-entry data-said=(said("shade")) {
            (begin(Some("shade")))
            label for="colour" { "Its colour was taken wrong: it is" }
            p.hint #colour-hint { "A shade from 1 (darkest) to 9 (lightest), #c4936a, or L a b as 64.7 13.3 28.8." }
            input #colour name="colour" required aria-describedby="colour-hint" autocomplete="off";
            button { "Write it down" }
        }
    }
}
