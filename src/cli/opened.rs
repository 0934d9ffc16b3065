//! A job folder opened, and what is wrong or odd in it said on stderr.

use super::laid;
use super::say;
use super::status::Status;
use std::path::Path;
use twinstrake::job::{self, Complaint, Lines, Photos, Reading, Saw};
use twinstrake::plan::Plan;

/// A job, and what is laid of it held against the rules. Nothing is said.
///
/// Errors: everything that is wrong with it.
pub fn judged(dir: &Path) -> Result<Reading, Vec<Complaint>> {
    let reading = job::read(dir)?;
    laid::judged(&reading)?;
    Ok(reading)
}

/// A job. What is odd in its files but can be read is told by `lay` alone: to hear it with every command helps
/// nobody. What is odd in the log is told whenever it is read.
///
/// Errors: how the command ends; why is said already.
pub fn job(dir: &Path) -> Result<Reading, Status> {
    let reading = judged(dir).map_err(|all| unreadable(&all))?;
    odd(&reading);
    Ok(reading)
}

/// Says what is odd in a job that was read.
pub fn odd(reading: &Reading) {
    say::err(&say::promised(&reading.job.stock.promised()));
    let of_log = |warning: &&Complaint| warning.file == twinstrake::log::FILE;
    let of_log: Vec<Complaint> = reading.warnings.iter().filter(of_log).cloned().collect();
    say::err(&say::warnings(&of_log));
}

/// What a job folder says of boat and boards, before there is a rack to plan with. What is odd in it is said.
///
/// Errors: as for [`job`].
pub fn saw(dir: &Path) -> Result<Saw, Status> {
    let saw = job::read_saw(dir).map_err(|complaints| unreadable(&complaints))?;
    say::err(&say::warnings(&saw.lines.warnings));
    Ok(saw)
}

/// The lines of a job.
///
/// Errors: as for [`job`].
pub fn lines(dir: &Path) -> Result<Lines, Status> {
    job::read_lines(dir).map_err(|all| unreadable(&all))
}

/// The photographs of a job. What is odd in its files is said.
///
/// Errors: as for [`job`].
pub fn photos(dir: &Path) -> Result<Photos, Status> {
    let photos = job::read_photos(dir).map_err(|complaints| unreadable(&complaints))?;
    say::err(&say::warnings(&photos.warnings));
    Ok(photos)
}

/// A job, and the plan that lies in its `out/`.
///
/// Errors: as for [`job`].
pub fn job_and_plan(dir: &Path) -> Result<(Reading, Plan), Status> {
    let reading = job(dir)?;
    let plan = job::read_plan(dir, &reading.job).map_err(|complaints| unreadable(&complaints))?;
    Ok((reading, plan))
}

/// Says what is wrong with the files of a job.
pub fn unreadable(complaints: &[Complaint]) -> Status {
    say::bad_input(&say::complaints(complaints))
}
