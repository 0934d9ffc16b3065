//! A label or a tag photographed: its code is read, and leads to the strip.

use super::find;
use super::frame::{Screen, page};
use super::guard::PHOTOGRAPH;
use super::refused::{self, Answer};
use super::seen::Seen;
use super::visit::Visit;
use crate::cli::apart::{NoAnswer, apart};
use crate::cli::say;
use crate::cli::status::Status;
use axum::Json;
use axum::body::Bytes;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use serde_json::json;
use std::collections::BTreeSet;
use std::io::{Read as _, Write as _, stdin, stdout};
use twinstrake::photographs::{Unopened, codes, open};

/// The screen from which a photograph is sent.
pub fn screen(visit: &Visit, seen: &Seen) -> Answer {
    refused::in_shop(visit, seen)?;
    let main = html! {
        h1 { "Scan" }
        p { "Photograph the code of a label or a tag: so near that it fills a third of the picture, and sharp." }
        (camera())
        p { a.button href="/find" { "Type the name instead" } }
    };
    Ok(page(visit, seen, Screen::Find, "Scan", main))
}

/// The field that opens the camera of a telephone.
pub fn camera() -> Markup {
    html! {
        div.scan data-scan {
            label.button.act for="photograph" { "Photograph a label" }
            input #photograph type="file" accept="image/jpeg,image/png" capture="environment";
            p #scanned role="status" {}
            noscript { p { "Without script, type the name." } }
        }
    }
}

/// What a photograph shows: where to go, or why nowhere.
pub fn scanned(seen: &Seen, photograph: &Bytes) -> Response {
    let strips = match &seen.state {
        Ok(shop) => &shop.reading.job.stock.strips,
        Err(_) => return said(StatusCode::CONFLICT, "The files of the job can't be read."),
    };
    let read = match read(photograph) {
        Ok(read) => read,
        Err(why) => return said(StatusCode::UNPROCESSABLE_ENTITY, &why),
    };
    let names = |at: &usize| read.contains(&strips[*at].name);
    let there: Vec<usize> = (0..strips.len()).filter(names).collect();
    match (there.as_slice(), read.first()) {
        ([], None) => said(
            StatusCode::UNPROCESSABLE_ENTITY,
            "There is no code in the picture that can be read. Go nearer, hold still, and see that the light is even.",
        ),
        ([], Some(words)) => {
            let shown: String = words.chars().take(40).collect();
            let why = format!(
                "The code says \"{shown}\", and there is no such strip in the rack of this boat."
            );
            said(StatusCode::UNPROCESSABLE_ENTITY, &why)
        }
        ([one], _) => Json(json!({ "to": format!("/strip/{one}") })).into_response(),
        _ => {
            let list = find::strips(strips, &there).into_string();
            Json(json!({ "why": "Which of these?", "list": list })).into_response()
        }
    }
}

fn said(status: StatusCode, why: &str) -> Response {
    (status, Json(json!({ "why": why }))).into_response()
}

/// The words of all codes.
///
/// Errors: why none could be looked for, in words.
fn read(photograph: &[u8]) -> Result<BTreeSet<String>, String> {
    let bytes = apart("read-one", photograph).map_err(|none| match none {
        NoAnswer::NotBegun(error) => format!("The picture can't be looked at: {error}."),
        NoAnswer::Late => {
            "The picture took too long, and was given up. Take it again, nearer to the code.".into()
        }
        NoAnswer::Broken => "The reading of the picture broke off. Take it again.".into(),
    })?;
    let answer: Result<Result<BTreeSet<String>, Unopened>, _> = serde_json::from_slice(&bytes);
    let answer = answer.map_err(|_| "The reading of the picture broke off. Take it again.")?;
    answer.map_err(|why| say::no_photograph(&why))
}

/// The process that reads the codes: the photograph on stdin, their words on stdout.
pub fn read_one() -> Status {
    let mut bytes = Vec::new();
    if stdin()
        .take(PHOTOGRAPH as u64)
        .read_to_end(&mut bytes)
        .is_err()
    {
        return Status::BadInput;
    }
    let answer = open(&bytes).map(|picture| {
        let read = codes(picture.luma(), picture.wide, picture.high);
        let words = read.into_iter().map(|code| code.words);
        words.collect::<BTreeSet<String>>()
    });
    let answer = serde_json::to_vec(&answer).unwrap_or_default();
    Status::good_if(stdout().write_all(&answer).is_ok())
}
