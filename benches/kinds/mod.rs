//! The jobs that are measured on, by their names.
#![allow(clippy::expect_used)]

use std::path::Path;
use twinstrake::invented;
use twinstrake::job::{self, Job};

/// A job that is invented from a seed (`src/invented.rs`), `demo` for the demo job, `canoe` for the one beside this.
pub fn job(kind: &str, seed: u64) -> Job {
    let folder = match kind {
        "demo" => "demo-stock",
        "canoe" => "benches/canoe",
        kind => return invented::by_name(kind, seed).expect("a kind of job"),
    };
    job::read(Path::new(folder))
        .expect("a job without mistakes")
        .job
}
