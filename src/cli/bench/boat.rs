//! The whole boat: how far it is, the drawing with every piece a way to its screen, and the wood.

use super::frame::{Look, Page, Screen};
use super::print;
use super::refused;
use super::seen::Seen;
use crate::cli::say;
use axum::http::StatusCode;
use axum::response::Response;
use maud::{Markup, PreEscaped, html};
use twinstrake::draw::scene::Group;
use twinstrake::draw::svg::{self, Link};
use twinstrake::draw::{self, Picture};
use twinstrake::paper::facts;

pub(super) fn screen(seen: &Seen, look: Look) -> Response {
    let (shop, planned) = match refused::planned(seen, look) {
        Ok(both) => both,
        Err(answer) => return *answer,
    };
    let (job, plan, verdict) = (&shop.reading.job, &planned.plan, &planned.verdict);
    let photographs = shop.photographs(planned);
    let drawing = svg::element(
        &Picture::Planking.alone(job, plan, verdict, None),
        draw::drawing(job),
        "group",
        &to_piece,
    );
    let wood = svg::element(
        &Picture::Wood.alone(job, plan, verdict, photographs),
        draw::hull(job),
        "img",
        &|_| None,
    );
    let rows = say::standing_rows(&shop.reading, plan, verdict, planned.told.as_ref());
    Page {
        status: StatusCode::OK,
        look,
        seen,
        screen: Screen::Boat,
        title: "The boat",
        main: html! {
            h1 { "The boat" }
            @if !verdict.is_good() { (refused::broken(verdict)) }
            dl { @for (word, said) in rows { div { dt { (word) } dd { (said) } } } }
            h2 { "The planking" }
            p { "Both sides opened flat, seen from outside, bow to the left. A line along a piece: laid, or cut \
                where it is broken. Touch a piece for \
                 all there is to know of it." }
            (large("planking", &drawing))
            h2 { "The wood" }
            (large("wood", &wood))
            @if let Some(photographs) = photographs { p.hint { (photographs.told(plan)) } }
            @if shop.reading.digests.iter().any(|file| file.file.starts_with("offsets.")) {
                p { a.button href="/hull" { "The hull in three dimensions" } }
            }
            (spares(planned, job))
            (print::ways())
        },
    }
    .answer()
}

/// A picture as wide as the screen, or large, to be moved under the finger.
fn large(name: &str, picture: &str) -> Markup {
    let id = format!("large-{name}");
    html! {
        div.picture {
            input id=(id) type="checkbox"; label.button for=(id) { "Large" }
            div.moved tabindex="0" role="region" aria-label={ "The " (name) } { (PreEscaped(picture)) }
        }
    }
}

/// Pieces lead to their screens.
fn to_piece(group: &Group) -> Option<Link> {
    if group.kind != "piece" {
        return None;
    }
    let order = group.facts.iter().find(|(name, _)| *name == "order")?;
    let told = group.told.as_deref()?;
    Some(Link {
        to: format!("/piece/{}", order.1),
        label: told.replace('\n', "; "),
    })
}

/// The strips that must not break.
fn spares(planned: &super::seen::Planned, job: &twinstrake::job::Job) -> Markup {
    let hit = planned.to_do(job).filter(|order| {
        let piece = planned.piece(*order);
        piece.is_some_and(|piece| planned.no_spare.contains(&piece.strip))
    });
    let hit: Vec<usize> = hit.collect();
    html! {
        @if !hit.is_empty() {
            h2 { "No spare" }
            p { "Nothing left in the rack could stand in for the wood of these." }
            ul { @for order in hit { @if let Some(piece) = planned.piece(order) {
                li { a href={ "/piece/" (order) } {
                    (facts::side_and_place(job, piece)) ", strip " (job.stock.strip(piece.strip).name)
                } }
            } } }
        }
    }
}
