//! `sort`: the rack in order; and the stack from which a plan is laid.

use super::args::Sort;
use super::faces::{by_strip, jpeg};
use super::need::class;
use super::opened;
use super::planned::{Planned, failed, fault, printable};
use super::say;
use super::status::Ended;
use std::collections::BTreeMap;
use std::path::Path;
use twinstrake::draw::{self, scene::Scene};
use twinstrake::job::Reading;
use twinstrake::out::{self, Fault};
use twinstrake::paper::{self, Swatches};
use twinstrake::sorting::{self, Cull};
use twinstrake::stock::StripId;

pub fn run(typed: &Sort) -> Ended {
    match typed.stack {
        true => stack(typed),
        false => rack(typed),
    }
}

fn rack(typed: &Sort) -> Ended {
    let reading = opened::job(&typed.dir)?;
    let job = &reading.job;
    printable(job)?;
    let sorted = sorting::sorted(job, class(job.unit));
    let culls: BTreeMap<StripId, &Cull> =
        sorted.culls.iter().map(|cull| (cull.strip, cull)).collect();
    let why = |id: StripId| {
        culls
            .get(&id)
            .map_or_else(Default::default, |cull| say::culled(job, cull))
    };
    let both = |id: StripId| {
        let (why, rescue) = why(id);
        format!("{why}. {rescue}")
    };
    let pages = paper::rack_sheet(
        job,
        &sorted,
        &swatches(&typed.dir, &reading),
        &both,
        reading.stationery.page,
    );
    let csv = out::rack_csv(job, &sorted, &why);
    written(&typed.dir, ("rack.csv", csv), ("rack.pdf", &pages)).map_err(failed)?;
    Ok(say::told(&say::sorted(&typed.dir, job, &sorted)))
}

fn stack(typed: &Sort) -> Ended {
    let planned = Planned::read(&typed.dir)?;
    let about = planned.about(None, true)?;
    let (reading, plan) = (&planned.reading, &planned.plan);
    let layers = sorting::stack(&reading.job, plan);
    let swatches = swatches(&typed.dir, reading);
    let pages = paper::stack_sheet(
        &reading.job,
        plan,
        &layers,
        &swatches,
        &about,
        reading.stationery.page,
    );
    let csv = out::stack_csv(&reading.job, plan, &layers);
    written(&typed.dir, ("stack.csv", csv), ("stack.pdf", &pages)).map_err(failed)?;
    Ok(say::told(&say::stacked(&typed.dir, layers.len())))
}

fn written(
    dir: &Path,
    (csv_name, csv): (&'static str, Result<Vec<u8>, Fault>),
    (pdf_name, pages): (&'static str, &[Scene]),
) -> Result<(), Fault> {
    let pdf = draw::pdf(pages).map_err(|slip| fault(pdf_name, &slip))?;
    out::write_files(dir, &[(csv_name, csv?), (pdf_name, pdf)])
}

/// The longest picture of each strip. One that is not there, or is none, is none: the colour stands in for it.
fn swatches(dir: &Path, reading: &Reading) -> Swatches {
    let all = by_strip(reading);
    let longest = |strip: &str| {
        let pictures = all.get(strip)?.iter().rev();
        // Of equals the first.
        pictures.max_by_key(|picture| picture.to - picture.from)
    };
    let strips = reading.job.stock.strips();
    let there =
        strips.filter_map(|(id, strip)| Some((id, jpeg(dir, &longest(&strip.name)?.file)?)));
    there.collect()
}
