//! What the builder wants: a bracket along the courses of each want at the left edge, with its name.

use super::fit::cut_off;
use super::ink;
use super::scene::{Group, Item, Line, Outline, Shape, Text, Weight};
use super::sheet::{MARGIN, Sheet};
use crate::hull::Side;
use crate::job::Job;
use crate::plan::Want;

/// Type of a name, from line to line, and how far it may reach before it comes near the marks at the bow. Unit: mm of
/// paper.
const SIZE: f64 = 2.1;
const LEADING: f64 = 2.5;
const ROOM: f64 = 13.6;
/// Where the brackets stand: just beside the names of the panels.
const LEFT: f64 = MARGIN + 6.4;

/// Every want on each side.
pub fn wants(job: &Job, sheet: &Sheet) -> Vec<Item> {
    let mut items = Vec::new();
    for side in [Side::Port, Side::Centre, Side::Starboard] {
        let mut bands: Vec<(f64, f64, &Want)> = job
            .wants
            .iter()
            .filter_map(|want| band(job, sheet, want, side))
            .collect();
        bands.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
        let mut free = f64::NEG_INFINITY;
        for (top, bottom, want) in bands {
            let middle = ((top + bottom) / 2.0).max(free);
            free = middle + LEADING;
            items.push(marked(want, (top, bottom), middle));
        }
    }
    items
}

fn band<'w>(job: &Job, sheet: &Sheet, want: &'w Want, side: Side) -> Option<(f64, f64, &'w Want)> {
    let of_it =
        |row: &&super::sheet::Row| row.side == side && want.covers(job.hull.course(row.course));
    let rows = || sheet.rows.iter().filter(of_it);
    let top = rows().map(|row| row.top).reduce(f64::min)?;
    let bottom = rows().map(|row| row.top + sheet.pitch).reduce(f64::max)?;
    Some((top, bottom, want))
}

fn marked(want: &Want, (top, bottom): (f64, f64), middle: f64) -> Item {
    let (top, bottom) = (top + 0.3, bottom - 0.3);
    let words = cut_off(&want.name, SIZE, Weight::Plain, ROOM);
    let at = (LEFT + 1.3, middle + 0.36 * SIZE);
    let mut items = bracket(LEFT, top, bottom);
    items.push(Text::new(words, at, SIZE, ink::PENCIL).into());
    Item::Group(Group {
        told: Some(format!("want: {}\nwood: {}", want.name, want.named())),
        ..Group::of("want", items)
    })
}

/// The sign of a want in the legend.
pub fn sign(x: f64, y: f64, wide: f64) -> Vec<Item> {
    let mut items = bracket(x, y - 1.6, y + 1.6);
    items.push(
        Text::new(
            "name",
            (x + 0.14 * wide, y + 0.36 * SIZE),
            SIZE,
            ink::PENCIL,
        )
        .into(),
    );
    items
}

fn bracket(x: f64, top: f64, bottom: f64) -> Vec<Item> {
    let foot = x + 1.0;
    let lines = [
        ((foot, top), (x, top)),
        ((x, top), (x, bottom)),
        ((x, bottom), (foot, bottom)),
    ];
    let line =
        |(from, to)| Shape::drawn(Outline::Straight(from, to), Line::whole(ink::PENCIL, 0.3));
    lines.into_iter().map(line).collect()
}
