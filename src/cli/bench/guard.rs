//! Who may come in, and what goes out with every answer.
//!
//! Against a page elsewhere that makes a browser in the shop ask us: the name that was asked for must be our own
//! address (a name that somebody else's server gives out for it is not), what is told must come from our own page,
//! and the word of the door lives in a cookie that is sent from nowhere else. Against text in a job: no script and no
//! style stands in a page.

use super::{Bench, token};
use axum::body::{Body, HttpBody as _, to_bytes};
use axum::extract::{Request, State};
use axum::http::header::{
    ACCEPT, CACHE_CONTROL, CONTENT_SECURITY_POLICY, COOKIE, HOST, HeaderName, LOCATION, ORIGIN,
    REFERRER_POLICY, SET_COOKIE, X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, Uri};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;
use tokio::time::timeout;

/// Where a page may get anything from: our own files, and nothing written into it.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; \
     connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";
/// The most that is taken of what somebody tells: an entry, a sheet, a photograph. Unit: bytes.
const TOLD: usize = 16 * 1024;
pub const SHEET: usize = 1024 * 1024;
pub const PHOTOGRAPH: usize = 25 * 1024 * 1024;
/// How long an entry may take to come, how long anything larger, and how long the answer.
const TELLING: Duration = Duration::from_secs(10);
const SENDING: Duration = Duration::from_secs(60);
const ANSWER: Duration = Duration::from_secs(100);

/// Our end of a connection.
#[derive(Clone, Copy, Debug)]
pub struct At(pub(super) SocketAddr);

/// The door.
pub struct Door {
    pub port: u16,
    /// The word that lets a phone in; none is needed on the machine itself.
    pub token: Option<String>,
    /// Whether nothing can be told.
    pub look_only: bool,
}

/// Lets in or turns away.
pub async fn guard(State(bench): State<Arc<Bench>>, request: Request, next: Next) -> Response {
    let answered = timeout(ANSWER, answered(&bench, request, next)).await;
    let mut answer = answered.unwrap_or_else(|_| {
        plain(
            StatusCode::SERVICE_UNAVAILABLE,
            "This takes too long: perhaps another program holds the files of the job. Try again.",
        )
    });
    let headers = answer.headers_mut();
    let has_its_own = headers.contains_key(CONTENT_SECURITY_POLICY);
    let mut put = |name: HeaderName, value: &'static str| {
        headers.insert(name, HeaderValue::from_static(value))
    };
    if !has_its_own {
        put(CONTENT_SECURITY_POLICY, POLICY);
    }
    put(X_CONTENT_TYPE_OPTIONS, "nosniff");
    // Not no-referrer: a browser then hides where a form comes from, and we could not tell our own.
    put(REFERRER_POLICY, "same-origin");
    put(CACHE_CONTROL, "no-store");
    put(
        HeaderName::from_static("cross-origin-resource-policy"),
        "same-origin",
    );
    put(
        HeaderName::from_static("cross-origin-opener-policy"),
        "same-origin",
    );
    put(HeaderName::from_static("x-frame-options"), "DENY");
    answer
}

async fn answered(bench: &Bench, request: Request, next: Next) -> Response {
    if let Err(answer) = bench.door.admits(&request) {
        return *answer;
    }
    let (parts, body) = request.into_parts();
    let (most, time) = match parts.uri.path() {
        "/scan" => (PHOTOGRAPH, SENDING),
        // As a form sends it, a sign may be three.
        path if path.starts_with("/files/") => (3 * SHEET + TOLD, SENDING),
        _ => (TOLD, TELLING),
    };
    let too_much = || {
        plain(
            StatusCode::PAYLOAD_TOO_LARGE,
            "That is more than can be taken at once. Nothing was written.",
        )
    };
    if body.size_hint().lower() > most as u64 {
        return too_much();
    }
    // Few large things are held in memory at a time: others wait in the net.
    let _alone = match most > TOLD && parts.method == Method::POST {
        true => bench.large.acquire().await.ok(),
        false => None,
    };
    match timeout(time, to_bytes(body, most)).await {
        Ok(Ok(bytes)) => {
            next.run(Request::from_parts(parts, Body::from(bytes)))
                .await
        }
        Ok(Err(_)) => too_much(),
        Err(_) => plain(
            StatusCode::REQUEST_TIMEOUT,
            "What was told did not come to its end. Nothing was written.",
        ),
    }
}

