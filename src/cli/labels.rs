//! `labels`: from the plan on the disk to labels for the strips' ends.

use super::args::Labels as Typed;
use super::planned::{NotMade, Planned, failed, fault, said};
use super::say::{self, Printed};
use super::status::Status;
use super::stock::stock;
use std::path::Path;
use twinstrake::draw::{self, Pdf};
use twinstrake::job::{Job, LabelStock, Reading, Stage};
use twinstrake::out::{self, LABELS_PRINTED, PrintedLabel};
use twinstrake::paper::{self, About, Label};
use twinstrake::plan::Plan;

pub(super) const FILE: &str = "labels.pdf";
pub(super) const TO_TAKE_OFF: &str = "labels-to-take-off.pdf";

/// Labels, and what is printed with them.
pub(super) struct Made {
    stock: LabelStock,
    files: Vec<(&'static str, Vec<u8>)>,
    count: usize,
    all: usize,
    pages: usize,
    without_code: usize,
    /// Labels printed before that are not right any more; `None` where nothing was asked about those.
    gone: Option<Vec<PrintedLabel>>,
}

pub(super) fn run(typed: &Typed) -> Status {
    let planned = match Planned::read(&typed.dir) {
        Ok(planned) => planned,
        Err(status) => return status,
    };
    let about = match planned.about(None, false) {
        Ok(about) => about,
        Err(fault) => return failed(&fault),
    };
    match print(typed, &planned.reading, &planned.plan, &about) {
        Ok(made) => said(&say::printed(&made.printed(&typed.dir)), Status::Good),
        Err(NotMade::Nothing) => {
            say::err(&say::nothing_to_print(&typed.dir));
            Status::Wanting
        }
        Err(NotMade::Unchanged) => said(&say::nothing_changed(), Status::Good),
        Err(NotMade::NotSo(why)) => {
            say::err(&why);
            Status::BadInput
        }
        Err(NotMade::Fault(fault)) => failed(&fault),
    }
}

/// Makes the labels that are asked for, and writes them to `out/` with what they say.
///
/// Errors: why there are none.
pub(super) fn print(
    typed: &Typed,
    reading: &Reading,
    plan: &Plan,
    about: &About,
) -> Result<Made, NotMade> {
    let (job, rules) = (&reading.job, &reading.job.rules);
    let (stock, skip) =
        stock(&typed.on, job.unit, &reading.stationery, rules).map_err(NotMade::NotSo)?;
    let all = paper::of_plan(job, plan, about);
    if all.is_empty() {
        return Err(NotMade::Nothing);
    }
    let before = match typed.changed {
        true => out::printed_before(&typed.dir, job.unit)
            .map_err(|why| NotMade::NotSo(say::not_printed_before(&why)))?,
        false => None,
    };
    let wanted = match typed.changed || typed.to_do {
        // What is glued on needs no label any more.
        true => paper::of_plan(job, &to_do(job, plan), about),
        false => all.clone(),
    };
    let (chosen, gone) = match before {
        Some(before) => changed(&all, wanted, &before),
        None => (wanted, None),
    };
    if chosen.is_empty() && gone.as_ref().is_some_and(Vec::is_empty) {
        return Err(NotMade::Unchanged);
    }
    let page = reading.stationery.page;
    let mut pdf = Pdf::new(Some(&format!("Labels, {}", job.name)));
    let (mut pages, mut drawn) = (0, Ok(()));
    let without_code = paper::each_page(job, &chosen, &stock, skip, |page| {
        pages += 1;
        if drawn.is_ok() {
            drawn = pdf.add(page);
        }
    })
    .map_err(|unfit| NotMade::NotSo(say::unfit(&unfit)))?;
    let printed: Vec<PrintedLabel> = all.iter().map(row).collect();
    let mut files = vec![(LABELS_PRINTED, out::labels_printed(job.unit, &printed)?)];
    if pages > 0 {
        let pdf = drawn.and_then(|()| pdf.finish());
        files.push((FILE, pdf.map_err(|slip| fault("out/labels.pdf", &slip))?));
    }
    if let Some(gone) = &gone {
        let names: Vec<(&str, &str)> = gone
            .iter()
            .map(|label| (label.strip.as_str(), label.mark.as_str()))
            .collect();
        let off = draw::pdf(&paper::to_take_off(job, about, page, &names));
        let off = off.map_err(|slip| fault("out/labels-to-take-off.pdf", &slip))?;
        files.push((TO_TAKE_OFF, off));
    }
    out::write_paper(&typed.dir, &files)?;
    Ok(Made {
        stock,
        files,
        count: chosen.len(),
        all: all.len(),
        pages,
        without_code,
        gone,
    })
}

fn to_do(job: &Job, plan: &Plan) -> Plan {
    let left = plan.pieces.iter();
    Plan {
        pieces: left
            .filter(|piece| job.stage(piece) != Stage::Laid)
            .cloned()
            .collect(),
        ..plan.clone()
    }
}

/// The labels that differ from those printed before, and those of before that are not right any more.
fn changed(
    all: &[Label],
    wanted: Vec<Label>,
    before: &[PrintedLabel],
) -> (Vec<Label>, Option<Vec<PrintedLabel>>) {
    let now: Vec<PrintedLabel> = all.iter().map(row).collect();
    let is_in = |labels: &[PrintedLabel], label: &PrintedLabel| {
        labels.iter().any(|other| other.is_as_good_as(label))
    };
    let new = wanted
        .into_iter()
        .filter(|label| !is_in(before, &row(label)));
    let gone = before.iter().filter(|label| !is_in(&now, label));
    (new.collect(), Some(gone.cloned().collect()))
}

fn row(label: &Label) -> PrintedLabel {
    PrintedLabel {
        strip: label.strip.clone(),
        mark: label.mark(),
        says: label.words(),
        measures: label.measures.clone(),
    }
}

impl Made {
    /// As it is told.
    pub(super) fn printed<'a>(&'a self, dir: &'a Path) -> Printed<'a> {
        Printed {
            dir,
            stock: &self.stock,
            count: self.count,
            all: self.all,
            pages: self.pages,
            without_code: self.without_code,
            gone: self.gone.as_deref(),
        }
    }

    /// The names of the files for the printer.
    pub(super) fn files(&self) -> impl Iterator<Item = &'static str> {
        let names = self.files.iter().map(|(name, _)| *name);
        names.filter(|name| *name != LABELS_PRINTED)
    }
}
