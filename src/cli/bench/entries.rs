//! What is told on the page: understood, written by the functions of `log`, and acknowledged once it is on the disk.

use super::guard::is_script;
use super::refused::{self, Answer};
use super::seen::Watched;
use super::visit::{Visit, to};
use crate::cli::log::{Aside, Entered, NotEntered, Shop, enter, events as understood, read_colour};
use crate::cli::say;
use axum::Json;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::json;
use std::sync::Arc;
use twinstrake::job::{Reading, place_or_stretch};
use twinstrake::log::{Event, Facts, Spot, ToldCut};
use twinstrake::out;
use twinstrake::plan::{Piece, Plan};
use twinstrake::stock::Defect;

/// The longest key, and the longest note. Unit: characters.
const KEY: usize = 64;
const NOTE: usize = 500;
/// The longest words. Unit: characters.
const LONGEST: usize = 300;

/// What is told, as a form sends it.
#[derive(Deserialize, Default)]
#[serde(default)]
pub struct Told {
    kind: String,
    key: String,
    note: String,
    /// The plan that whoever tells it has before him.
    plan: String,
    /// The number of the piece in it.
    order: usize,
    /// The entry that is undone.
    entry: usize,
    /// The strip, the place or stretch on it, and its colour.
    strip: String,
    at: String,
    colour: String,
    /// Whether what came off is as good as before: anything but nothing.
    whole: String,
    /// What was told in words.
    words: String,
    /// Where it was told: `record`, or else the screen of the day.
    back: String,
}

/// Writes what is told.
pub fn told(visit: &Visit, boat: &Arc<Watched>, told: &Told) -> Answer {
    // A key is of one boat, whichever is looked at now.
    let of_key = visit.bench.boats.of_key(&told.key);
    let boat = of_key.as_ref().unwrap_or(boat);
    let aside = Aside {
        note: told.note.trim(),
        key: &told.key,
    };
    let entered = match slip(boat, told) {
        Some(why) => Err(NotEntered::NotSo(why.into())),
        None => enter(&boat.dir, aside, |reading, plan| {
            events(told, reading, plan)
        }),
    };
    answer(visit, boat, told, entered)
}

/// What keeps it from being looked at.
fn slip(boat: &Watched, told: &Told) -> Option<&'static str> {
    let is_key = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
    if told.key.is_empty() || told.key.len() > KEY || !told.key.chars().all(is_key) {
        return Some("The entry has no key. Open the page anew.");
    }
    if !boat.knows(&told.key) {
        return Some(
            "This was told of another job, which was open at this address before. It is not of this one.",
        );
    }
    (told.note.chars().count() > NOTE).then_some("The note is too long. Say it in fewer words.")
}

fn events(told: &Told, reading: &Reading, plan: Option<&Plan>) -> Result<Vec<Event>, String> {
    let strip = || strip(told, reading);
    let at = || {
        let mend = "Write the place from the marked end, as 2210, or a stretch, as 1200-1260.";
        place_or_stretch(&told.at, reading.job.unit).ok_or(mend)
    };
    let event = match told.kind.as_str() {
        "laid" => {
            let piece = piece(told, reading, plan)?;
            Event::Laid {
                spot: Spot::of(piece),
                facts: Some(Facts::of(piece, &reading.job.stock)),
            }
        }
        "taken up" => {
            let spot = Spot::of(piece(told, reading, plan)?);
            let mut laid = reading.job.laid.iter();
            let laid = laid
                .find(|piece| Spot::of(piece) == spot)
                .ok_or("Nothing is laid there.")?;
            Event::TakenUp {
                spot,
                spoiled: told.whole.is_empty().then_some(Defect {
                    from: laid.cut_from,
                    to: laid.cut_to,
                }),
            }
        }
        "broken" => Event::Broken {
            strip: strip()?,
            at: at()?,
        },
        "spoiled" => Event::Spoiled {
            strip: strip()?,
            at: at()?,
        },
        "lost" => Event::Lost { strip: strip()? },
        "found" => Event::Found {
            strip: strip()?,
            measured: None,
        },
        "shade" => Event::Shade {
            strip: strip()?,
            colour: read_colour(&[told.colour.trim()])?,
        },
        "cut" => {
            let cuts = ToldCut::Strip(strip()?).by(plan, &reading.job.stock, &reading.job.laid);
            return match cuts.is_empty() {
                true => Err(
                    "There is nothing left to cut there, or there is no plan that says where."
                        .into(),
                ),
                false => Ok(cuts.into_iter().map(Event::Cut).collect()),
            };
        }
        "undo" => Event::Undone { entry: told.entry },
        "words" => {
            let shop = Shop {
                reading,
                plan,
                whole: false,
                origin: None,
            };
            return understood(&shop, &[told.words.chars().take(LONGEST).collect()]);
        }
        _ => return Err("That is nothing that can be told here.".into()),
    };
    Ok(vec![event])
}

/// The strip of just that name.
fn strip(told: &Told, reading: &Reading) -> Result<String, String> {
    match reading.job.stock.named(&told.strip) {
        Some(_) => Ok(told.strip.clone()),
        None => Err("There is no such strip in the rack any more.".into()),
    }
}

/// A piece of the plan that whoever tells it has before him: laid by another it would lie otherwise than the log says.
fn piece<'p>(told: &Told, reading: &Reading, plan: Option<&'p Plan>) -> Result<&'p Piece, String> {
    let changed = "The plan has changed since this piece was shown. Look at it again, and at its labels, before you \
        tell it.";
    let plan = plan.ok_or("There is no plan to lay from.")?;
    if out::plan_digest(&reading.job, plan).ok().as_ref() != Some(&told.plan) {
        return Err(changed.into());
    }
    let at = told.order.checked_sub(1);
    at.and_then(|at| plan.pieces.get(at))
        .ok_or_else(|| changed.into())
}

fn answer(
    visit: &Visit,
    boat: &Watched,
    told: &Told,
    entered: Result<Entered, NotEntered>,
) -> Answer {
    let (status, why) = match entered {
        Ok(entered) => return Ok(written(&visit.headers, told, &entered)),
        Err(NotEntered::Complaints(all)) => (StatusCode::CONFLICT, say::complaints(&all)),
        Err(NotEntered::NotSo(why)) => (StatusCode::CONFLICT, why),
        Err(NotEntered::Refused(why)) => (StatusCode::CONFLICT, say::plain(&why)),
        // It may be taken another time: whoever keeps it goes on keeping it.
        Err(NotEntered::Fault(fault)) => (
            StatusCode::SERVICE_UNAVAILABLE,
            say::plain(&say::not_logged(&fault)),
        ),
    };
    if is_script(&visit.headers) {
        return Ok((status, Json(json!({ "why": why.trim() }))).into_response());
    }
    let back = match (told.back.as_str(), told.order) {
        ("record", _) => "/record".into(),
        (_, 0) => "/".into(),
        (_, order) => format!("/piece/{order}"),
    };
    Err(refused::not_so(visit, &boat.now(), status, &why, &back))
}

fn written(headers: &HeaderMap, told: &Told, entered: &Entered) -> Response {
    let number = entered.entries.len();
    if is_script(headers) {
        let said = say::entry(&entered.reading.job, &entered.entries, number);
        return Json(json!({ "entry": number, "said": said })).into_response();
    }
    match told.back.as_str() {
        "record" => to(&format!("/record?entry={number}")),
        _ => to(&format!("/?entry={number}")),
    }
}