impl Door {
    /// Errors: the answer that turns the request away.
    fn admits(&self, request: &Request) -> Result<(), Box<Response>> {
        let away = |status, text| Err(Box::new(plain(status, text)));
        let headers = request.headers();
        let Some(host) = self.our_name(request) else {
            return away(
                StatusCode::MISDIRECTED_REQUEST,
                "This page answers only to the address that the program printed.",
            );
        };
        let is_told = match *request.method() {
            Method::GET | Method::HEAD => false,
            Method::POST => true,
            _ => return away(StatusCode::METHOD_NOT_ALLOWED, "That can't be asked here."),
        };
        let ours = format!("http://{host}");
        if is_told && one(headers, ORIGIN) != Some(ours.as_str()) {
            return away(
                StatusCode::FORBIDDEN,
                "That does not come from this page. Nothing was written.",
            );
        }
        if is_from_elsewhere(headers, is_told) {
            return away(
                StatusCode::FORBIDDEN,
                "Another page asked for this. It is not shown there.",
            );
        }
        if let Some(word) = &self.token {
            if request.uri().path() == "/enter" {
                return Err(Box::new(self.enters(word, request.uri())));
            }
            let sent = cookie(headers, &self.cookie()).unwrap_or_default();
            if !token::is(word, sent) {
                return away(
                    StatusCode::FORBIDDEN,
                    "Scan the code on the terminal again, or type the whole address that stands there.",
                );
            }
        }
        if is_told && self.look_only && request.uri().path() != "/look" {
            return away(
                StatusCode::FORBIDDEN,
                "This page is to look at only. Nothing was written.",
            );
        }
        Ok(())
    }

    /// The name that was asked for, where it is our own.
    fn our_name<'r>(&self, request: &'r Request) -> Option<&'r str> {
        let At(here) = request.extensions().get::<At>()?;
        let host = one(request.headers(), HOST)?;
        let ours = |name: &str| {
            name == here.to_string()
                || (here.ip().is_loopback() && name == format!("localhost:{}", here.port()))
        };
        let whole = request
            .uri()
            .authority()
            .is_none_or(|name| ours(name.as_str()));
        (ours(host) && whole).then_some(host)
    }

    /// The first visit: the word becomes a cookie, and is out of the address.
    fn enters(&self, word: &str, uri: &Uri) -> Response {
        let sent = uri
            .query()
            .and_then(|query| query.strip_prefix("word="))
            .unwrap_or_default();
        if !token::is(word, sent) {
            return plain(
                StatusCode::FORBIDDEN,
                "This address is not the one on the terminal, or the program was started anew since. Scan the code \
                    again.",
            );
        }
        kept(&self.cookie(), word, MONTH, "/")
    }

    /// Cookies know no ports: another bench on the machine has another name.
    fn cookie(&self) -> String {
        format!("bench-{}", self.port)
    }
}

/// Whether a page of somebody else asks; a link that is followed is not that.
fn is_from_elsewhere(headers: &HeaderMap, is_told: bool) -> bool {
    let said = |name: &'static str| one(headers, HeaderName::from_static(name));
    match said("sec-fetch-site") {
        None | Some("same-origin" | "none") => false,
        Some(_) => {
            is_told
                || said("sec-fetch-mode") != Some("navigate")
                || said("sec-fetch-dest") != Some("document")
        }
    }
}

/// A field that is there just once.
fn one(headers: &HeaderMap, name: HeaderName) -> Option<&str> {
    let mut all = headers.get_all(name).iter();
    match (all.next(), all.next()) {
        (Some(only), None) => only.to_str().ok(),
        _ => None,
    }
}

/// How long a cookie is kept. Unit: seconds.
const MONTH: u32 = 30 * 24 * 3600;
pub const YEAR: u32 = 365 * 24 * 3600;

/// To a page, with something to be kept in a cookie that no script reads and no other site sends.
pub fn kept(name: &str, value: &str, seconds: u32, to: &str) -> Response {
    let cookie = format!("{name}={value}; HttpOnly; SameSite=Strict; Path=/; Max-Age={seconds}");
    let fields = [(SET_COOKIE, cookie), (LOCATION, to.to_owned())];
    (StatusCode::SEE_OTHER, fields).into_response()
}

/// A cookie by its name.
pub fn cookie<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    let all = headers
        .get_all(COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok());
    all.flat_map(|value| value.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find(|(its, _)| *its == name)
        .map(|(_, value)| value)
}

/// Whether the page's script asks, which shows the answer itself.
pub fn is_script(headers: &HeaderMap) -> bool {
    one(headers, ACCEPT) == Some("application/json")
}

/// A few words without any page around them.
pub fn plain(status: StatusCode, text: &'static str) -> Response {
    (status, text).into_response()
}
