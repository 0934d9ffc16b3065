//! The report as whoever opens it meets it: in a real browser without a window, by pointer, touch and keys, on a
//! phone and a desk, in light and dark, with and without script, and on paper.
//!
//! Debian: chromium, poppler-utils. Where one is missing its tests are ignored (`build.rs`), or fail where `CI` is
//! `true`.
#![allow(clippy::unwrap_used, clippy::expect_used)]

pub mod browser;
mod contrast;
mod hull;
mod marks;
mod network;
mod pieces;
mod print;

use crate::common;
use crate::paper::poppler;
use common::{boat, naive};
use std::fs;
use std::path::PathBuf;
use tempfile::TempDir;
use twinstrake::check::check;
use twinstrake::draw::Picture;
use twinstrake::hull::Toward;
use twinstrake::job::{self, Job};
use twinstrake::plan::Plan;
use twinstrake::report::{Report, html};

/// A report on the disk, gone when dropped.
struct Page {
    folder: TempDir,
    job: Job,
    plan: Plan,
}

impl Page {
    fn of(job: Job, shortage: Option<&str>) -> Page {
        let plan = naive::plan(&job, naive::Habit::FewJoints);
        let folder = TempDir::new().unwrap();
        let digest = job::Digest {
            file: "boat.toml".into(),
            sha256: "0f".repeat(32),
        };
        let verdict = check(&job, &plan);
        let page = html(&Report {
            job: &job,
            plan: &plan,
            verdict: &verdict,
            inputs: &[digest],
            sha256: &"5a".repeat(32),
            facts: &[("Courses", "some".into()), ("Cost", "one\ntwo".into())],
            shortage,
            photographs: None,
            planking: &Picture::Planking.scene(&job, &plan, &verdict, None),
            wood: &Picture::Wood.scene(&job, &plan, &verdict, None),
        });
        fs::write(folder.path().join("report.html"), page).unwrap();
        Page { folder, job, plan }
    }

    /// The demo's boat and rack, laid by the plain planner.
    fn demo() -> Page {
        let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
        Page::of(job::read(&root.join("demo-stock")).unwrap().job, None)
    }

    /// A small boat whose every name is an attack on the page, with a course that no wood covers.
    fn hostile() -> Page {
        let wild = |end: &str| {
            format!("</script><img src=http://127.0.0.1:9/{end} onerror=throw(1)>\"'&<b>")
        };
        let mut job = boat()
            .panel("side", Toward::Keel)
            .courses(4, 0.0, 3000.0)
            .keep_clear("mast", 1000.0, 1500.0)
            .board("oak", 6, 3300.0, 4)
            .build();
        job.name = wild("boat");
        job.hull.panels[0].name = wild("panel");
        job.hull.keep_clear[0].name = Some(wild("zone"));
        for (n, strip) in job.stock.strips.iter_mut().enumerate() {
            strip.name = wild(&n.to_string());
            strip.grain = wild("grain");
        }
        let shortage = format!(
            "The wood does not cover it:\n  1 more pair, for {}",
            wild("side")
        );
        Page::of(job, Some(&shortage))
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("report.html")
    }

    fn address(&self) -> String {
        format!("file://{}", self.file().display())
    }
}
