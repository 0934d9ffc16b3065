//! Zones: those kept clear of scarfs are hatched and named, those that show have a quiet outline.

use super::fit::{cut_off, width};
use super::ink;
use super::scene::{
    Group, Hatch, Item, Line, Outline, Point, Rect, Set, Shape, Stroke, Text, Weight,
};
use super::sheet::{Row, Sheet};
use crate::hull::{Side, Zone};
use crate::job::Job;

/// Longest name that is written out. Unit: millimetre of paper.
const LONGEST: f64 = 70.0;

/// Stretches of a row.
pub type Spans = Vec<(f64, f64)>;

/// Stretches of a row that words on its pieces should keep off.
#[derive(Clone, Default)]
pub struct Taken {
    /// Under the name of a zone: nothing can be read there.
    pub names: Spans,
    /// Under a hatch: words there need a plate.
    pub hatches: Spans,
}

/// Zones as they are drawn.
pub struct Zones {
    /// Hatches and outlines: over the wood, under all words.
    pub areas: Vec<Item>,
    /// Names on their plates.
    pub names: Vec<Item>,
    /// What is taken of each row of the sheet.
    pub taken: Vec<Taken>,
}

/// All zones of the job; `joints` are the scarfs in each row of the sheet.
pub fn zones(job: &Job, sheet: &Sheet, joints: &[Spans]) -> Zones {
    let mut all = Zones {
        areas: Vec::new(),
        names: Vec::new(),
        taken: vec![Taken::default(); sheet.rows.len()],
    };
    for show in &job.hull.show {
        let name = show.zone.name.as_deref().unwrap_or("shows");
        let name = format!("{name} × {}", show.times);
        all.put(job, sheet, &show.zone, (Sort::Show, &name), joints);
    }
    for zone in &job.hull.keep_clear {
        let name = zone.name.as_deref().unwrap_or("no joints");
        all.put(job, sheet, zone, (Sort::KeepClear, name), joints);
    }
    all
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Sort {
    KeepClear,
    Show,
}

/// A row of the sheet, and the part of it that a zone lies over.
#[derive(Clone, Copy)]
struct Stretch {
    /// Which row of the sheet.
    index: usize,
    row: Row,
    span: (f64, f64),
}

/// Stretches of rows next to each other.
type Block = Vec<Stretch>;

fn blocks(job: &Job, sheet: &Sheet, zone: &Zone) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    for (index, row) in sheet.rows.iter().enumerate() {
        let course = job.hull.course(row.course);
        let span = (
            sheet.x(zone.from.max(course.from)),
            sheet.x(zone.to.min(course.to)),
        );
        if !zone.covers(course) || span.1 <= span.0 {
            continue;
        }
        let stretch = Stretch {
            index,
            row: *row,
            span,
        };
        let below =
            |last: &Stretch| (last.row.top + sheet.pitch - row.top).abs() < sheet.pitch / 10.0;
        match blocks.last_mut() {
            Some(block) if block.last().is_some_and(below) => block.push(stretch),
            _ => blocks.push(vec![stretch]),
        }
    }
    blocks
}

impl Zones {
    fn put(
        &mut self,
        job: &Job,
        sheet: &Sheet,
        zone: &Zone,
        (sort, name): (Sort, &str),
        joints: &[Spans],
    ) {
        let blocks = blocks(job, sheet, zone);
        for block in &blocks {
            let outline = stepped(block, sheet.pitch);
            let (kind, mut items) = match sort {
                Sort::Show => ("show", Vec::new()),
                Sort::KeepClear => ("keep-clear", self.hatch(block, sheet.pitch)),
            };
            items.extend(match sort {
                Sort::Show => shown_edge(outline),
                Sort::KeepClear => clear_edge(outline),
            });
            self.areas.push(Item::Group(Group {
                kind,
                facts: vec![("name", name.into())],
                told: None,
                items,
            }));
            // A centre course between the sides is named by its neighbours, if the zone lies over them too.
            let on_both_sides = block.iter().any(|s| s.row.side != Side::Centre);
            if on_both_sides || blocks.len() == 1 {
                self.name(sheet, block, name, sort, joints);
            }
        }
    }

    fn hatch(&mut self, block: &Block, pitch: f64) -> Vec<Item> {
        let mut items = Vec::new();
        for stretch in block {
            self.taken[stretch.index].hatches.push(stretch.span);
            let (left, right) = stretch.span;
            let area = Rect::between(left, stretch.row.top, right, stretch.row.top + pitch);
            items.extend(hatch(area));
        }
        items
    }

