//! What shows a plan: pictures and report in `out/`, and whether they show the plan that lies beside them.

use super::folder::OUT;
use super::whole::write_all;
use super::{Fault, laying_order};
use crate::job::Job;
use crate::plan::Plan;
use sha2::{Digest as _, Sha256};
use std::fs;
use std::path::Path;

/// The SHA-256 of a plan's laying order as it is written, in lower-case hexadecimal: what tells two plans apart.
///
/// Errors: the laying order can't be put together, which is a bug.
pub fn plan_sha256(job: &Job, plan: &Plan) -> Result<String, Fault> {
    Ok(format!("{:x}", Sha256::digest(laying_order(job, plan)?)))
}

/// Whether the report in `out/` shows this plan.
pub fn is_shown(dir: &Path, job: &Job, plan: &Plan) -> bool {
    let page = fs::read_to_string(dir.join(OUT).join("report.html"));
    match (page, plan_sha256(job, plan)) {
        (Ok(page), Ok(sha256)) => page.contains(&sha256),
        _ => false,
    }
}

/// Writes files that show a plan into `out/` of the job folder.
///
/// Errors: the first file that could not be written. The old files are then as they were.
pub fn write_shown(dir: &Path, files: &[(&str, Vec<u8>)]) -> Result<(), Fault> {
    write_all(&dir.join(OUT), files)
}
