//! Planning again: what is glued stays, the checker finds nothing, and the price of labels is the checker's.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test that can't go on stops"
)]

use crate::common;

mod by_hand;
mod histories;
mod oracle;
mod spares;

use twinstrake::solve::Asked;

/// One round on one thread.
fn asked(seed: u64) -> Asked {
    Asked {
        seed,
        rounds: Some(1),
        threads: Some(1),
        ..Asked::default()
    }
}
