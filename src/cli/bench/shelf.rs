//! The boats on the bench, where there are several, and a new one begun.

use super::frame::{Screen, page};
use super::guard::{YEAR, kept};
use super::refused::{self, Answer, Refused};
use super::seen::{Seen, Watched};
use super::visit::{Visit, to};
use crate::cli::begin::fresh;
use axum::http::StatusCode;
use axum::response::Response;
use maud::{Markup, html};
use serde::Deserialize;
use twinstrake::job;

/// The longest name of a boat, and of its folder. Unit: characters.
const NAME: usize = 80;
const FOLDER: usize = 40;

/// All boats.
pub fn screen(visit: &Visit) -> Response {
    let all = visit.bench.boats.all();
    let begin = visit.bench.boats.shelf.is_some() && visit.may_tell();
    let main = html! {
        h1 { "Boats" }
        @if all.is_empty() { p { "There is no job in this folder yet." } }
        ul.pieces { @for boat in &all { li { (row(boat)) } } }
        @if begin { (new()) }
    };
    page(visit, &Seen::nothing(), Screen::Boats, "Boats", main)
}

fn row(boat: &Watched) -> Markup {
    let seen = boat.now();
    let folder = boat
        .dir
        .file_name()
        .map(|name| name.to_string_lossy().into_owned());
    let (name, how_far) = match &seen.state {
        Ok(shop) => {
            let how_far = match &shop.planned {
                Ok(planned) => {
                    let all = planned.plan.pieces.len();
                    let left = planned.to_do(&shop.reading.job).count();
                    format!("{} of {all} laid", all - left)
                }
                Err(_) => "no plan yet".into(),
            };
            (Some(shop.reading.job.name.clone()), how_far)
        }
        Err(_) => (None, "files to fill or to mend".into()),
    };
    let folder = folder.unwrap_or_default();
    html! {
        form method="post" action="/boats/choose" {
            input type="hidden" name="boat" value=(boat.id);
            button { strong { (name.as_deref().unwrap_or(&folder)) } " " span { (how_far) " · " (folder) } }
        }
    }
}

fn new() -> Markup {
    html! {
        h2 { "Begin a new boat" }
        form.happened method="post" action="/boats/begin" {
            label for="name" { "Its name" }
            input #name name="name" required maxlength=(NAME) autocomplete="off";
            label for="units" { "Measured in" }
            select #units name="units" {
                option value="mm" { "millimetres" }
                option value="in" { "inches" }
            }
            button { "Begin" }
        }
    }
}

/// A boat that is chosen.
#[derive(Deserialize, Default)]
#[serde(default)]
pub struct Chosen {
    boat: String,
}

/// Whoever asks has this boat before him from now on.
pub fn choose(visit: &Visit, chosen: &Chosen) -> Response {
    let all = visit.bench.boats.all();
    match all.iter().find(|boat| boat.id == chosen.boat) {
        Some(boat) => go_to(visit, boat, "/"),
        None => to("/boats"),
    }
}

fn go_to(visit: &Visit, boat: &Watched, address: &str) -> Response {
    let name = Visit::cookie(visit.bench.door.port);
    kept(&name, &boat.id, YEAR, address)
}

/// A boat that is begun.
#[derive(Deserialize, Default)]
#[serde(default)]
pub struct Begun {
    name: String,
    units: String,
}

/// Begins a boat in a folder beside the others. Its name is ours: the letters and figures of the boat's.
pub fn begin(visit: &Visit, begun: &Begun) -> Answer {
    let boats = &visit.bench.boats;
    let Some(shelf) = &boats.shelf else {
        return Ok(to("/"));
    };
    let name: String = begun.name.trim().chars().take(NAME).collect();
    if name.is_empty() {
        let why = "The boat needs a name.";
        return Err(not_begun(visit, StatusCode::BAD_REQUEST, why));
    }
    let dir = shelf.join(folder(&name));
    if !job::files_there(&dir).is_empty() {
        let why = "There is a boat of that name already. Give this one another.";
        return Err(not_begun(visit, StatusCode::CONFLICT, why));
    }
    fresh(&dir, begun.units == "in", false, Some(&name))
        .map_err(|not| refused::not_made(visit, &Seen::nothing(), not, "", "/boats"))?;
    Ok(match boats.all().iter().find(|boat| boat.dir == dir) {
        Some(boat) => go_to(visit, boat, "/files"),
        None => to("/boats"),
    })
}

fn not_begun(visit: &Visit, status: StatusCode, why: &str) -> Refused {
    refused::not_so(visit, &Seen::nothing(), status, why, "/boats")
}

/// Small letters, figures and hyphens, whatever the name is.
fn folder(name: &str) -> String {
    let plain = |c: char| match c.is_ascii_alphanumeric() {
        true => c.to_ascii_lowercase(),
        false => '-',
    };
    let all: String = name.chars().map(plain).collect();
    let parts: Vec<&str> = all.split('-').filter(|part| !part.is_empty()).collect();
    let folder: String = parts.join("-").chars().take(FOLDER).collect();
    match folder.is_empty() {
        true => "boat".into(),
        false => folder,
    }
}

#[cfg(test)]
mod tests {
    use super::folder;

    #[test]
    fn a_boat_of_any_name_lies_in_a_folder_beside_the_others() {
        for (name, there) in [
            ("Kestrel II", "kestrel-ii"),
            ("../../etc/passwd", "etc-passwd"),
            ("..", "boat"),
            ("C:\\\\boats", "c-boats"),
            ("Bølge", "b-lge"),
        ] {
            assert_eq!(folder(name), there);
        }
    }
}
