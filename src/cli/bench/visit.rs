//! Somebody who asks: which boat he has before him, and how he wants to see it.

use super::Bench;
use super::frame::Look;
use super::guard::{cookie, plain};
use super::seen::{Seen, Watched};
use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use std::convert::Infallible;
use std::sync::Arc;

/// Somebody who asks.
pub struct Visit {
    pub bench: Arc<Bench>,
    pub headers: HeaderMap,
    pub look: Look,
    /// The boat that was chosen, where there are several.
    boat: Option<Arc<Watched>>,
}

impl FromRequestParts<Arc<Bench>> for Visit {
    type Rejection = Infallible;

    async fn from_request_parts(
        parts: &mut Parts,
        bench: &Arc<Bench>,
    ) -> Result<Visit, Infallible> {
        let headers = parts.headers.clone();
        Ok(Visit {
            look: Look::of(bench, &headers),
            boat: bench
                .boats
                .chosen(cookie(&headers, &Visit::cookie(bench.door.port))),
            bench: Arc::clone(bench),
            headers,
        })
    }
}

impl Visit {
    /// What the cookie is called that says which boat was chosen.
    pub fn cookie(port: u16) -> String {
        format!("boat-{port}")
    }

    /// Whether something can be told.
    pub fn may_tell(&self) -> bool {
        !self.bench.door.look_only
    }

    /// The boat that was chosen, by its name among them.
    pub fn boat(&self) -> String {
        self.boat
            .as_ref()
            .map_or_else(String::new, |boat| boat.id.clone())
    }

    /// Does something with the boat that was chosen, beside the connections.
    pub async fn aside<R: IntoResponse>(
        self,
        work: impl FnOnce(&Visit, &Arc<Watched>) -> R + Send + 'static,
    ) -> Response {
        self.alone(move |visit| match &visit.boat {
            Some(boat) => work(visit, boat).into_response(),
            None => to("/boats"),
        })
        .await
    }

    /// Does something, whichever boat was chosen, beside the connections.
    pub async fn alone<R: IntoResponse>(
        self,
        work: impl FnOnce(&Visit) -> R + Send + 'static,
    ) -> Response {
        let work = move || work(&self).into_response();
        let done = tokio::task::spawn_blocking(work).await;
        done.unwrap_or_else(|_| {
            plain(
                StatusCode::INTERNAL_SERVER_ERROR,
                "This is a bug in twinstrake, not in your job. Keep the job folder as it is, and tell whoever looks \
                    after the program.",
            )
        })
    }

    /// A screen made from the job as it is now.
    pub async fn screen<R: IntoResponse>(
        self,
        made: impl FnOnce(&Visit, &Seen) -> R + Send + 'static,
    ) -> Response {
        self.aside(move |visit, boat| made(visit, &boat.now()))
            .await
    }
}

/// Leads elsewhere.
pub fn to(address: &str) -> Response {
    let address = [(header::LOCATION, address.to_owned())];
    (StatusCode::SEE_OTHER, address).into_response()
}
