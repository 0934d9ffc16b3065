//! Which plan the files of `out/` show.

use super::folder::OUT;
use super::{Fault, laying_order};
use crate::disk;
use crate::job::Job;
use crate::plan::Plan;
use sha2::{Digest as _, Sha256};
use std::path::Path;

/// The SHA-256 of a plan's laying order as it is written, in lower-case hexadecimal: what tells two plans apart.
///
/// Errors: the laying order can't be put together, which is a bug.
pub fn plan_sha256(job: &Job, plan: &Plan) -> Result<String, Fault> {
    Ok(format!("{:x}", Sha256::digest(laying_order(job, plan)?)))
}

/// Whether the report in `out/` shows this plan.
pub fn is_shown(dir: &Path, job: &Job, plan: &Plan) -> bool {
    let page = disk::read(&dir.join(OUT).join("report.html"));
    match (page, plan_sha256(job, plan)) {
        (Ok(page), Ok(sha256)) => String::from_utf8_lossy(&page).contains(&sha256),
        _ => false,
    }
}
