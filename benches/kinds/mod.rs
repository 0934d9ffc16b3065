//! The jobs that are measured on, by their names.
#![allow(clippy::expect_used)]

use std::path::Path;
use twinstrake::invented;
use twinstrake::job::{self, Job};

/// A job that is invented from a seed (`src/invented.rs`), `demo` for the demo job, `canoe` for the one beside this;
/// `None` where there is no such kind.
pub fn job(kind: &str, seed: u64) -> Option<Job> {
    let folder = match kind {
        "demo" => "demo-stock",
        "canoe" => "benches/canoe",
        kind => return invented::by_name(kind, seed),
    };
    let reading = job::read(Path::new(folder)).expect("a job without mistakes");
    Some(reading.job)
}
