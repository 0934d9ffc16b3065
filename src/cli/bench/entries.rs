//! What is told on the page: understood, written by the functions of `log`, and acknowledged once it is on the disk.

use super::Bench;
use super::frame::Look;
use super::guard::is_script;
use super::refused;
use crate::cli::log::{Aside, Entered, NotEntered, enter};
use crate::cli::say;
use axum::Json;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::json;
use twinstrake::job::Reading;
use twinstrake::log::{Event, Facts, Spot};
use twinstrake::out;
use twinstrake::plan::Plan;

/// The longest key, and the longest note. Unit: characters.
const KEY: usize = 64;
const NOTE: usize = 500;

/// What is told, as a form sends it.
#[derive(Deserialize, Default)]
#[serde(default)]
pub(super) struct Told {
    kind: String,
    key: String,
    note: String,
    /// The plan that whoever tells it has before him.
    plan: String,
    /// The number of the piece in it.
    order: usize,
    /// The entry that is undone.
    entry: usize,
}

/// Writes what is told.
pub(super) fn told(bench: &Bench, headers: &HeaderMap, told: &Told) -> Response {
    let aside = Aside {
        note: told.note.trim(),
        key: &told.key,
    };
    let entered = match slip(told) {
        Some(why) => Err(NotEntered::NotSo(why.into())),
        None => enter(&bench.job.dir, aside, |reading, plan| {
            events(told, reading, plan)
        }),
    };
    answer(bench, headers, told, entered)
}

/// What keeps it from being looked at.
fn slip(told: &Told) -> Option<&'static str> {
    let is_key = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
    if told.key.is_empty() || told.key.len() > KEY || !told.key.chars().all(is_key) {
        return Some("The entry has no key. Open the page anew.");
    }
    (told.note.chars().count() > NOTE).then_some("The note is too long. Say it in fewer words.")
}

fn events(told: &Told, reading: &Reading, plan: Option<&Plan>) -> Result<Vec<Event>, String> {
    match told.kind.as_str() {
        "laid" => laid(told, reading, plan),
        "undo" => Ok(vec![Event::Undone { entry: told.entry }]),
        _ => Err("That is nothing that can be told here.".into()),
    }
}

/// A piece of the plan that whoever tells it has before him: laid by another it would lie otherwise than the log says.
fn laid(told: &Told, reading: &Reading, plan: Option<&Plan>) -> Result<Vec<Event>, String> {
    let changed = "The plan has changed since this piece was shown. Look at it again, and at its labels, before you tell it.";
    let plan = plan.ok_or("There is no plan to lay from.")?;
    if out::plan_digest(&reading.job, plan).ok().as_ref() != Some(&told.plan) {
        return Err(changed.into());
    }
    let piece = told
        .order
        .checked_sub(1)
        .and_then(|at| plan.pieces.get(at))
        .ok_or(changed)?;
    Ok(vec![Event::Laid {
        spot: Spot::of(piece),
        facts: Some(Facts::of(piece, &reading.job.stock)),
    }])
}

fn answer(
    bench: &Bench,
    headers: &HeaderMap,
    told: &Told,
    entered: Result<Entered, NotEntered>,
) -> Response {
    let (status, why) = match entered {
        Ok(entered) => return written(headers, &entered),
        Err(NotEntered::Complaints(all)) => (StatusCode::CONFLICT, say::complaints(&all)),
        Err(NotEntered::NotSo(why)) => (StatusCode::CONFLICT, why),
        Err(NotEntered::Refused(why)) => (StatusCode::CONFLICT, say::plain(&why)),
        // It may be taken another time: whoever keeps it goes on keeping it.
        Err(NotEntered::Fault(fault)) => (
            StatusCode::SERVICE_UNAVAILABLE,
            say::plain(&say::not_logged(&fault)),
        ),
    };
    if is_script(headers) {
        return (status, Json(json!({ "why": why.trim() }))).into_response();
    }
    let back = match told.order {
        0 => "/".into(),
        order => format!("/piece/{order}"),
    };
    refused::not_so(
        &bench.job.now(),
        Look::of(bench, headers),
        status,
        &why,
        &back,
    )
}

fn written(headers: &HeaderMap, entered: &Entered) -> Response {
    let number = entered.entries.len();
    if is_script(headers) {
        let said = say::entry(&entered.reading.job, &entered.entries, number);
        return Json(json!({ "entry": number, "said": said })).into_response();
    }
    (
        StatusCode::SEE_OTHER,
        [(header::LOCATION, format!("/?entry={number}"))],
    )
        .into_response()
}
