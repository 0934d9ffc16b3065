//! The hull in three dimensions, made from the job as it is now.

use super::refused::{self, Answer};
use super::seen::Seen;
use super::visit::Visit;
use crate::cli::hull::made;
use axum::http::header;
use axum::response::IntoResponse as _;

/// The page has its scripts in it. So it is let do less than any other: it fetches nothing, and is a stranger to the
/// pages of the bench and to what they may tell.
const POLICY: &str = "sandbox allow-scripts; default-src 'none'; style-src 'unsafe-inline'; \
     script-src 'unsafe-inline'; img-src data:";

pub fn page(visit: &Visit, seen: &Seen) -> Answer {
    let (shop, planned) = refused::planned(visit, seen)?;
    let made = made(&shop.dir, &shop.reading, &planned.plan, &planned.verdict);
    let (_, page) = made.map_err(|not| refused::not_made(visit, seen, not, "", "/boat"))?;
    let fields = [
        (header::CONTENT_TYPE, "text/html; charset=utf-8"),
        (header::CONTENT_SECURITY_POLICY, POLICY),
    ];
    Ok((fields, page).into_response())
}
