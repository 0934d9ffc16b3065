//! Paper: pages for the printer, made when they are asked for; labels and tags, which are written to `out/` as the
//! commands write them.

use super::frame::{Screen, page};
use super::refused::{self, Answer, Refused};
use super::seen::{InShop, Planned, Seen, Watched};
use super::visit::Visit;
use crate::cli::args::{Labels, On, Tags};
use crate::cli::planned::NotMade;
use crate::cli::{labels, say, tags};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use serde::Deserialize;
use std::path::Path;
use std::sync::Arc;
use twinstrake::disk;
use twinstrake::draw::scene::Scene;
use twinstrake::draw::{self, Picture};
use twinstrake::job;
use twinstrake::out;
use twinstrake::paper::{self, About, Unfit};
use twinstrake::units::Unit;

/// The sheets, made when they are asked for: the address of each, and its name.
const SHEETS: [(&str, &str); 2] = [
    ("laying-sheet.pdf", "Laying sheet"),
    ("cut-list.pdf", "Cut list"),
];

/// The pictures, likewise.
const PICTURES: [(Picture, &str); 3] = [
    (Picture::Planking, "Drawing of the planking, A3"),
    (Picture::Wood, "The wood, A3"),
    (Picture::Seams, "The seams in greys, A3"),
];

/// What was printed last and lies in `out/`.
const PRINTED: [(&str, &str); 3] = [
    (labels::FILE, "Labels"),
    (labels::TO_TAKE_OFF, "Labels to take off"),
    (tags::FILE, "Tags"),
];

/// The longest words. Unit: characters.
const LONGEST: usize = 300;

/// The screen.
pub fn screen(visit: &Visit, seen: &Seen) -> Response {
    let may_tell = visit.may_tell();
    let has_plan = seen.state.as_ref().is_ok_and(|shop| shop.planned.is_ok());
    let last = PRINTED
        .iter()
        .filter(|(file, _)| seen.dir.join("out").join(file).is_file());
    let last: Vec<_> = last.collect();
    let main = html! {
        h1 { "Paper" }
        p { "Print at 100 %, not fitted to the page." }
        @if has_plan {
            (sheets_form())
            h2 { "Pictures" }
            ul.papers { @for (picture, name) in PICTURES {
                li { a.button href={ "/print/" (picture.pdf()) } { (name) } }
            } }
            @if may_tell { (labels_form()) }
        } @else { p { "Sheets and labels come with a plan." } }
        @if may_tell { (tags_form(seen.boards())) }
        @if !last.is_empty() {
            h2 { "Printed last" }
            ul.papers { @for (file, name) in last { li { a.button href={ "/print/" (file) } { (name) } } } }
            @if may_tell && has_plan && to_take_off(seen) {
                form method="post" action="/paper/labels" {
                    input type="hidden" name="which" value="taken_off";
                    button { "The labels to take off are off" }
                }
            }
        }
    };
    page(visit, seen, Screen::Paper, "Paper", main)
}

/// Whether labels are on the list that have to come off.
fn to_take_off(seen: &Seen) -> bool {
    let unit = seen
        .state
        .as_ref()
        .map_or(Unit::Mm, |shop| shop.reading.job.unit);
    let on_wood = out::printed_before(&seen.dir, unit).ok().flatten();
    on_wood.is_some_and(|on_wood| !on_wood.to_take_off.is_empty())
}

fn sheets_form() -> Markup {
    html! {
        h2 { "Sheets" }
        form.happened method="get" {
            label for="left" { "Which pieces" }
            select #left name="left" {
                option value="" { "All" }
                option value="yes" { "Those that are not glued on yet" }
            }
            label for="date" { "Date at the foot" }
            p.hint #date-hint { "As you write it. Left empty: a line to write it on." }
            input #date name="date" autocomplete="off" aria-describedby="date-hint";
            @for (file, name) in SHEETS { button formaction={ "/print/" (file) } { (name) } }
        }
    }
}

fn labels_form() -> Markup {
    html! {
        h2 { "Labels" }
        form.happened method="post" action="/paper/labels" {
            label for="which" { "Which" }
            select #which name="which" {
                option value="" { "All" }
                option value="to_do" { "Of pieces that are not glued on yet" }
                option value="changed" { "Those that differ from what was printed last" }
            }
            (on_what("labels"))
            button { "Make the labels" }
        }
    }
}

