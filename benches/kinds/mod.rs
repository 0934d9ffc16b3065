//! The jobs that are measured on, by their names.
#![allow(clippy::expect_used)]

use std::path::Path;
use twinstrake::invented;
use twinstrake::job::{self, Job};

/// The folder of a kind that is no invented job.
pub fn folder(kind: &str) -> Option<&'static Path> {
    match kind {
        "demo" => Some(Path::new("demo-stock")),
        "canoe" => Some(Path::new("benches/canoe")),
        _ => None,
    }
}

/// A job that is invented from a seed (`src/invented.rs`), `demo` for the demo job, `canoe` for the one beside this;
/// `None` where there is no such kind.
pub fn job(kind: &str, seed: u64) -> Option<Job> {
    let Some(folder) = folder(kind) else {
        return invented::by_name(kind, seed);
    };
    let reading = job::read(folder).expect("a job without mistakes");
    Some(reading.job)
}