    /// Names a block, in the row nearest its middle where the name hides no joint.
    fn name(&mut self, sheet: &Sheet, block: &Block, name: &str, sort: Sort, joints: &[Spans]) {
        let size = (sheet.pitch * 0.62).min(2.6);
        let words = cut_off(name, size, Weight::Plain, LONGEST);
        let half = width(&words, size, Weight::Plain) / 2.0 + 0.8;
        let (from, to) = sheet.sides();
        let span = |stretch: &Stretch| {
            let (left, right) = stretch.span;
            let centre = match sort {
                Sort::KeepClear => (left + right) / 2.0,
                Sort::Show => right - half - 12.0,
            };
            let centre = centre.clamp(from + half, to - half);
            (centre - half, centre + half)
        };
        let hides_none = |stretch: &&Stretch| {
            let (left, right) = span(stretch);
            let mut joints = joints[stretch.index].iter();
            !joints.any(|(fore, aft)| *fore < right && left < *aft)
        };
        let rows = from_the_middle(block);
        let best = rows.iter().copied().find(hides_none);
        let Some(stretch) = best.or_else(|| rows.first().copied()) else {
            return;
        };
        let (left, right) = span(stretch);
        let middle = stretch.row.top + sheet.pitch / 2.0;
        let tall = sheet.pitch * 0.42;
        let plate = Rect::between(left, middle - tall, right, middle + tall);
        let at = ((left + right) / 2.0, middle + size * 0.36);
        let text = Text::new(words, at, size, ink::PENCIL);
        self.names.push(Item::Group(Group::of(
            "zone-name",
            vec![
                Shape::outlined(plate.outline(), ink::PAPER, Line::whole(ink::SOFT, 0.12)),
                text.set(Set::Middle).into(),
            ],
        )));
        self.taken[stretch.index].names.push((left, right));
    }
}

/// The stretches of a block from its middle outwards, mirrored courses before those on the centreline, and alike on
/// both sides of the boat.
fn from_the_middle(block: &Block) -> Vec<&Stretch> {
    let (centre, mut rows): (Vec<&Stretch>, Vec<&Stretch>) =
        block.iter().partition(|s| s.row.side == Side::Centre);
    if rows.iter().any(|s| s.row.side == Side::Starboard) {
        rows.reverse();
    }
    let middle = rows.len().saturating_sub(1) / 2;
    let mut order: Vec<(usize, &Stretch)> = rows.into_iter().enumerate().collect();
    order.sort_by_key(|(n, _)| n.abs_diff(middle));
    let mirrored = order.into_iter().map(|(_, stretch)| stretch);
    mirrored.chain(centre).collect()
}

/// The outline of a block, in steps along the ends of its courses.
fn stepped(block: &Block, pitch: f64) -> Outline {
    let both = |x: f64, s: &Stretch| [(x, s.row.top), (x, s.row.top + pitch)];
    let after = block.iter().flat_map(|s| both(s.span.1, s));
    let forward = block.iter().flat_map(|s| both(s.span.0, s));
    let mut points: Vec<Point> = forward.collect();
    points.reverse();
    points.extend(after);
    Outline::Closed(points)
}

/// The outline of a zone that shows.
pub fn shown_edge(outline: Outline) -> Vec<Item> {
    let dots = Line {
        ink: ink::PENCIL,
        width: 0.2,
        stroke: Stroke::Broken(0.5, 1.5),
    };
    vec![
        Shape::drawn(outline.clone(), Line::whole(ink::CHALK, 0.36)),
        Shape::drawn(outline, dots),
    ]
}

/// The outline of a zone kept clear.
pub fn clear_edge(outline: Outline) -> Vec<Item> {
    vec![
        Shape::drawn(outline.clone(), Line::whole(ink::CHALK, 0.55)),
        Shape::drawn(outline, Line::whole(ink::PENCIL, 0.28)),
    ]
}

/// The hatch of a zone kept clear: a light line under each dark one, so that it shows on any wood.
pub fn hatch(area: Rect) -> Vec<Item> {
    let lines = |ink, width| {
        Item::Hatch(Hatch {
            area,
            spacing: 3.4,
            line: Line::whole(ink, width),
        })
    };
    vec![lines(ink::CHALK, 0.34), lines(ink::PENCIL, 0.14)]
}
