//! The folder `out/` of a job: all files of one plan together.

use super::{Fault, Made, laying_order, plan_json};
use crate::disk::{temporary, write_all};
use crate::job::Job;
use crate::plan::Plan;
use std::fs;
use std::path::Path;

const OUT: &str = "out";

/// The laying order, as named inside the job folder.
pub const LAYING_ORDER: &str = "out/laying-order.csv";

/// The files of a plan, as named inside the job folder.
pub const FILES: [&str; 3] = ["out/laying-order.csv", "out/plan.json", "out/planking.svg"];

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

/// Writes all files of a plan into `out/` of the job folder: the laying order, plan.json, and the drawing.
///
/// Errors: the first file that could not be written, or put together. The old files are then as they were.
pub fn write(
    dir: &Path,
    job: &Job,
    plan: &Plan,
    made: &Made<'_>,
    drawing: &str,
) -> Result<(), Fault> {
    let files = [
        ("planking.svg", drawing.as_bytes().to_vec()),
        ("laying-order.csv", laying_order(job, plan)?),
        ("plan.json", plan_json(job, plan, made)?),
    ];
    let out = dir.join(OUT);
    fs::create_dir_all(&out).map_err(|error| Fault::refused(&out, error))?;
    write_all(&out, &files)
}
