//! The whole boat: how far it is, the drawing with every piece a way to its screen, and the wood.

use super::frame::{Screen, page};
use super::refused::{self, Answer};
use super::seen::{InShop, Planned, Seen};
use super::visit::Visit;
use crate::cli::say;
use maud::{Markup, PreEscaped, Render, html};
use twinstrake::check::Verdict;
use twinstrake::draw::svg::{self, Link};
use twinstrake::draw::{self, Picture};
use twinstrake::job::{Job, Reading};
use twinstrake::paper::facts;

pub fn screen(visit: &Visit, seen: &Seen) -> Answer {
    let (shop, planned) = refused::planned(visit, seen)?;
    let (job, plan, verdict) = (&shop.reading.job, &planned.plan, &planned.verdict);
    let drawn = seen.drawn();
    let rows = say::standing_rows(&shop.reading, plan, verdict, planned.told.as_ref());
    let main = html! {
        h1 { "The boat" }
        @if !verdict.is_good() { (refused::broken(verdict)) }
        dl { @for (word, said) in rows { div { dt { (word) } dd { (said) } } } }
        h2 { "The planking" }
        p { "Both sides opened flat, seen from outside, bow to the left. A line along a piece: laid, or cut \
            where it is broken. Touch a piece for \
             all there is to know of it." }
        @if let Some(drawn) = drawn {
            (large("planking", "The planking", PreEscaped(&drawn.planking)))
            h2 { "The wood" }
            (large("wood", "The wood", PreEscaped(&drawn.wood)))
            @if let Some(photographs) = shop.photographs(planned) { p.hint { (photographs.told(plan)) } }
        }
        @if has_shape(&shop.reading) {
            p { a.button href="/hull" { "The hull in three dimensions" } }
        }
        (seams(job, verdict))
        (spares(planned, job))
    };
    Ok(page(visit, seen, Screen::Boat, "The boat", main))
}

/// Whether it is known where the skin lies.
pub fn has_shape(reading: &Reading) -> bool {
    let mut files = reading.digests.iter();
    files.any(|file| file.file.starts_with("offsets."))
}

/// The pictures of the boat.
pub struct Drawn {
    planking: String,
    wood: String,
}

impl Drawn {
    pub fn of(shop: &InShop, planned: &Planned) -> Drawn {
        let (job, plan, verdict) = (&shop.reading.job, &planned.plan, &planned.verdict);
        let photographs = shop.photographs(planned);
        let (drawing, hull) = (draw::drawing(job), draw::hull(job));
        let planking = Picture::Planking.scene(job, plan, verdict, None);
        let wood = Picture::Wood.scene(job, plan, verdict, photographs);
        Drawn {
            planking: svg::element(&planking, drawing, "group", &|group| {
                Link::of_piece(group, "/piece/")
            }),
            wood: svg::element(&wood, hull, "img", &|_| None),
        }
    }
}

/// The seams that are seen most.
fn seams(job: &Job, verdict: &Verdict) -> Markup {
    let rows = say::worst_seam_rows(&job.hull, verdict);
    let centre = rows.iter().any(|[.., centre, _]| centre != say::NO_SEAM);
    html! {
        @if !rows.is_empty() {
            h2 { (say::WORST_SEAMS) }
            table.numbers {
                thead { tr {
                    th scope="col" { "Seam" } th scope="col" { "Port" } th scope="col" { "Starboard" }
                    @if centre { th scope="col" { "Centre" } }
                } }
                tbody { @for [between, port, starboard, on_centre, words] in rows { tr {
                    th scope="row" { (between) p.hint { (words) } }
                    td { (port) } td { (starboard) }
                    @if centre { td { (on_centre) } }
                } } }
            }
        }
    }
}

/// A picture as wide as the screen, or large, to be moved under the finger. `id` tells it from others on the screen.
pub fn large(id: &str, name: &str, picture: impl Render) -> Markup {
    let id = format!("large-{id}");
    html! {
        div.picture {
            input id=(id) type="checkbox"; label.button for=(id) { "Large" }
            div.moved tabindex="0" role="region" aria-label=(name) { (picture) }
        }
    }
}

/// The strips that must not break.
fn spares(planned: &Planned, job: &Job) -> Markup {
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
