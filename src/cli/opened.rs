//! A job folder opened, and what is wrong or odd in it said on stderr.

use super::say;
use super::status::Status;
use crate::job::{self, Complaint, Reading};
use crate::plan::Plan;
use std::path::Path;

/// A job.
///
/// Errors: how the command ends; why is said already.
pub(super) fn job(dir: &Path) -> Result<Reading, Status> {
    let reading = job::read(dir).map_err(|complaints| unreadable(&complaints))?;
    say::err(&say::warnings(&reading.warnings));
    Ok(reading)
}

/// A job, and the plan that lies in its `out/`.
///
/// Errors: as for [`job`].
pub(super) fn job_and_plan(dir: &Path) -> Result<(Reading, Plan), Status> {
    let reading = job(dir)?;
    let plan = job::read_plan(dir, &reading.job).map_err(|complaints| unreadable(&complaints))?;
    Ok((reading, plan))
}

fn unreadable(complaints: &[Complaint]) -> Status {
    say::err(&say::complaints(complaints));
    Status::BadInput
}
