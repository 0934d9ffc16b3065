//! `pictures`: the pictures of the plan on the disk for the printer and in pixels, and what shows the plan anew where
//! it was changed.

use super::args::Pictures;
use super::faces::photographs;
use super::planned::{Planned, failed, fault, said};
use super::say;
use super::shown::{File, shown};
use super::status::{Ended, Status};
use twinstrake::check::{Verdict, check};
use twinstrake::draw::{self, Picture};
use twinstrake::out::{self, Fault};

pub fn run(typed: &Pictures) -> Ended {
    let planned = Planned::read(&typed.dir)?;
    let (reading, plan) = (&planned.reading, &planned.plan);
    let job = &reading.job;
    let verdict = check(job, plan);
    let mut files = pages(typed, &planned, &verdict).map_err(failed)?;
    // What is there already shows this very plan, with what the search knew besides; but not what was laid and cut or
    // photographed since.
    let is_cut = job.stock.strips.iter().any(|strip| !strip.kerfs.is_empty());
    let photographed = !reading.pictured.is_empty();
    let is_new = photographed || is_cut || !job.laid.is_empty();
    if is_new || !out::is_shown(&typed.dir, job, plan) {
        let facts = say::of_the_plan(job, plan, &verdict);
        let shown = shown(&typed.dir, reading, plan, &verdict, &facts, None);
        files.extend(shown.map_err(failed)?);
    }
    out::write_files(&typed.dir, &files).map_err(failed)?;
    let names: Vec<&str> = files.iter().map(|(name, _)| *name).collect();
    let status = Status::good_if(verdict.is_good());
    Ok(said(&say::shown(job.unit, &typed.dir, &names), status))
}

/// Each picture as a PDF of its own and in pixels.
fn pages(typed: &Pictures, planned: &Planned, verdict: &Verdict) -> Result<Vec<File>, Fault> {
    let (reading, plan, wide) = (&planned.reading, &planned.plan, u32::from(typed.wide));
    let photographs = photographs(&typed.dir, reading, plan);
    let mut files = Vec::new();
    for picture in Picture::ALL {
        let scene = picture.scene(&reading.job, plan, verdict, photographs.as_ref());
        let across = wide.min(draw::widest(&scene));
        if across < wide {
            say::err(&say::narrower(picture.png(), across, wide));
        }
        let png = draw::png(&scene, across).map_err(|slip| fault(picture.png(), &slip))?;
        let pdf = draw::pdf(&[scene]).map_err(|slip| fault(picture.pdf(), &slip))?;
        files.extend([(picture.png(), png), (picture.pdf(), pdf)]);
    }
    Ok(files)
}
