//! `pictures`: the pictures of the plan on the disk as PDF, PNG and SVG, and the report with them.

use super::args::Pictures;
use super::say;
use super::shown;
use super::status::Status;
use crate::check::{Verdict, check};
use crate::draw::{self, Misprint, Picture, scene::Scene};
use crate::job::{self, Complaint, Job};
use crate::out;
use crate::plan::Plan;

pub(super) fn run(typed: &Pictures) -> Status {
    let reading = match job::read(&typed.dir) {
        Ok(reading) => reading,
        Err(complaints) => return unreadable(&complaints),
    };
    say::err(&say::warnings(&reading.warnings));
    let job = &reading.job;
    let plan = match job::read_plan(&typed.dir, job) {
        Ok(plan) => plan,
        Err(complaints) => return unreadable(&complaints),
    };
    let verdict = check(job, &plan);
    let mut files = match pages(job, &plan, &verdict, u32::from(typed.wide)) {
        Ok(files) => files,
        Err(misprint) => {
            say::err(&say::bug(&format!(
                "a picture could not be made: {misprint}"
            )));
            return Status::Fault;
        }
    };
    // What is there already shows this very plan, with what the search knew besides.
    if !out::is_shown(&typed.dir, job, &plan) {
        match shown::plan(job, &plan, &verdict, &reading.digests) {
            Ok(shown) => files.extend(shown),
            Err(fault) => {
                say::err(&say::not_shown(&fault));
                return Status::Fault;
            }
        }
    }
    if let Err(fault) = out::write_shown(&typed.dir, &files) {
        say::err(&say::not_shown(&fault));
        return Status::Fault;
    }
    let names: Vec<&str> = files.iter().map(|(name, _)| *name).collect();
    match say::out(&say::shown(&typed.dir, &names, &verdict)) {
        Ok(()) if verdict.is_good() => Status::Good,
        Ok(()) => Status::Wanting,
        Err(_) => Status::Fault,
    }
}

/// Each picture as a PDF of its own and in pixels.
fn pages(
    job: &Job,
    plan: &Plan,
    verdict: &Verdict,
    wide: u32,
) -> Result<Vec<shown::File>, Misprint> {
    let mut files = Vec::new();
    for picture in Picture::ALL {
        let scene: Scene = picture.scene(job, plan, verdict);
        files.push((picture.png(), draw::png(&scene, wide)?));
        files.push((picture.pdf(), draw::pdf(&[scene])?));
    }
    Ok(files)
}

fn unreadable(complaints: &[Complaint]) -> Status {
    say::err(&say::complaints(complaints));
    Status::BadInput
}
