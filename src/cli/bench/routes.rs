//! Which address is which screen. No name of a file ever comes from an address.

use super::entries;
use super::events::{Ending, events};
use super::frame::Look;
use super::guard::{guard, plain};
use super::laying::{self, Asked};
use super::seen::{Seen, Watched};
use super::visit::{Visit, bug};
use super::{Bench, boat, files, find, hull, plan, print, record, refused, scan, shelf, strip};
use axum::body::Bytes;
use axum::extract::rejection::{FormRejection, PathRejection, QueryRejection};
use axum::extract::{DefaultBodyLimit, Extension, Form, Path, Query};
use axum::http::{StatusCode, header};
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get, post};
use axum::{Json, Router};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::json;
use std::sync::Arc;

const STYLE: &str = include_str!("page.css");
const ICON: &str = include_str!("icon.svg");
const SCRIPT: &str = include_str!("page.js");

type Routes = MethodRouter<Arc<Bench>>;

pub(super) fn routes(bench: Arc<Bench>) -> Router {
    Router::new()
        .route("/", after_an_entry(laying::screen))
        .route("/record", after_an_entry(record::screen))
        .route("/piece/{order}", one_of_many(laying::screen))
        .route("/strip/{at}", one_of_many(strip::screen))
        .route("/boat", get(boat))
        .route("/hull", get(hull))
        .route("/find", get(found))
        .route("/scan", get(scanner).post(scanned))
        .route("/plan", get(planning))
        .route("/plan/{number}", get(choice))
        .route("/plan/{number}/{picture}", get(pictured))
        .route("/plan/start", told(plan::start))
        .route("/plan/why", told(plan::why))
        .route("/plan/stop", told(plan::stop))
        .route("/plan/forget", told(plan::forget))
        .route("/plan/take", told(plan::taken))
        .route("/plan/away", told(plan::away))
        .route(
            "/plan/best",
            get(async |visit: Visit| visit.screen(plan::best).await),
        )
        .route("/plan/events", get(watched))
        .route(
            "/paper",
            get(async |visit: Visit| visit.screen(print::screen).await),
        )
        .route("/paper/labels", told(print::make_labels))
        .route("/paper/tags", told(print::make_tags))
        .route("/print/{file}", get(printed))
        .route(
            "/files",
            get(async |visit: Visit| visit.screen(files::list).await),
        )
        .route("/files/{number}", get(edited))
        .route("/files/{number}/save", post(saved))
        .route("/files/0/keys", told(files::save_keys))
        .route("/files/{number}/file", get(downloaded).post(uploaded))
        .route("/files/{number}/before/{version}", get(version_before))
        .route(
            "/boats",
            get(async |visit: Visit| aside(visit, shelf::screen).await),
        )
        .route("/boats/choose", of_all_boats(shelf::choose))
        .route("/boats/begin", of_all_boats(shelf::begin))
        .route("/ahead", get(ahead))
        .route("/stamp", get(stamp))
        .route("/entry", told(entries::told))
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
        // The guard has counted what comes.
        .layer(DefaultBodyLimit::disable())
        .layer(from_fn_with_state(Arc::clone(&bench), guard))
        .with_state(bench)
}

fn file(kind: &'static str, text: &'static str) -> Response {
    ([(header::CONTENT_TYPE, kind)], text).into_response()
}

#[derive(Deserialize, Default)]
struct After {
    entry: Option<usize>,
}

/// A screen that may say which entry was just written.
fn after_an_entry(made: fn(&Seen, &Asked) -> Response) -> Routes {
    get(
        async move |visit: Visit, after: Result<Query<After>, QueryRejection>| {
            let entry = after.ok().and_then(|Query(after)| after.entry);
            visit
                .screen(move |visit, seen| made(seen, &visit.asked(None, entry)))
                .await
        },
    )
}

/// The screen of one of many, by its number.
fn one_of_many(made: fn(&Seen, &Asked) -> Response) -> Routes {
    get(
        async move |visit: Visit, number: Result<Path<usize>, PathRejection>| {
            let number = numbered(number);
            visit
                .screen(move |visit, seen| made(seen, &visit.asked(Some(number), None)))
                .await
        },
    )
}

/// What is told with a form.
fn told<T>(done: fn(&Visit, &Arc<Watched>, &T) -> Response) -> Routes
where
    T: DeserializeOwned + Default + Send + 'static,
{
    post(
        async move |visit: Visit, sent: Result<Form<T>, FormRejection>| {
            let sent = sent.map(|Form(sent)| sent).unwrap_or_default();
            visit
                .aside(move |visit, boat| done(visit, boat, &sent))
                .await
        },
    )
}

/// The same, whichever boat was chosen.
fn of_all_boats<T>(done: fn(&Visit, &T) -> Response) -> Routes
where
    T: DeserializeOwned + Default + Send + 'static,
{
    post(
        async move |visit: Visit, sent: Result<Form<T>, FormRejection>| {
            let sent = sent.map(|Form(sent)| sent).unwrap_or_default();
            aside(visit, move |visit| done(visit, &sent)).await
        },
    )
}

async fn aside(visit: Visit, done: impl FnOnce(&Visit) -> Response + Send + 'static) -> Response {
    let done = tokio::task::spawn_blocking(move || done(&visit)).await;
    done.unwrap_or_else(|_| bug())
}

/// What is no number is one that nothing has.
fn numbered(number: Result<Path<usize>, PathRejection>) -> usize {
    number.map_or(usize::MAX, |Path(number)| number)
}