fn tags_form(boards: &[String]) -> Markup {
    html! {
        h2 { "Tags" }
        form.happened method="post" action="/paper/tags" {
            label for="board" { "For which strips" }
            select #board name="board" {
                option value="" { "Every strip in the rack" }
                @for board in boards { option value=(board) { "Board " (board) } }
            }
            label for="slices" { "How many slices" }
            p.hint #slices-hint { "For a board that is not sawn yet. Left empty: as many as its width gives." }
            input #slices name="slices" inputmode="numeric" autocomplete="off" aria-describedby="slices-hint";
            (on_what("tags"))
            button { "Make the tags" }
        }
    }
}

fn on_what(of: &str) -> Markup {
    html! {
        label for={ "on-" (of) } { "On" }
        select id={ "on-" (of) } name="on" {
            option value="" { "What boat.toml says, or the usual sheet" }
            option value="sheet" { "Sheets of another grid" }
            option value="tape" { "Tape" }
            option value="flags" { "Plain paper, as flags" }
        }
        label for={ "size-" (of) } { "Grid, or width of the tape" }
        p.hint id={ "size-hint-" (of) } { "As A4 3x7, Letter 3x10, or 62 mm." }
        input id={ "size-" (of) } name="size" autocomplete="off" aria-describedby={ "size-hint-" (of) };
        label for={ "from-" (of) } { "Begin at label" }
        p.hint id={ "from-hint-" (of) } { "Where the first of a sheet are used up." }
        input id={ "from-" (of) } name="from" inputmode="numeric" autocomplete="off"
            aria-describedby={ "from-hint-" (of) };
    }
}

/// The way to the labels that have changed.
pub fn changed_labels() -> Markup {
    html! {
        form method="post" action="/paper/labels" {
            input type="hidden" name="which" value="changed";
            button.act { "Make the labels that changed" }
        }
    }
}

/// What is to be printed, as a form sends it.
#[derive(Deserialize, Default)]
#[serde(default)]
pub struct Wanted {
    which: String,
    board: String,
    slices: String,
    on: String,
    size: String,
    from: String,
}

impl Wanted {
    /// Errors: what is wrong with it, in words.
    fn on(&self) -> Result<On, String> {
        let size = || Some(self.size.trim().chars().take(LONGEST).collect());
        Ok(On {
            sheet: (self.on == "sheet").then(size).flatten(),
            tape: (self.on == "tape").then(size).flatten(),
            flags: self.on == "flags",
            from: number(&self.from, "The label to begin at")?,
        })
    }
}

fn number(text: &str, what: &str) -> Result<Option<u32>, String> {
    let text = text.trim();
    match text.parse() {
        _ if text.is_empty() => Ok(None),
        Ok(number @ 1..=10_000) => Ok(Some(number)),
        _ => Err(format!("{what} is a number, as 3.")),
    }
}

/// Labels, as `labels` makes them.
pub fn make_labels(visit: &Visit, boat: &Arc<Watched>, wanted: &Wanted) -> Answer {
    let seen = boat.now();
    let (shop, planned) = refused::planned(visit, &seen)?;
    if wanted.which == "taken_off" {
        let about = about(shop, planned, &Part::default());
        return Err(match labels::taken_off(&boat.dir, &shop.reading, &about) {
            Ok(count) => not_so(visit, &seen, StatusCode::OK, &say::taken_off(count)),
            Err(fault) => not_made(visit, &seen, NotMade::Fault(fault), ""),
        });
    }
    let made = wanted.on().map_err(NotMade::NotSo).and_then(|on| {
        let typed = Labels {
            dir: boat.dir.clone(),
            on,
            to_do: wanted.which == "to_do",
            changed: wanted.which == "changed",
            taken_off: false,
        };
        let unfit = paper::names_unprintable(&shop.reading.job);
        if !unfit.is_empty() {
            return Err(NotMade::NotSo(say::unfit(&unfit)));
        }
        labels::print(
            &typed,
            &shop.reading,
            &planned.plan,
            &about(shop, planned, &Part::default()),
        )
    });
    let nothing = "There is no piece in the plan to print a label for.";
    let made = made.map_err(|not| not_made(visit, &seen, not, nothing))?;
    let said = say::printed(Path::new(""), &made);
    Ok(written(visit, &seen, &said, made.files()))
}

