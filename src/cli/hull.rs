//! `hull`: the hull in three dimensions, with the wood of the plan on the disk.

use super::args::Hull;
use super::faces::faces;
use super::planned::{Planned, failed, fault, said};
use super::say;
use super::shown::File;
use super::status::Status;
use twinstrake::check::check;
use twinstrake::job;
use twinstrake::out::{self, Fault};
use twinstrake::solid;

pub(super) fn run(typed: &Hull) -> Status {
    let planned = match Planned::read(&typed.dir) {
        Ok(planned) => planned,
        Err(status) => return status,
    };
    let lines = match job::read_lines(&typed.dir) {
        Ok(lines) => lines,
        Err(complaints) => {
            say::err(&say::complaints(&complaints));
            return Status::BadInput;
        }
    };
    let (job, plan) = (&planned.reading.job, &planned.plan);
    let ribbons = match solid::ribbons(&lines.told, job, plan) {
        Ok(ribbons) => ribbons,
        Err(missing) => {
            say::err(&say::no_shape(job, missing));
            return Status::BadInput;
        }
    };
    let verdict = check(job, plan);
    let written = || -> Result<Vec<File>, Fault> {
        let faces = faces(&typed.dir, &planned.reading, &plan.pieces);
        let glb =
            solid::glb(job, plan, &ribbons, &faces).map_err(|slip| fault("hull.glb", &slip))?;
        let page = solid::page(job, plan, &verdict, &glb, !faces.is_empty());
        let files = vec![("hull.glb", glb), ("hull.html", page.into_bytes())];
        out::write_paper(&typed.dir, &files)?;
        Ok(files)
    };
    match written() {
        Ok(_) => said(&say::hull(&typed.dir), Status::good_if(verdict.is_good())),
        Err(fault) => failed(&fault),
    }
}
