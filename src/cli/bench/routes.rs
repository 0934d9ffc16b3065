//! Which address is which screen. No name of a file ever comes from an address.

use super::entries::{self, Told};
use super::frame::Look;
use super::guard::{guard, plain};
use super::laying::{self, Asked};
use super::seen::Seen;
use super::{Bench, aside, boat, find, hull, print, record, refused, strip};
use axum::extract::rejection::{FormRejection, PathRejection, QueryRejection};
use axum::extract::{Form, Path, Query, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use serde::Deserialize;
use serde_json::json;
use std::sync::Arc;

const STYLE: &str = include_str!("page.css");
const ICON: &str = include_str!("icon.svg");
const SCRIPT: &str = include_str!("page.js");

type Here = State<Arc<Bench>>;

pub(super) fn routes(bench: Arc<Bench>) -> Router {
    Router::new()
        .route("/", get(next))
        .route("/piece/{order}", get(piece))
        .route("/strip/{at}", get(strip))
        .route("/boat", get(boat))
        .route("/hull", get(hull))
        .route("/find", get(found))
        .route("/record", get(record))
        .route("/print/{file}", get(printed))
        .route("/ahead", get(ahead))
        .route("/stamp", get(stamp))
        .route("/entry", post(entry))
        .route("/look", post(look))
        .route("/icon.svg", get(async || file("image/svg+xml", ICON)))
        .route(
            "/page.css",
            get(async || file("text/css; charset=utf-8", STYLE)),
        )
        .route(
            "/page.js",
            get(async || file("text/javascript; charset=utf-8", SCRIPT)),
        )
        .fallback(nothing)
        .layer(from_fn_with_state(Arc::clone(&bench), guard))
        .with_state(bench)
}

fn file(kind: &'static str, text: &'static str) -> Response {
    ([(header::CONTENT_TYPE, kind)], text).into_response()
}

/// A screen made from the job as it is now.
async fn screen(
    bench: Arc<Bench>,
    made: impl FnOnce(&Bench, &Seen) -> Response + Send + 'static,
) -> Response {
    let made = aside(&bench, move |bench| made(bench, &bench.job.now())).await;
    made.unwrap_or_else(|_| bug())
}

fn bug() -> Response {
    plain(
        StatusCode::INTERNAL_SERVER_ERROR,
        "This is a bug in twinstrake, not in your job. Keep the job folder as it is, and tell whoever looks after \
            the program.",
    )
}

#[derive(Deserialize, Default)]
struct After {
    entry: Option<usize>,
}

async fn next(
    State(bench): Here,
    after: Result<Query<After>, QueryRejection>,
    headers: HeaderMap,
) -> Response {
    let entry = after.ok().and_then(|Query(after)| after.entry);
    screen(bench, move |bench, seen| {
        laying::screen(seen, &asked(bench, &headers, None, entry))
    })
    .await
}

async fn piece(
    State(bench): Here,
    order: Result<Path<usize>, PathRejection>,
    headers: HeaderMap,
) -> Response {
    // No piece has the number 0.
    let order = Some(order.map_or(0, |Path(order)| order));
    screen(bench, move |bench, seen| {
        laying::screen(seen, &asked(bench, &headers, order, None))
    })
    .await
}

async fn strip(
    State(bench): Here,
    at: Result<Path<usize>, PathRejection>,
    headers: HeaderMap,
) -> Response {
    // No rack has so many.
    let at = Some(at.map_or(usize::MAX, |Path(at)| at));
    screen(bench, move |bench, seen| {
        strip::screen(seen, &asked(bench, &headers, at, None))
    })
    .await
}

async fn boat(State(bench): Here, headers: HeaderMap) -> Response {
    screen(bench, move |bench, seen| {
        boat::screen(seen, Look::of(bench, &headers))
    })
    .await
}

async fn hull(State(bench): Here, headers: HeaderMap) -> Response {
    screen(bench, move |bench, seen| {
        hull::page(seen, Look::of(bench, &headers))
    })
    .await
}

#[derive(Deserialize, Default)]
struct Sought {
    name: Option<String>,
}

async fn found(
    State(bench): Here,
    sought: Result<Query<Sought>, QueryRejection>,
    headers: HeaderMap,
) -> Response {
    let name = sought.ok().and_then(|Query(sought)| sought.name);
    screen(bench, move |bench, seen| {
        find::screen(seen, Look::of(bench, &headers), name.as_deref())
    })
    .await
}

#[derive(Deserialize, Default)]
struct Part {
    left: Option<String>,
}

async fn printed(
    State(bench): Here,
    Path(file): Path<String>,
    part: Result<Query<Part>, QueryRejection>,
    headers: HeaderMap,
) -> Response {
    let to_do = part.is_ok_and(|Query(part)| part.left.is_some());
    screen(bench, move |bench, seen| {
        print::pdf(seen, Look::of(bench, &headers), &file, to_do)
    })
    .await
}

async fn record(
    State(bench): Here,
    after: Result<Query<After>, QueryRejection>,
    headers: HeaderMap,
) -> Response {
    let entry = after.ok().and_then(|Query(after)| after.entry);
    screen(bench, move |bench, seen| {
        record::screen(seen, &asked(bench, &headers, None, entry))
    })
    .await
}

fn asked(bench: &Bench, headers: &HeaderMap, order: Option<usize>, entry: Option<usize>) -> Asked {
    Asked {
        order,
        entry,
        look_only: bench.door.look_only,
        look: Look::of(bench, headers),
    }
}

async fn ahead(State(bench): Here) -> Response {
    screen(bench, |bench, seen| {
        Json(laying::ahead(seen, bench.door.look_only)).into_response()
    })
    .await
}

async fn stamp(State(bench): Here) -> Response {
    let stamp = aside(&bench, |bench| bench.job.stamp()).await;
    stamp.map_or_else(
        |_| bug(),
        |stamp| Json(json!({ "stamp": stamp })).into_response(),
    )
}

async fn entry(
    State(bench): Here,
    headers: HeaderMap,
    told: Result<Form<Told>, FormRejection>,
) -> Response {
    let told = told.map(|Form(told)| told).unwrap_or_default();
    let answer = aside(&bench, move |bench| entries::told(bench, &headers, &told)).await;
    answer.unwrap_or_else(|_| bug())
}

#[derive(Deserialize)]
struct Chosen {
    look: String,
}

/// A look that is chosen again is taken back.
async fn look(State(bench): Here, headers: HeaderMap, Form(chosen): Form<Chosen>) -> Response {
    let look = match (chosen.look.as_str(), Look::of(&bench, &headers)) {
        ("sun", now) if now != Look::Sun => "sun",
        ("dark", now) if now != Look::Dark => "dark",
        _ => "",
    };
    let name = Look::cookie(&bench);
    let cookie = format!("{name}={look}; HttpOnly; SameSite=Strict; Path=/; Max-Age=31536000");
    let fields = [(header::SET_COOKIE, cookie), (header::LOCATION, "/".into())];
    (StatusCode::SEE_OTHER, fields).into_response()
}

async fn nothing(State(bench): Here, headers: HeaderMap) -> Response {
    screen(bench, move |bench, seen| {
        refused::nothing_here(seen, Look::of(bench, &headers))
    })
    .await
}
