//! How many cases are tried.

use std::env;

/// As many cases as `TWINSTRAKE_MANY` says; where it says nothing, these few.
pub fn many(few: u64) -> u64 {
    let said = env::var("TWINSTRAKE_MANY").ok();
    said.and_then(|said| said.parse().ok()).unwrap_or(few)
}
