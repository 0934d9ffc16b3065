//! The forms: a fine line over every course that crosses one, and its name between ruler and planking.

use super::fit::width;
use super::ink;
use super::scene::{Group, Item, Line, Outline, Set, Shape, Stroke, Text, Weight};
use super::sheet::Sheet;
use crate::hull::{Form, FormId};
use crate::job::Job;
use crate::units::X;

const SIZE: f64 = 2.2;
/// Between two names.
const APART: f64 = 1.2;

/// Every form that a course crosses. A name without room beside the one before it is left out.
pub fn forms(job: &Job, sheet: &Sheet) -> Vec<Item> {
    let mut named_to = f64::NEG_INFINITY;
    let all = job.hull.forms.iter().enumerate();
    let items = all.filter_map(|(n, form)| {
        let places = crossings(job, sheet, FormId(n));
        if places.is_empty() {
            return None;
        }
        let mut items = lines(sheet, &places);
        let (x, half) = (
            sheet.x(form.at),
            width(&form.name, SIZE, Weight::Plain) / 2.0,
        );
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

/// Where the form crosses the courses: the top of each row, and the place along it.
fn crossings(job: &Job, sheet: &Sheet, form: FormId) -> Vec<(f64, f64)> {
    let rows = sheet.rows.iter().filter_map(|row| {
        let course = job.hull.course(row.course);
        let crossing = course.crossings.iter().find(|c| c.form == form)?;
        let at: X = course.x_at(crossing.at);
        Some((row.top, sheet.x(at)))
    });
    rows.collect()
}

/// One line a row, drawn on through rows that touch: light under dark, so that it shows on any wood.
fn lines(sheet: &Sheet, places: &[(f64, f64)]) -> Vec<Item> {
    let mut runs: Vec<(f64, f64, f64)> = Vec::new();
    for (top, x) in places {
        match runs.last_mut() {
            Some((_, bottom, at)) if (*bottom - top).abs() < 0.01 && (*at - x).abs() < 0.01 => {
                *bottom = top + sheet.pitch;
            }
            _ => runs.push((*top, top + sheet.pitch, *x)),
        }
    }
    let dashes = Line {
        ink: ink::PENCIL,
        width: 0.14,
        stroke: Stroke::Broken(1.4, 1.0),
    };
    let items = runs.into_iter().flat_map(|(top, bottom, x)| {
        let line = Outline::Straight((x, top), (x, bottom));
        [
            Shape::drawn(line.clone(), Line::whole(ink::CHALK, 0.22)),
            Shape::drawn(line, dashes),
        ]
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
