//! The names of the panels, at the left edge.

use super::fit::{SMALLEST, cut_off, width};
use super::ink;
use super::scene::{Group, Item, Line, Outline, Set, Shape, Text, Weight};
use super::sheet::{Band, MARGIN, Sheet};
use crate::job::Job;

/// Type of a name that reads upwards. Unit: millimetre of paper.
const UPWARD: f64 = 3.2;
/// Type of a name that lies level, and how far it may reach before it comes near the marks at the bow.
const LEVEL: f64 = 2.4;
const LEVEL_ROOM: f64 = 17.0;

/// Every panel's name on each side.
pub fn names(job: &Job, sheet: &Sheet) -> Vec<Item> {
    let bands = sheet.bands.iter();
    bands.map(|band| name(job, sheet, band)).collect()
}

/// Reading upwards beside its courses where they are many enough, else level and as small as it takes.
fn name(job: &Job, sheet: &Sheet, band: &Band) -> Item {
    let panel = &job.hull.panel(band.panel).name;
    let (middle, room) = ((band.top + band.bottom) / 2.0, band.bottom - band.top);
    let whole = format!("{panel}, {}", band.side.name());
    let size = UPWARD.min(sheet.pitch);
    let edge = MARGIN + 5.6;
    let line = |x| {
        let side = Outline::Straight((x, band.top), (x, band.bottom));
        Shape::drawn(side, Line::whole(ink::FAINT, 0.3))
    };
    let mut names = [&whole, panel].into_iter();
    let items = match names.find(|name| width(name, size, Weight::Plain) <= room) {
        Some(name) => {
            let text = Text::new(name, (MARGIN + 3.0, middle), size, ink::SOFT);
            vec![line(edge), text.set(Set::Middle).upward().into()]
        }
        None => level(panel, middle),
    };
    Item::Group(Group::of("panel", items))
}

/// The marks say which side it is: a level name goes without.
fn level(panel: &str, middle: f64) -> Vec<Item> {
    let wide = width(panel, LEVEL, Weight::Plain);
    let size = (LEVEL * (LEVEL_ROOM / wide).min(1.0)).max(SMALLEST);
    let words = cut_off(panel, size, Weight::Plain, LEVEL_ROOM);
    let at = (MARGIN, middle + 0.36 * size);
    vec![Text::new(words, at, size, ink::SOFT).into()]
}
