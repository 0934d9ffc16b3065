//! `hull`: the hull in three dimensions, with the wood of the plan on the disk.

use super::args::Hull;
use super::faces::faces;
use super::pick;
use super::planned::{NotMade, Planned, failed, fault, said};
use super::say;
use super::shown::File;
use super::status::{Ended, Status};
use std::path::Path;
use twinstrake::check::{Verdict, check};
use twinstrake::job::{self, Reading};
use twinstrake::out;
use twinstrake::plan::Plan;
use twinstrake::solid::{self, Planked};

/// The hull as glTF, and the page around it; the plans to choose from and the plan before are in both, to be compared.
///
/// Errors: the files of its lines can't be read, or don't say where all of the skin lies.
pub fn made(
    dir: &Path,
    reading: &Reading,
    plan: &Plan,
    verdict: &Verdict,
) -> Result<(Vec<u8>, String), NotMade> {
    let job = &reading.job;
    let lines = job::read_lines(dir).map_err(|all| NotMade::NotSo(say::complaints(&all)))?;
    let others = others(dir, reading, plan);
    let all = [("the plan".to_owned(), plan)]
        .into_iter()
        .chain(others.iter().map(|(name, plan)| (name.clone(), plan)));
    let planked = |(name, plan)| {
        let ribbons = solid::ribbons(&lines.told, job, plan)?;
        Ok(Planked {
            name,
            plan,
            ribbons,
        })
    };
    let plans: Vec<Planked> = all
        .map(planked)
        .collect::<Result<_, _>>()
        .map_err(|missing| NotMade::NotSo(say::no_shape(job, missing)))?;
    let pieces = plans.iter().flat_map(|planked| &planked.plan.pieces);
    let faces = faces(dir, reading, pieces);
    let glb = solid::glb(job, &plans, &faces).map_err(|slip| fault("hull.glb", &slip))?;
    let page = solid::page(job, &plans, verdict, &glb, !faces.is_empty());
    Ok((glb, page))
}

/// The plans to choose from that can still be taken, and the plan before this one; none that is the plan itself.
fn others(dir: &Path, reading: &Reading, plan: &Plan) -> Vec<(String, Plan)> {
    let choices = (1..=out::MOST).filter_map(|number| {
        let choice = pick::choice(dir, number, reading).ok()?;
        let stands = choice.against.is_empty();
        stands.then(|| (format!("plan {number} to choose from"), choice.plan))
    });
    let mut all: Vec<(String, Plan)> = choices.collect();
    let before = out::told(dir)
        .ok()
        .flatten()
        .and_then(|told| told.again.earlier);
    all.extend(before.and_then(|number| {
        let file = out::earlier_laying_order(number);
        let plan = job::read_earlier(dir, &file, &reading.job)?;
        Some((format!("plan {number}, the one before"), plan))
    }));
    all.retain(|(_, other)| other.pieces != plan.pieces);
    all
}

pub fn run(typed: &Hull) -> Ended {
    let planned = Planned::read(&typed.dir)?;
    let (job, plan) = (&planned.reading.job, &planned.plan);
    let verdict = check(job, plan);
    let made = made(&typed.dir, &planned.reading, plan, &verdict);
    let (glb, page) = made.map_err(|not| not.said(""))?;
    let files: [File; 2] = [("hull.glb", glb), ("hull.html", page.into_bytes())];
    out::write_files(&typed.dir, &files).map_err(failed)?;
    let status = Status::good_if(verdict.is_good());
    Ok(said(&say::hull(&typed.dir), status))
}
