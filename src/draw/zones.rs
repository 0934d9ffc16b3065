//! Zones: those kept clear of scarfs are hatched and named, those that show have a quiet outline.

use super::fit::{cut_off, width};
use super::ink;
use super::scene::{Group, Hatch, Item, Lean, Line, Rect, Set, Shape, Stroke, Text, Weight};
use super::sheet::{Row, Sheet};
use crate::hull::{Side, Zone};
use crate::job::Job;

/// Longest name that is written out. Unit: millimetre of paper.
const LONGEST: f64 = 70.0;

/// A stretch of a row that a name lies on.
pub struct Taken {
    /// The row's upper edge.
    pub top: f64,
    /// From where to where.
    pub span: (f64, f64),
}

/// Zones as they are drawn.
pub struct Zones {
    /// Hatches and outlines: over the wood, under all words.
    pub areas: Vec<Item>,
    /// Names on their plates.
    pub names: Vec<Item>,
    /// Where names lie.
    pub taken: Vec<Taken>,
}

/// All zones of the job.
pub fn zones(job: &Job, sheet: &Sheet) -> Zones {
    let mut all = Zones {
        areas: Vec::new(),
        names: Vec::new(),
        taken: Vec::new(),
    };
    for show in &job.hull.show {
        for block in blocks(job, sheet, &show.zone) {
            let line = Line {
                ink: ink::CHALK,
                width: 0.5,
                stroke: Stroke::Whole,
            };
            let over = Line {
                ink: ink::PENCIL,
                width: 0.3,
                stroke: Stroke::Broken(0.6, 1.2),
            };
            all.areas.push(Item::Group(Group::of(
                "show",
                vec![
                    Shape::drawn(block.area.outline(), line),
                    Shape::drawn(block.area.outline(), over),
                ],
            )));
            let name = show.zone.name.as_deref().unwrap_or("shows");
            all.name(
                sheet,
                &block,
                &format!("{name} × {}", show.times),
                Along::Aft,
            );
        }
    }
    for zone in &job.hull.keep_clear {
        for block in blocks(job, sheet, zone) {
            all.areas.push(Item::Group(Group::of(
                "keep-clear",
                hatched(block.area, 1.0),
            )));
            let name = zone.name.as_deref().unwrap_or("no joints");
            all.name(sheet, &block, name, Along::Middle);
        }
    }
    all
}

/// A hatched area with its outline: a light line under each dark one, so that it shows on any wood.
pub fn hatched(area: Rect, scale: f64) -> Vec<Item> {
    let hatch = |ink, width| {
        Item::Hatch(Hatch {
            area,
            spacing: 2.6 * scale,
            lean: Lean::Rising,
            line: Line::whole(ink, width),
        })
    };
    vec![
        hatch(ink::CHALK, 0.34),
        hatch(ink::PENCIL, 0.14),
        Shape::drawn(area.outline(), Line::whole(ink::CHALK, 0.55)),
        Shape::drawn(area.outline(), Line::whole(ink::PENCIL, 0.28)),
    ]
}

/// Rows next to each other that a zone lies over.
struct Block {
    area: Rect,
    rows: Vec<Row>,
}

/// Where on its area a zone's name stands.
#[derive(Clone, Copy)]
enum Along {
    Middle,
    Aft,
}

fn blocks(job: &Job, sheet: &Sheet, zone: &Zone) -> Vec<Block> {
    let (left, right) = (sheet.x(zone.from), sheet.x(zone.to));
    let mut blocks: Vec<Block> = Vec::new();
    for row in &sheet.rows {
        if !zone.covers(job.hull.course(row.course)) {
            continue;
        }
        let bottom = row.top + sheet.pitch;
        match blocks.last_mut() {
            Some(block) if touches(block, row) => {
                block.area.h = bottom - block.area.y;
                block.rows.push(*row);
            }
            _ => blocks.push(Block {
                area: Rect::between(left, row.top, right, bottom),
                rows: vec![*row],
            }),
        }
    }
    blocks
}

fn touches(block: &Block, row: &Row) -> bool {
    (block.area.y + block.area.h - row.top).abs() < 0.01
}

impl Zones {
    fn name(&mut self, sheet: &Sheet, block: &Block, name: &str, along: Along) {
        // The centre course alone is named by its neighbours.
        let alone = block.rows.len() == 1 && block.rows.iter().all(|r| r.side == Side::Centre);
        let Some(row) = middle_row(block).filter(|_| !alone) else {
            return;
        };
        let size = (sheet.pitch * 0.62).min(2.6);
        let words = cut_off(name, size, Weight::Plain, LONGEST);
        let half = width(&words, size, Weight::Plain) / 2.0 + 0.8;
        let (from, to) = sheet.sides();
        let centre = match along {
            Along::Middle => block.area.x + block.area.w / 2.0,
            Along::Aft => block.area.x + block.area.w - half - 14.0,
        };
        let centre = centre.clamp(from + half, to - half);
        let middle = row.top + sheet.pitch / 2.0;
        let tall = sheet.pitch * 0.42;
        let plate = Rect::between(centre - half, middle - tall, centre + half, middle + tall);
        let text = Text::new(words, (centre, middle + size * 0.36), size, ink::PENCIL);
        self.names.push(Item::Group(Group::of(
            "zone-name",
            vec![
                Shape::outlined(plate.outline(), ink::PAPER, Line::whole(ink::SOFT, 0.12)),
                text.set(Set::Middle).into(),
            ],
        )));
        self.taken.push(Taken {
            top: row.top,
            span: (centre - half, centre + half),
        });
    }
}

/// The row in the middle, counted from the centreline so that port and starboard mirror each other.
fn middle_row(block: &Block) -> Option<&Row> {
    let many = block.rows.len();
    let starboard = block.rows.iter().any(|row| row.side == Side::Starboard);
    let from_top = if starboard {
        many / 2
    } else {
        many.saturating_sub(1) / 2
    };
    block.rows.get(from_top)
}
