//! What is printed, read back by programs that share no code with ours.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod back_ends;
use crate::common;
mod fitting;
mod labels;
pub mod poppler;
mod sheets;

use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;
use twinstrake::draw::pdf;
use twinstrake::draw::scene::Scene;
use twinstrake::job::{self, Job};
use twinstrake::paper::About;
use twinstrake::plan::Plan;

/// The demo job, laid by the plain planner of the tests.
fn demo() -> (Job, Plan) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let job = job::read(&root.join("demo-stock")).unwrap().job;
    let plan = common::naive::plan(&job, common::naive::Habit::ManyJoints);
    (job, plan)
}

fn about() -> About {
    About {
        digest: "0123abcd".into(),
        ..About::default()
    }
}

fn on_disk(pages: &[Scene]) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("pages.pdf");
    fs::write(&file, pdf(pages).unwrap()).unwrap();
    (folder, file)
}
