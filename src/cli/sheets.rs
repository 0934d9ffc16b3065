//! `sheets`: from the plan on the disk to the laying sheet and the cut list.

use super::args::Sheets as Typed;
use super::planned::{Planned, failed, fault, said};
use super::say;
use super::status::{Ended, Status};
use twinstrake::draw;
use twinstrake::out;
use twinstrake::paper::{self, Unfit};

pub fn run(typed: &Typed) -> Ended {
    let planned = Planned::read(&typed.dir)?;
    let about = planned.about(typed.date.clone(), typed.to_do)?;
    let (job, page) = (&planned.reading.job, planned.reading.stationery.page);
    let pages = both(
        paper::laying_sheet(job, &planned.plan, &about, page),
        paper::cut_list(job, &planned.plan, &about, page),
    );
    let (laying, cuts) = pages.map_err(|unfit| say::bad_input(&say::unfit(&unfit)))?;
    let pdf = |file, pages: &[_]| draw::pdf(pages).map_err(|slip| failed(fault(file, &slip)));
    let files = [
        ("laying-sheet.pdf", pdf("out/laying-sheet.pdf", &laying)?),
        ("cut-list.pdf", pdf("out/cut-list.pdf", &cuts)?),
    ];
    out::write_files(&typed.dir, &files).map_err(failed)?;
    let status = Status::good_if(planned.plan.uncovered.is_empty());
    let said_of_it = say::sheets(&typed.dir, laying.len(), cuts.len(), &about);
    Ok(said(&said_of_it, status))
}

/// Both, or all that does not fit in either.
fn both<A, B>(
    one: Result<A, Vec<Unfit>>,
    other: Result<B, Vec<Unfit>>,
) -> Result<(A, B), Vec<Unfit>> {
    match (one, other) {
        (Ok(one), Ok(other)) => Ok((one, other)),
        (one, other) => {
            let mut unfit = one.err().unwrap_or_default();
            unfit.extend(other.err().unwrap_or_default());
            unfit.sort();
            unfit.dedup();
            Err(unfit)
        }
    }
}
