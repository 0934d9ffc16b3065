//! The hull in three dimensions, made from the job as it is now.

use super::frame::Look;
use super::refused;
use super::seen::Seen;
use crate::cli::hull::made;
use crate::cli::say;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse as _, Response};

/// The page has its scripts in it. So it is let do less than any other: it fetches nothing, and is a stranger to the
/// pages of the bench and to what they may tell.
const POLICY: &str = "sandbox allow-scripts; default-src 'none'; style-src 'unsafe-inline'; \
     script-src 'unsafe-inline'; img-src data:";

pub(super) fn page(seen: &Seen, look: Look) -> Response {
    let (shop, planned) = match refused::planned(seen, look) {
        Ok(both) => both,
        Err(answer) => return *answer,
    };
    match made(&shop.dir, &shop.reading, &planned.plan, &planned.verdict) {
        Ok((_, page)) => {
            let fields = [
                (header::CONTENT_TYPE, "text/html; charset=utf-8"),
                (header::CONTENT_SECURITY_POLICY, POLICY),
            ];
            (fields, page).into_response()
        }
        Err(why) => {
            let why = say::plain(&why.told(&shop.reading.job));
            refused::not_so(seen, look, StatusCode::CONFLICT, &why, "/boat")
        }
    }
}
