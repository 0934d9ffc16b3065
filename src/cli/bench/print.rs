//! Pages for the printer, made when they are asked for and written nowhere.

use super::frame::Look;
use super::refused;
use super::seen::Seen;
use crate::cli::say;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use twinstrake::draw::scene::Scene;
use twinstrake::draw::{self, Picture};
use twinstrake::paper::{self, About, Unfit};

/// What can be printed: its address, its name, and whether it can be made of what is left to do alone.
const ALL: [(&str, &str, bool); 5] = [
    ("laying-sheet.pdf", "Laying sheet", true),
    ("cut-list.pdf", "Cut list", true),
    ("planking.pdf", "Drawing of the planking, A3", false),
    ("wood.pdf", "The wood, A3", false),
    ("seams.pdf", "The seams in greys, A3", false),
];

/// The ways to them.
pub(super) fn ways() -> Markup {
    html! {
        h2 { "On paper" }
        ul.papers { @for (file, name, has_rest) in ALL {
            li {
                a.button href={ "/print/" (file) } { (name) }
                @if has_rest {
                    @let rest = format!("{name}, what is left");
                    a.button href={ "/print/" (file) "?left=yes" } aria-label=(rest) { "what is left" }
                }
            }
        } }
        p.hint { "Print at 100 %, not fitted to the page." }
    }
}

/// The file of that name, of the plan in force.
pub(super) fn pdf(seen: &Seen, look: Look, file: &str, to_do: bool) -> Response {
    let (shop, planned) = match refused::planned(seen, look) {
        Ok(both) => both,
        Err(answer) => return *answer,
    };
    let (job, plan, page) = (
        &shop.reading.job,
        &planned.plan,
        shop.reading.stationery.page,
    );
    let about = About {
        digest: planned.digest.clone(),
        date: None,
        no_spare: planned.no_spare.clone(),
        to_do,
        bench: shop.reading.bench.clone(),
    };
    let photographs = shop.photographs(planned);
    let picture = |picture: Picture| {
        let scene = picture.photographed(job, plan, &planned.verdict, photographs);
        Ok(vec![scene])
    };
    let pages: Result<Vec<Scene>, Vec<Unfit>> = match file {
        _ if !paper::names_unprintable(job).is_empty() => Err(paper::names_unprintable(job)),
        "laying-sheet.pdf" => paper::laying_sheet(job, plan, &about, page),
        "cut-list.pdf" => paper::cut_list(job, plan, &about, page),
        "planking.pdf" => picture(Picture::Planking),
        "wood.pdf" => picture(Picture::Wood),
        "seams.pdf" => picture(Picture::Seams),
        _ => return refused::nothing_here(seen, look),
    };
    let made = pages.map_err(|unfit| say::plain(&say::unfit(&unfit)));
    match made.and_then(|pages| draw::pdf(&pages).map_err(|slip| slip.to_string())) {
        Ok(bytes) => {
            let name = format!("inline; filename=\"{file}\"");
            let fields = [
                (header::CONTENT_TYPE, "application/pdf".to_owned()),
                (header::CONTENT_DISPOSITION, name),
            ];
            (fields, bytes).into_response()
        }
        Err(why) => refused::not_so(seen, look, StatusCode::CONFLICT, &why, "/boat"),
    }
}
