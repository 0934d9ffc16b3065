//! `labels`: from the plan on the disk to labels for the strips' ends.

use super::args::Labels as Typed;
use super::planned::{NotMade, Planned, failed, fault, said};
use super::say;
use super::status::{Ended, Status};
use super::stock::stock;
use std::path::Path;
use twinstrake::draw::{self, Pdf};
use twinstrake::job::{Job, LabelStock, Reading, Stage};
use twinstrake::out::{self, Fault, LABELS_PRINTED, OnWood, PrintedLabel};
use twinstrake::paper::{self, About, Label};
use twinstrake::plan::Plan;

pub const FILE: &str = "labels.pdf";
pub const TO_TAKE_OFF: &str = "labels-to-take-off.pdf";

/// Labels, and what is printed with them.
pub struct Made {
    pub stock: LabelStock,
    files: Vec<(&'static str, Vec<u8>)>,
    pub count: usize,
    pub all: usize,
    pub pages: usize,
    pub without_code: usize,
    /// Whether only those were asked for that changed since labels were printed last.
    pub changed: bool,
    /// Labels printed before that are not right any more.
    pub gone: Vec<PrintedLabel>,
}

pub fn run(typed: &Typed) -> Ended {
    let planned = Planned::read(&typed.dir)?;
    let about = planned.about(None, false)?;
    if typed.taken_off {
        let count = taken_off(&typed.dir, &planned.reading, &about).map_err(failed)?;
        return Ok(said(&say::taken_off(count), Status::Good));
    }
    let made = print(typed, &planned.reading, &planned.plan, &about);
    let made = made.map_err(|not| not.said(&say::nothing_to_print(&typed.dir)))?;
    let said_of_it = say::printed(&typed.dir, &made);
    Ok(said(&said_of_it, Status::Good))
}

/// Makes the labels that are asked for, and writes them to `out/` with what they say.
///
/// Errors: why there are none.
pub fn print(
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
    let before = match out::printed_before(&typed.dir, job.unit) {
        Ok(before) => before,
        // Printing all of them mends a file that can't be read.
        Err(_) if !typed.changed => None,
        Err(why) => return Err(NotMade::NotSo(say::not_printed_before(&why))),
    };
    let wanted = match typed.changed || typed.to_do {
        // What is glued on needs no label any more.
        true => paper::of_plan(job, &to_do(job, plan), about),
        false => all.clone(),
    };
    let changed = typed.changed && before.is_some();
    let before = before.unwrap_or_default();
    let is_new = |label: &Label| !row(label).is_among(&before.printed);
    let chosen = wanted.into_iter().filter(|label| !changed || is_new(label));
    let chosen: Vec<Label> = chosen.collect();
    let off_before = !before.to_take_off.is_empty();
    let on_wood = before.after(all.iter().map(row).collect());
    let gone = &on_wood.to_take_off;
    if changed && chosen.is_empty() && gone.is_empty() {
        return Err(NotMade::Unchanged);
    }
    let mut pdf = Pdf::new(Some(&format!("Labels, {}", job.name)));
    let (mut pages, mut drawn) = (0, Ok(()));
    let without_code = paper::each_page(job, &chosen, &stock, skip, |page| {
        pages += 1;
        if drawn.is_ok() {
            drawn = pdf.add(page);
        }
    })
    .map_err(|unfit| NotMade::NotSo(say::unfit(&unfit)))?;
    let mut files = vec![(LABELS_PRINTED, out::labels_printed(job.unit, &on_wood)?)];
    if pages > 0 {
        let pdf = drawn.and_then(|()| pdf.finish());
        files.push((FILE, pdf.map_err(|slip| fault("out/labels.pdf", &slip))?));
    }
    if changed || off_before || !gone.is_empty() {
        files.push(off_page(reading, about, gone)?);
    }
    out::write_files(&typed.dir, &files)?;
    Ok(Made {
        stock,
        files,
        count: chosen.len(),
        all: all.len(),
        pages,
        without_code,
        changed,
        gone: on_wood.to_take_off,
    })
}

/// The page of the labels that have to come off.
///
/// Errors: it could not be drawn, which is a bug.
fn off_page(
    reading: &Reading,
    about: &About,
    gone: &[PrintedLabel],
) -> Result<(&'static str, Vec<u8>), Fault> {
    // The first measure of a label is where its end is cut.
    let lines = gone.iter().map(|label| {
        let cut = label.measures.first().copied();
        (label.strip.as_str(), label.mark.as_str(), cut)
    });
    let lines: Vec<_> = lines.collect();
    let page = paper::to_take_off(&reading.job, about, reading.stationery.page, &lines);
    let drawn = draw::pdf(&page).map_err(|slip| fault("out/labels-to-take-off.pdf", &slip))?;
    Ok((TO_TAKE_OFF, drawn))
}

/// Notes that all labels that were to come off are off. How many that are.
///
/// Errors: the disk can't be read or written to.
pub fn taken_off(dir: &Path, reading: &Reading, about: &About) -> Result<usize, Fault> {
    let unit = reading.job.unit;
    let on_wood = out::printed_before(dir, unit).ok().flatten();
    let on_wood = on_wood.unwrap_or_default();
    let count = on_wood.to_take_off.len();
    if count > 0 {
        let on_wood = OnWood {
            to_take_off: Vec::new(),
            ..on_wood
        };
        let printed = out::labels_printed(unit, &on_wood)?;
        let files = [(LABELS_PRINTED, printed), off_page(reading, about, &[])?];
        out::write_files(dir, &files)?;
    }
    Ok(count)
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

fn row(label: &Label) -> PrintedLabel {
    PrintedLabel {
        strip: label.strip.clone(),
        mark: label.mark(),
        says: label.words(),
        measures: label.measures.clone(),
    }
}

impl Made {
    /// The names of the files for the printer.
    pub fn files(&self) -> impl Iterator<Item = &'static str> {
        let names = self.files.iter().map(|(name, _)| *name);
        names.filter(|name| *name != LABELS_PRINTED)
    }
}
