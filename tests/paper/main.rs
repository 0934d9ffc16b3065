//! What is printed, read back by programs that share no code with ours.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod back_ends;
mod poppler;
