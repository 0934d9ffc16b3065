//! `labels`: from the plan on the disk to labels for the strips' ends.

use super::args::Labels as Typed;
use super::planned::{Planned, failed, fault, said};
use super::say::{self, Printed};
use super::status::Status;
use super::stock::stock;
use twinstrake::draw::{self, Pdf};
use twinstrake::job::{LabelStock, Stage};
use twinstrake::out::{self, Fault, LABELS_PRINTED, PrintedLabel};
use twinstrake::paper::{self, About, Label};
use twinstrake::plan::Plan;

const FILE: &str = "labels.pdf";
const TO_TAKE_OFF: &str = "labels-to-take-off.pdf";

pub(super) fn run(typed: &Typed) -> Status {
    let planned = match Planned::read(&typed.dir) {
        Ok(planned) => planned,
        Err(status) => return status,
    };
    let reading = &planned.reading;
    let on = stock(
        &typed.on,
        reading.job.unit,
        &reading.stationery,
        &reading.job.rules,
    );
    let (stock, skip) = match on {
        Ok(on) => on,
        Err(status) => return status,
    };
    let about = match planned.about(None, false) {
        Ok(about) => about,
        Err(fault) => return failed(&fault),
    };
    let job = &planned.reading.job;
    let all = paper::of_plan(job, &planned.plan, &about);
    if all.is_empty() {
        say::err(&say::nothing_to_print(&typed.dir));
        return Status::Wanting;
    }
    let before = match typed
        .changed
        .then(|| out::printed_before(&typed.dir, planned.reading.job.unit))
    {
        Some(Err(why)) => {
            say::err(&say::not_printed_before(&why));
            return Status::BadInput;
        }
        Some(Ok(before)) => before,
        None => None,
    };
    // What is glued on needs no label any more.
    let to_do = Plan {
        pieces: planned
            .plan
            .pieces
            .iter()
            .filter(|piece| job.stage(piece) != Stage::Laid)
            .cloned()
            .collect(),
        ..planned.plan.clone()
    };
    let wanted = match typed.changed || typed.to_do {
        true => paper::of_plan(job, &to_do, &about),
        false => all.clone(),
    };
    print(
        typed,
        &planned,
        &about,
        &stock,
        skip,
        &Chosen::of(&all, wanted, before),
    )
}

/// Which labels are to be printed, and which are to be taken off.
struct Chosen<'a> {
    all: &'a [Label],
    /// Those to be printed.
    chosen: Vec<Label>,
    /// Labels printed before that are not right any more; `None` where nothing was asked about those.
    gone: Option<Vec<PrintedLabel>>,
}

impl<'a> Chosen<'a> {
    fn of(all: &'a [Label], wanted: Vec<Label>, before: Option<Vec<PrintedLabel>>) -> Chosen<'a> {
        let Some(before) = before else {
            let (chosen, gone) = (wanted, None);
            return Chosen { all, chosen, gone };
        };
        let now: Vec<PrintedLabel> = all.iter().map(row).collect();
        let is_in = |labels: &[PrintedLabel], label: &PrintedLabel| {
            labels.iter().any(|other| other.is_as_good_as(label))
        };
        let new = wanted
            .into_iter()
            .filter(|label| !is_in(&before, &row(label)));
        let gone = before.iter().filter(|label| !is_in(&now, label));
        Chosen {
            all,
            chosen: new.collect(),
            gone: Some(gone.cloned().collect()),
        }
    }
}

fn row(label: &Label) -> PrintedLabel {
    PrintedLabel {
        strip: label.strip.clone(),
        mark: label.mark(),
        says: label.words(),
        measures: label.measures.clone(),
    }
}

fn print(
    typed: &Typed,
    planned: &Planned,
    about: &About,
    stock: &LabelStock,
    skip: usize,
    chosen: &Chosen<'_>,
) -> Status {
    if chosen.chosen.is_empty() && chosen.gone.as_ref().is_some_and(Vec::is_empty) {
        return said(&say::nothing_changed(), Status::Good);
    }
    let (job, page) = (&planned.reading.job, planned.reading.stationery.page);
    let mut pdf = Pdf::new(Some(&format!("Labels, {}", job.name)));
    let (mut pages, mut drawn) = (0, Ok(()));
    let without_code = paper::each_page(job, &chosen.chosen, stock, skip, |page| {
        pages += 1;
        if drawn.is_ok() {
            drawn = pdf.add(page);
        }
    });
    let without_code = match without_code {
        Ok(without_code) => without_code,
        Err(unfit) => {
            say::err(&say::unfit(&unfit));
            return Status::BadInput;
        }
    };
    let off = chosen.gone.as_ref().map(|gone| {
        let names: Vec<(&str, &str)> = gone
            .iter()
            .map(|label| (label.strip.as_str(), label.mark.as_str()))
            .collect();
        paper::to_take_off(job, about, page, &names)
    });
    let write = move || -> Result<(), Fault> {
        let printed: Vec<PrintedLabel> = chosen.all.iter().map(row).collect();
        let mut files = vec![(LABELS_PRINTED, out::labels_printed(job.unit, &printed)?)];
        if pages > 0 {
            let pdf = drawn.and_then(|()| pdf.finish());
            files.push((FILE, pdf.map_err(|slip| fault("out/labels.pdf", &slip))?));
        }
        if let Some(off) = &off {
            let pdf = draw::pdf(off).map_err(|slip| fault("out/labels-to-take-off.pdf", &slip))?;
            files.push((TO_TAKE_OFF, pdf));
        }
        out::write_paper(&typed.dir, &files)
    };
    if let Err(fault) = write() {
        return failed(&fault);
    }
    let printed = Printed {
        dir: &typed.dir,
        stock,
        count: chosen.chosen.len(),
        all: chosen.all.len(),
        pages,
        without_code,
        gone: chosen.gone.as_deref(),
    };
    said(&say::printed(&printed), Status::Good)
}