async fn boat(visit: Visit) -> Response {
    visit
        .screen(|visit, seen| boat::screen(seen, visit.look))
        .await
}

async fn hull(visit: Visit) -> Response {
    visit
        .screen(|visit, seen| hull::page(seen, visit.look))
        .await
}

#[derive(Deserialize, Default)]
struct Sought {
    name: Option<String>,
}

async fn found(visit: Visit, sought: Result<Query<Sought>, QueryRejection>) -> Response {
    let name = sought.ok().and_then(|Query(sought)| sought.name);
    visit
        .screen(move |visit, seen| find::screen(seen, visit.look, name.as_deref()))
        .await
}

async fn scanner(visit: Visit) -> Response {
    visit
        .screen(|visit, seen| scan::screen(seen, visit.look))
        .await
}

async fn scanned(visit: Visit, photograph: Bytes) -> Response {
    visit
        .screen(move |_, seen| scan::scanned(seen, &photograph))
        .await
}

#[derive(Deserialize, Default)]
struct Done {
    taken: Option<usize>,
    saved: Option<String>,
}

async fn planning(visit: Visit, done: Result<Query<Done>, QueryRejection>) -> Response {
    let taken = done.ok().and_then(|Query(done)| done.taken);
    visit
        .screen(move |visit, seen| plan::screen(visit, seen, taken))
        .await
}

async fn choice(visit: Visit, number: Result<Path<usize>, PathRejection>) -> Response {
    let number = numbered(number);
    visit
        .screen(move |visit, seen| plan::one(visit, seen, number))
        .await
}

async fn pictured(visit: Visit, both: Result<Path<(usize, String)>, PathRejection>) -> Response {
    let (number, name) = both.map_or((usize::MAX, String::new()), |Path(both)| both);
    visit
        .screen(move |visit, seen| plan::drawn(seen, visit.look, number, &name))
        .await
}

async fn watched(visit: Visit, Extension(ending): Extension<Ending>) -> Response {
    let boat = visit.boat();
    events(&visit.bench, boat, ending)
}

async fn printed(
    visit: Visit,
    Path(file): Path<String>,
    part: Result<Query<print::Part>, QueryRejection>,
) -> Response {
    let part = part.map(|Query(part)| part).unwrap_or_default();
    visit
        .screen(move |visit, seen| print::pdf(seen, visit.look, &file, &part))
        .await
}

async fn edited(
    visit: Visit,
    number: Result<Path<usize>, PathRejection>,
    done: Result<Query<Done>, QueryRejection>,
) -> Response {
    let number = numbered(number);
    let is_saved = done.is_ok_and(|Query(done)| done.saved.is_some());
    visit
        .screen(move |visit, seen| files::one(visit, seen, number, is_saved))
        .await
}

async fn saved(
    visit: Visit,
    number: Result<Path<usize>, PathRejection>,
    sent: Result<Form<files::Sent>, FormRejection>,
) -> Response {
    let number = numbered(number);
    match sent {
        Ok(Form(sent)) => {
            visit
                .aside(move |visit, boat| files::save(visit, boat, number, &sent))
                .await
        }
        Err(_) => plain(
            StatusCode::BAD_REQUEST,
            "That could not be understood. Nothing was written.",
        ),
    }
}

async fn uploaded(
    visit: Visit,
    number: Result<Path<usize>, PathRejection>,
    sent: Result<Query<files::Sent>, QueryRejection>,
    bytes: Bytes,
) -> Response {
    let number = numbered(number);
    let sent = sent.map(|Query(sent)| sent).unwrap_or_default();
    visit
        .aside(move |visit, boat| files::upload(visit, boat, number, &sent, &bytes))
        .await
}

async fn downloaded(visit: Visit, number: Result<Path<usize>, PathRejection>) -> Response {
    let number = numbered(number);
    visit
        .screen(move |visit, seen| files::download(visit, seen, number, None))
        .await
}

async fn version_before(
    visit: Visit,
    both: Result<Path<(usize, usize)>, PathRejection>,
) -> Response {
    let (number, version) = both.map_or((usize::MAX, 0), |Path(both)| both);
    visit
        .screen(move |visit, seen| files::download(visit, seen, number, Some(version)))
        .await
}

async fn ahead(visit: Visit) -> Response {
    visit
        .screen(|visit, seen| Json(laying::ahead(seen, visit.bench.door.look_only)).into_response())
        .await
}

async fn stamp(visit: Visit) -> Response {
    // Nothing is looked at that could change.
    if visit.boat().is_empty() {
        return Json(json!({ "stamp": "" })).into_response();
    }
    visit
        .aside(|_, boat| Json(json!({ "stamp": boat.stamp() })).into_response())
        .await
}

#[derive(Deserialize)]
struct Chosen {
    look: String,
}

/// A look that is chosen again is taken back.
async fn look(visit: Visit, Form(chosen): Form<Chosen>) -> Response {
    let look = match (chosen.look.as_str(), visit.look) {
        ("sun", now) if now != Look::Sun => "sun",
        ("dark", now) if now != Look::Dark => "dark",
        _ => "",
    };
    let name = Look::cookie(&visit.bench);
    let cookie = format!("{name}={look}; HttpOnly; SameSite=Strict; Path=/; Max-Age=31536000");
    let fields = [(header::SET_COOKIE, cookie), (header::LOCATION, "/".into())];
    (StatusCode::SEE_OTHER, fields).into_response()
}

async fn nothing(visit: Visit) -> Response {
    visit
        .screen(|visit, seen| refused::nothing_here(seen, visit.look))
        .await
}
