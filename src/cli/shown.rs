//! What shows a plan: the pictures and the report. Whatever command writes a plan writes these with it.

use super::faces::photographs;
use std::path::Path;
use twinstrake::check::Verdict;
use twinstrake::draw::{Picture, svg};
use twinstrake::job::Reading;
use twinstrake::out::{self, Fault};
use twinstrake::plan::Plan;
use twinstrake::report::{self, Report};

/// A file of `out/`: its name in it, and its bytes.
pub(super) type File = (&'static str, Vec<u8>);

/// The files that show a plan, by name, as they go to `out/`.
///
/// Errors: the laying order can't be put together, which is a bug.
pub(super) fn shown(
    dir: &Path,
    reading: &Reading,
    plan: &Plan,
    verdict: &Verdict,
    facts: &[(&'static str, String)],
    shortage: Option<&str>,
) -> Result<Vec<File>, Fault> {
    let photographs = photographs(dir, reading, plan);
    let report = Report {
        job: &reading.job,
        plan,
        verdict,
        inputs: &reading.digests,
        sha256: &out::plan_sha256(&reading.job, plan)?,
        facts,
        shortage,
        photographs: photographs.as_ref(),
    };
    let pictures = Picture::ALL.into_iter().map(|picture| {
        let scene = picture.photographed(&reading.job, plan, verdict, photographs.as_ref());
        (picture.svg(), svg::write(&scene).into_bytes())
    });
    let mut files: Vec<File> = pictures.collect();
    files.push(("report.html", report::html(&report).into_bytes()));
    Ok(files)
}
