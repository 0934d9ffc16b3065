//! `labels`: from the plan on the disk to labels for the strips' ends.

use super::args::Labels as Typed;
use super::planned::{Planned, failed, fault, said};
use super::say::{self, Printed};
use super::status::Status;
use std::collections::BTreeSet;
use twinstrake::draw;
use twinstrake::job::stationery::{self, NotPaper};
use twinstrake::job::{LabelStock, Reading};
use twinstrake::out::{self, LABELS_PRINTED, PrintedLabel};
use twinstrake::paper::{self, Label};

const FILE: &str = "labels.pdf";

pub(super) fn run(typed: &Typed) -> Status {
    let planned = match Planned::read(&typed.dir) {
        Ok(planned) => planned,
        Err(status) => return status,
    };
    let stock = match stock(typed, &planned.reading) {
        Ok(stock) => stock,
        Err((text, slip)) => {
            say::err(&say::not_paper(&text, &slip));
            return Status::BadInput;
        }
    };
    let skip = typed.from.map_or(0, |from| from as usize - 1);
    if let Some(many) = paper::on_a_page(&planned.reading.job, &stock).filter(|many| skip >= *many)
    {
        say::err(&say::past_the_sheet(skip + 1, many));
        return Status::BadInput;
    }
    let about = match planned.about(None) {
        Ok(about) => about,
        Err(fault) => return failed(&fault),
    };
    let all = paper::of_plan(&planned.reading.job, &planned.plan, &about);
    if all.is_empty() {
        say::err(&say::nothing_to_print(&typed.dir));
        return Status::Wanting;
    }
    let before = match typed.changed.then(|| out::printed_before(&typed.dir)) {
        Some(Err(why)) => {
            say::err(&say::not_printed_before(&why));
            return Status::BadInput;
        }
        Some(Ok(before)) => before,
        None => None,
    };
    print(typed, &planned, &stock, skip, &Chosen::of(&all, before))
}

/// Which labels are to be printed, and which are to be taken off.
struct Chosen<'a> {
    all: &'a [Label],
    /// The new ones.
    chosen: Vec<Label>,
    /// Marks of labels printed before that are right no longer; `None` where all are printed.
    gone: Option<Vec<String>>,
}

impl<'a> Chosen<'a> {
    fn of(all: &'a [Label], before: Option<BTreeSet<PrintedLabel>>) -> Chosen<'a> {
        let Some(before) = before else {
            return Chosen {
                all,
                chosen: all.to_vec(),
                gone: None,
            };
        };
        let now: BTreeSet<PrintedLabel> = all.iter().map(row).collect();
        let new = all.iter().filter(|label| !before.contains(&row(label)));
        let gone = before.difference(&now);
        Chosen {
            all,
            chosen: new.cloned().collect(),
            gone: Some(
                gone.map(|[strip, mark, _]| format!("{strip} {mark}"))
                    .collect(),
            ),
        }
    }
}

fn row(label: &Label) -> PrintedLabel {
    [label.strip.clone(), label.mark(), label.words()]
}

fn print(
    typed: &Typed,
    planned: &Planned,
    stock: &LabelStock,
    skip: usize,
    chosen: &Chosen<'_>,
) -> Status {
    if chosen.chosen.is_empty() && chosen.gone.as_ref().is_some_and(Vec::is_empty) {
        return said(&say::nothing_changed(), Status::Good);
    }
    let labels = match paper::labels(&planned.reading.job, &chosen.chosen, stock, skip) {
        Ok(labels) => labels,
        Err(unfit) => {
            say::err(&say::unfit(&unfit));
            return Status::BadInput;
        }
    };
    let written =
        out::labels_printed(&chosen.all.iter().map(row).collect::<Vec<_>>()).and_then(|printed| {
            let pdf = draw::pdf(&labels.pages).map_err(|slip| fault("out/labels.pdf", &slip))?;
            out::write_paper(&typed.dir, &[(FILE, pdf), (LABELS_PRINTED, printed)])
        });
    if let Err(fault) = written {
        return failed(&fault);
    }
    let printed = Printed {
        dir: &typed.dir,
        stock,
        count: chosen.chosen.len(),
        all: chosen.all.len(),
        pages: labels.pages.len(),
        without_code: labels.without_code,
        gone: chosen.gone.as_deref(),
    };
    said(&say::printed(&printed), Status::Good)
}

/// What the labels are printed on.
///
/// Errors: the words that were typed, and what is wrong with them.
fn stock(typed: &Typed, reading: &Reading) -> Result<LabelStock, (String, NotPaper)> {
    let unit = reading.job.unit;
    let slip = |text: &str| {
        let text = text.to_owned();
        move |slip| (text, slip)
    };
    match (&typed.sheet, &typed.tape) {
        (Some(text), _) => stationery::grid(text, unit)
            .map(LabelStock::Sheet)
            .map_err(slip(text)),
        (_, Some(text)) => stationery::tape(text, unit).map_err(slip(text)),
        _ if typed.flags => Ok(LabelStock::Flags(reading.stationery.page)),
        _ => Ok(reading.stationery.labels),
    }
}
