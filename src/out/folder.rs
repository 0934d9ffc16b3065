//! The folder `out/` of a job: all files of one plan together.

use super::whole::{temporary, write_all};
use super::{Fault, Made, laying_order, plan_json};
use crate::job::Job;
use crate::plan::Plan;
use std::fs;
use std::path::Path;

pub(super) const OUT: &str = "out";

/// The files of a plan, as named inside the job folder.
pub const FILES: [&str; 6] = [
    "out/laying-order.csv",
    "out/plan.json",
    "out/planking.svg",
    "out/wood.svg",
    "out/seams.svg",
    "out/report.html",
];

/// Whether the plan of this job folder could be written: asked before the search, which takes its time.
///
/// Errors: why not. Nothing is left behind.
pub fn can_write(dir: &Path) -> Result<(), Fault> {
    let out = dir.join(OUT);
    let there = if out.exists() { &out } else { dir };
    temporary(there)
        .map(drop)
        .map_err(|error| Fault::refused(&out, error))
}

/// Writes all files of a plan into `out/` of the job folder: the laying order, plan.json, and what shows them, by name.
///
/// Errors: the first file that could not be written, or put together. The old files are then as they were.
pub fn write(
    dir: &Path,
    job: &Job,
    plan: &Plan,
    made: &Made<'_>,
    shown: Vec<(&'static str, Vec<u8>)>,
) -> Result<(), Fault> {
    let mut files = shown;
    files.push(("laying-order.csv", laying_order(job, plan)?));
    files.push(("plan.json", plan_json(job, plan, made)?));
    let out = dir.join(OUT);
    fs::create_dir_all(&out).map_err(|error| Fault::refused(&out, error))?;
    write_all(&out, &files)
}
