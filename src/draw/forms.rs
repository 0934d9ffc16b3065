//! The forms: a line across every course that crosses one, and its name over the drawing.

use super::fit::width;
use super::ink;
use super::scene::{Group, Item, Line, Outline, Set, Shape, Stroke, Text, Weight};
use super::sheet::Sheet;
use crate::hull::FormId;
use crate::job::Job;

/// Size of a name. Unit: millimetre of paper.
const SIZE: f64 = 2.0;
/// Least room between two names; the name that has none is left out, the line speaks for itself.
const APART: f64 = 0.8;

/// The lines over the wood, form by form, with what the pointer tells.
pub fn lines(job: &Job, sheet: &Sheet) -> Vec<Item> {
    let forms = job.hull.forms.iter().enumerate();
    forms
        .map(|(i, form)| {
            let x = sheet.x(form.at);
            let crossed = sheet.rows.iter().filter(|row| {
                let crossings = &job.hull.course(row.course).crossings;
                crossings.iter().any(|crossing| crossing.form == FormId(i))
            });
            let line = Line {
                ink: ink::SOFT,
                width: 0.14,
                stroke: Stroke::Broken(0.8, 0.8),
            };
            let lines = crossed.map(|row| {
                let ends = ((x, row.top), (x, row.top + sheet.pitch));
                Shape::drawn(Outline::Straight(ends.0, ends.1), line)
            });
            Item::Group(Group {
                told: Some(format!(
                    "form {}, {} from the bow",
                    form.name,
                    job.unit.shop(form.at.from_origin())
                )),
                ..Group::of("form", lines.collect())
            })
        })
        .collect()
}

/// The names, over the drawing and under it.
pub fn names(job: &Job, sheet: &Sheet) -> Item {
    let mut items = Vec::new();
    let mut free_from = f64::NEG_INFINITY;
    for form in &job.hull.forms {
        let half = 0.5 * width(&form.name, SIZE, Weight::Plain);
        let x = sheet.x(form.at);
        if x - half < free_from {
            continue;
        }
        free_from = x + half + APART;
        for base in [sheet.span.0 - 1.2, sheet.span.1 + 2.6] {
            items.push(
                Text::new(form.name.clone(), (x, base), SIZE, ink::SOFT)
                    .set(Set::Middle)
                    .into(),
            );
        }
    }
    if !items.is_empty() {
        let at = (sheet.sides().1 + 6.0, sheet.span.0 - 1.2);
        items.push(Text::new("forms", at, SIZE, ink::SOFT).into());
    }
    Item::Group(Group::of("forms", items))
}
