//! Which address is which screen. No name of a file ever comes from an address.

use super::events::{Ending, events};
use super::frame::Look;
use super::guard::{YEAR, guard, kept, plain};
use super::seen::{Seen, Watched};
use super::visit::Visit;
use super::{
    Bench, boat, choose, entries, files, find, hull, laying, plan, print, record, refused, scan,
    shelf, strip,
};
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

pub fn routes(bench: Arc<Bench>) -> Router {
    Router::new()
        .route("/", queried(laying::next))
        .route("/record", queried(record::screen))
        .route("/piece/{order}", numbered(laying::one))
        .route("/strip/{at}", numbered(strip::screen))
        .route("/boat", screen(boat::screen))
        .route("/hull", screen(hull::page))
        .route("/find", queried(find::screen))
        .route("/scan", screen(scan::screen).post(scanned))
        .route("/plan", queried(plan::screen))
        .route("/plan/{number}", numbered(choose::one))
        .route("/plan/{number}/{picture}", get(pictured))
        .route("/plan/start", told(plan::start))
        .route("/plan/why", told(plan::why))
        .route("/plan/stop", told(plan::stop))
        .route("/plan/forget", told(plan::forget))
        .route("/plan/take", told(choose::taken))
        .route("/plan/away", told(choose::away))
        .route("/plan/best", screen(plan::best))
        .route("/plan/events", get(watched))
        .route("/paper", screen(print::screen))
        .route("/paper/labels", told(print::make_labels))
        .route("/paper/tags", told(print::make_tags))
        .route("/print/{file}", get(printed))
        .route("/files", screen(files::list))
        .route("/files/{number}", get(edited))
        .route("/files/{number}/save", post(saved))
        .route("/files/0/keys", told(files::save_keys))
        .route(
            "/files/{number}/file",
            numbered(files::download).post(uploaded),
        )
        .route("/files/{number}/before/{version}", get(version_before))
        .route(
            "/boats",
            get(async |visit: Visit| visit.alone(shelf::screen).await),
        )
        .route("/boats/choose", of_all_boats(shelf::choose))
        .route("/boats/begin", of_all_boats(shelf::begin))
        .route("/ahead", screen(laying::ahead))
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

/// A screen that depends on nothing but the job.
fn screen<R: IntoResponse + 'static>(made: fn(&Visit, &Seen) -> R) -> Routes {
    get(async move |visit: Visit| visit.screen(made).await)
}

/// A screen that may be asked for with more words. What can't be understood of them counts as nothing.
fn queried<T, R>(made: fn(&Visit, &Seen, &T) -> R) -> Routes
where
    T: DeserializeOwned + Default + Send + 'static,
    R: IntoResponse + 'static,
{
    get(
        async move |visit: Visit, asked: Result<Query<T>, QueryRejection>| {
            let asked = query(asked);
            visit
                .screen(move |visit, seen| made(visit, seen, &asked))
                .await
        },
    )
}

/// The screen of one of many, by its number.
fn numbered<R: IntoResponse + 'static>(made: fn(&Visit, &Seen, usize) -> R) -> Routes {
    get(
        async move |visit: Visit, number: Result<Path<usize>, PathRejection>| {
            let number = number_of(number);
            visit
                .screen(move |visit, seen| made(visit, seen, number))
                .await
        },
    )
}

/// What is told with a form.
fn told<T, R>(done: fn(&Visit, &Arc<Watched>, &T) -> R) -> Routes
where
    T: DeserializeOwned + Default + Send + 'static,
    R: IntoResponse + 'static,
{
    post(
        async move |visit: Visit, sent: Result<Form<T>, FormRejection>| {
            let sent = form(sent);
            visit
                .aside(move |visit, boat| done(visit, boat, &sent))
                .await
        },
    )
}

/// The same, whichever boat was chosen.
fn of_all_boats<T, R>(done: fn(&Visit, &T) -> R) -> Routes
where
    T: DeserializeOwned + Default + Send + 'static,
    R: IntoResponse + 'static,
{
    post(
        async move |visit: Visit, sent: Result<Form<T>, FormRejection>| {
            let sent = form(sent);
            visit.alone(move |visit| done(visit, &sent)).await
        },
    )
}

fn form<T: Default>(sent: Result<Form<T>, FormRejection>) -> T {
    sent.map(|Form(sent)| sent).unwrap_or_default()
}

fn query<T: Default>(asked: Result<Query<T>, QueryRejection>) -> T {
    asked.map(|Query(asked)| asked).unwrap_or_default()
}

/// What is no number is one that nothing has.
fn number_of(number: Result<Path<usize>, PathRejection>) -> usize {
    number.map_or(usize::MAX, |Path(number)| number)
}

async fn scanned(visit: Visit, photograph: Bytes) -> Response {
    visit
        .screen(move |_, seen| scan::scanned(seen, &photograph))
        .await
}

async fn pictured(visit: Visit, both: Result<Path<(usize, String)>, PathRejection>) -> Response {
    let (number, name) = both.map_or((usize::MAX, String::new()), |Path(both)| both);
    visit
        .screen(move |visit, seen| choose::drawn(visit, seen, number, &name))
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
    let part = query(part);
    visit
        .screen(move |visit, seen| print::pdf(visit, seen, &file, &part))
        .await
}

async fn edited(
    visit: Visit,
    number: Result<Path<usize>, PathRejection>,
    done: Result<Query<files::Saved>, QueryRejection>,
) -> Response {
    let (number, done) = (number_of(number), query(done));
    visit
        .screen(move |visit, seen| files::one(visit, seen, number, &done))
        .await
}

async fn saved(
    visit: Visit,
    number: Result<Path<usize>, PathRejection>,
    sent: Result<Form<files::Sent>, FormRejection>,
) -> Response {
    let number = number_of(number);
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
    let (number, sent) = (number_of(number), query(sent));
    visit
        .aside(move |visit, boat| files::upload(visit, boat, number, &sent, &bytes))
        .await
}

async fn version_before(
    visit: Visit,
    both: Result<Path<(usize, usize)>, PathRejection>,
) -> Response {
    let (number, version) = both.map_or((usize::MAX, 0), |Path(both)| both);
    visit
        .screen(move |visit, seen| files::version_before(visit, seen, number, version))
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
    kept(&name, look, YEAR, "/")
}

async fn nothing(visit: Visit) -> Response {
    visit.screen(refused::nothing_here).await
}
