//! Server-sent events: how far the search is, as long as somebody looks on. Source of the format: the HTML standard,
//! "Server-sent events".

use super::Bench;
use super::planning::Planning;
use axum::body::{Body, Bytes};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use hyper::body::{Body as Streamed, Frame};
use serde_json::{Value, json};
use std::convert::Infallible;
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::sync::{mpsc, watch};
use tokio::time::{sleep, timeout};

/// No more often than this is anything told.
const AT_MOST: Duration = Duration::from_millis(400);
/// After so long the time is told, and whoever is gone is noticed.
const AT_LEAST: Duration = Duration::from_secs(2);

/// Whether the program is being left; goes with every request.
#[derive(Clone)]
pub struct Ending(pub(super) watch::Receiver<bool>);

/// What is told of the search for a boat, as it changes.
pub fn events(bench: &Arc<Bench>, boat: String, ending: Ending) -> Response {
    let (lines, all) = mpsc::channel(1);
    tokio::spawn(told(Arc::clone(&bench.planning), boat, ending, lines));
    let kind = [(header::CONTENT_TYPE, "text/event-stream")];
    (kind, Body::new(Stream(all))).into_response()
}

async fn told(
    planning: Arc<Planning>,
    boat: String,
    mut ending: Ending,
    lines: mpsc::Sender<Bytes>,
) {
    let mut news = planning.news();
    loop {
        news.mark_unchanged();
        let now = state(&planning, &boat);
        if lines.send(format!("data: {now}\n\n").into()).await.is_err() || now["under_way"] == false
        {
            return;
        }
        tokio::select! {
            _ = timeout(AT_LEAST, news.changed()) => {}
            () = ended(&mut ending) => return,
        }
        sleep(AT_MOST).await;
    }
}

async fn ended(Ending(ending): &mut Ending) {
    let _ = ending.wait_for(|ending| *ending).await;
}

fn state(planning: &Planning, boat: &str) -> Value {
    let run = planning.now(boat).0.filter(|run| run.boat == boat);
    json!({
        "under_way": run.is_some(),
        "said": run.as_ref().map(|run| run.told()),
        "picture": run.as_ref().and_then(|run| Some(run.best.as_ref()?.0)),
    })
}

/// Lines as they come.
struct Stream(mpsc::Receiver<Bytes>);

impl Streamed for Stream {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        let next = self.0.poll_recv(context);
        next.map(|line| line.map(|line| Ok(Frame::data(line))))
    }
}