/// Tags, as `tags` makes them.
pub fn make_tags(visit: &Visit, boat: &Arc<Watched>, wanted: &Wanted) -> Answer {
    let seen = boat.now();
    let saw = job::read_saw(&boat.dir).map_err(|complaints| {
        let why = say::complaints(&complaints);
        not_so(visit, &seen, StatusCode::CONFLICT, &why)
    })?;
    let typed = wanted.on().and_then(|on| {
        let slices = number(&wanted.slices, "How many slices")?;
        let board = Some(wanted.board.clone()).filter(|board| !board.is_empty());
        Ok(Tags {
            dir: boat.dir.clone(),
            slices: slices.filter(|_| board.is_some()).map(|many| many.min(500)),
            board: board.into_iter().collect(),
            on,
        })
    });
    let made = typed
        .map_err(NotMade::NotSo)
        .and_then(|typed| tags::print(&typed, &saw))
        .map_err(|not| not_made(visit, &seen, not, "There is no slice to print a tag for."))?;
    let said = say::tagged(Path::new(""), &made.stock, made.count, &made.pages);
    Ok(written(visit, &seen, &said, [tags::FILE].into_iter()))
}

fn written(
    visit: &Visit,
    seen: &Seen,
    said: &str,
    files: impl Iterator<Item = &'static str>,
) -> Response {
    let name = |file: &str| {
        PRINTED
            .iter()
            .find(|(its, _)| *its == file)
            .map_or("", |(_, name)| name)
    };
    let main = html! {
        h1 { "Made" }
        ul.papers { @for file in files { li { a.button.act href={ "/print/" (file) } { (name(file)) } } } }
        p.lines { (say::plain(said).trim()) }
        p { a.button href="/paper" { "Back" } }
    };
    page(visit, seen, Screen::Paper, "Made", main)
}

fn not_made(visit: &Visit, seen: &Seen, not: NotMade, nothing: &str) -> Refused {
    refused::not_made(visit, seen, not, nothing, "/paper")
}

fn not_so(visit: &Visit, seen: &Seen, status: StatusCode, why: &str) -> Refused {
    refused::not_so(visit, seen, status, why, "/paper")
}

fn about(shop: &InShop, planned: &Planned, part: &Part) -> About {
    About {
        digest: planned.digest.clone(),
        date: part.date(),
        no_spare: planned.no_spare.clone(),
        to_do: part.left == "yes",
        bench: shop.reading.bench.clone(),
    }
}

/// Which part of a sheet is asked for, and what is printed on it.
#[derive(Deserialize, Default)]
#[serde(default)]
pub struct Part {
    left: String,
    date: String,
}

impl Part {
    fn date(&self) -> Option<String> {
        let date: String = self.date.trim().chars().take(LONGEST).collect();
        (!date.is_empty()).then_some(date)
    }
}

/// The file of that name: made of the plan in force, or as it was printed last.
pub fn pdf(visit: &Visit, seen: &Seen, file: &str, part: &Part) -> Answer {
    if let Some((name, _)) = PRINTED.iter().find(|(its, _)| *its == file) {
        let bytes = disk::read(&seen.dir.join("out").join(name));
        let bytes = bytes.map_err(|_| refused::nothing_here(visit, seen))?;
        return Ok(shown(name, bytes));
    }
    let (shop, planned) = refused::planned(visit, seen)?;
    let (job, plan, page) = (
        &shop.reading.job,
        &planned.plan,
        shop.reading.stationery.page,
    );
    let about = about(shop, planned, part);
    let picture = PICTURES.iter().find(|(picture, _)| picture.pdf() == file);
    let pages: Result<Vec<Scene>, Vec<Unfit>> = match (file, picture) {
        _ if !paper::names_unprintable(job).is_empty() => Err(paper::names_unprintable(job)),
        ("laying-sheet.pdf", _) => paper::laying_sheet(job, plan, &about, page),
        ("cut-list.pdf", _) => paper::cut_list(job, plan, &about, page),
        (_, Some((picture, _))) => {
            let photographs = shop.photographs(planned);
            Ok(vec![picture.scene(
                job,
                plan,
                &planned.verdict,
                photographs,
            )])
        }
        (_, None) => return Err(refused::nothing_here(visit, seen)),
    };
    let made = pages.map_err(|unfit| say::unfit(&unfit));
    let pdf = made.and_then(|pages| draw::pdf(&pages).map_err(|slip| slip.to_string()));
    let pdf = pdf.map_err(|why| not_so(visit, seen, StatusCode::CONFLICT, &why))?;
    Ok(shown(file, pdf))
}

fn shown(file: &str, bytes: Vec<u8>) -> Response {
    let name = format!("inline; filename=\"{file}\"");
    let fields = [
        (header::CONTENT_TYPE, "application/pdf".to_owned()),
        (header::CONTENT_DISPOSITION, name),
    ];
    (fields, bytes).into_response()
}
