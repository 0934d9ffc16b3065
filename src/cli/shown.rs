//! What shows a plan: the pictures and the report. Whatever command writes a plan writes these with it.

use super::say::{self, Drawn};
use crate::check::Verdict;
use crate::draw::{Picture, svg};
use crate::job::{Digest, Job};
use crate::out::{self, Fault};
use crate::plan::Plan;
use crate::report::{self, Report};

/// A file of `out/`: its name in it, and its bytes.
pub(super) type File = (&'static str, Vec<u8>);

/// What shows a plan that the search has just found.
///
/// Errors: the laying order can't be put together, which is a bug.
pub(super) fn found(drawn: &Drawn<'_>, inputs: &[Digest]) -> Result<Vec<File>, Fault> {
    let shortage = say::shortage(drawn.job, drawn.outcome);
    let shortage = shortage.as_deref().map(say::plain);
    let plan = &drawn.outcome.plan;
    Ok(files(&Report {
        job: drawn.job,
        plan,
        verdict: drawn.verdict,
        inputs,
        sha256: &out::plan_sha256(drawn.job, plan)?,
        facts: &say::facts(drawn),
        shortage: shortage.as_deref(),
    }))
}

/// What shows a plan whose search is not at hand.
///
/// Errors: as for [`found`].
pub(super) fn plan(
    job: &Job,
    plan: &Plan,
    verdict: &Verdict,
    inputs: &[Digest],
) -> Result<Vec<File>, Fault> {
    Ok(files(&Report {
        job,
        plan,
        verdict,
        inputs,
        sha256: &out::plan_sha256(job, plan)?,
        facts: &say::of_the_plan(job, plan, verdict),
        shortage: None,
    }))
}

fn files(report: &Report<'_>) -> Vec<File> {
    let pictures = Picture::ALL.into_iter().map(|picture| {
        let scene = picture.scene(report.job, report.plan, report.verdict);
        (picture.svg(), svg::write(&scene).into_bytes())
    });
    let mut files: Vec<File> = pictures.collect();
    files.push(("report.html", report::html(report).into_bytes()));
    files
}
