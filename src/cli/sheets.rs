//! `sheets`: from the plan on the disk to the laying sheet and the cut list.

use super::args::Sheets as Typed;
use super::planned::{Planned, failed, fault, said};
use super::say;
use super::status::Status;
use twinstrake::draw;
use twinstrake::out::{self, Fault};
use twinstrake::paper::{self, Unfit};

pub(super) fn run(typed: &Typed) -> Status {
    let planned = match Planned::read(&typed.dir) {
        Ok(planned) => planned,
        Err(status) => return status,
    };
    let about = match planned.about(typed.date.clone(), typed.to_do) {
        Ok(about) => about,
        Err(fault) => return failed(&fault),
    };
    let (job, page) = (&planned.reading.job, planned.reading.stationery.page);
    let pages = both(
        paper::laying_sheet(job, &planned.plan, &about, page),
        paper::cut_list(job, &planned.plan, &about, page),
    );
    let (laying, cuts) = match pages {
        Ok(pages) => pages,
        Err(unfit) => {
            say::err(&say::unfit(&unfit));
            return Status::BadInput;
        }
    };
    let written = || -> Result<(), Fault> {
        let pdf = |file, pages: &[_]| draw::pdf(pages).map_err(|slip| fault(file, &slip));
        let files = [
            ("laying-sheet.pdf", pdf("out/laying-sheet.pdf", &laying)?),
            ("cut-list.pdf", pdf("out/cut-list.pdf", &cuts)?),
        ];
        out::write_paper(&typed.dir, &files)
    };
    if let Err(fault) = written() {
        return failed(&fault);
    }
    let status = Status::good_if(planned.plan.uncovered.is_empty());
    said(
        &say::sheets(&typed.dir, laying.len(), cuts.len(), &about),
        status,
    )
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
