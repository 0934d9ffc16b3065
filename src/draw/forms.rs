//! The forms: a tick on every seam that crosses one, and its name between ruler and planking.

use super::fit::width;
use super::ink;
use super::scene::{Group, Item, Line, Outline, Set, Shape, Stroke, Text, Weight};
use super::sheet::{Row, Sheet};
use crate::hull::{Form, FormId};
use crate::job::Job;

const SIZE: f64 = 2.2;
/// How long a tick is, as a part of the height of a row.
const TICK: f64 = 0.36;
/// Between two names.
const APART: f64 = 1.2;

/// Every form that a course crosses. A name without room beside the one before it is left out.
pub fn forms(job: &Job, sheet: &Sheet) -> Vec<Item> {
    let mut named_to = f64::NEG_INFINITY;
    let all = job.hull.forms.iter().enumerate();
    let items = all.filter_map(|(n, form)| {
        let tops = crossed(job, sheet, FormId(n));
        if tops.is_empty() {
            return None;
        }
        let x = sheet.x(form.at);
        let mut items = ticks(sheet, &tops, x);
        let half = width(&form.name, SIZE, Weight::Plain) / 2.0;
        if x - half >= named_to {
            named_to = x + half + APART;
            items.extend(names(form, sheet, x));
        }
        Some(Item::Group(Group {
            facts: vec![("name", form.name.clone())],
            ..Group::of("form", items)
        }))
    });
    items.collect()
}

/// The upper edge of each row whose course crosses the form.
fn crossed(job: &Job, sheet: &Sheet, form: FormId) -> Vec<f64> {
    let crosses = |row: &&Row| {
        let course = job.hull.course(row.course);
        course.crossings.iter().any(|c| c.form == form)
    };
    sheet
        .rows
        .iter()
        .filter(crosses)
        .map(|row| row.top)
        .collect()
}

/// A tick over every seam, so that the words between the seams stay clear; light under dark, so that it shows on any
/// wood.
fn ticks(sheet: &Sheet, tops: &[f64], x: f64) -> Vec<Item> {
    let mut runs: Vec<(f64, f64)> = Vec::new();
    for top in tops {
        match runs.last_mut() {
            Some((_, bottom)) if (*bottom - top).abs() < 0.01 => *bottom = top + sheet.pitch,
            _ => runs.push((*top, top + sheet.pitch)),
        }
    }
    let tick = sheet.pitch * TICK;
    let stroke = Stroke::Broken(tick, sheet.pitch - tick);
    let items = runs.into_iter().flat_map(|(top, bottom)| {
        let line = Outline::Straight((x, top - tick / 2.0), (x, bottom + tick / 2.0));
        [(ink::CHALK, 0.42), (ink::PENCIL, 0.2)]
            .map(|(ink, width)| Shape::drawn(line.clone(), Line { ink, width, stroke }))
    });
    items.collect()
}

fn names(form: &Form, sheet: &Sheet, x: f64) -> [Item; 2] {
    let (top, bottom) = sheet.span;
    let name = |y| {
        let text = Text::new(&form.name, (x, y), SIZE, ink::PENCIL);
        text.set(Set::Middle).into()
    };
    [name(top - 1.0), name(bottom + 1.0 + 0.72 * SIZE)]
}
