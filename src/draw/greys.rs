//! The steps in colour, in greys: the wood is pale, and the line between two courses is as strong as the step across
//! it, so that the eye goes to the worst seam.

use super::fit::{Wording, cut_off, width};
use super::pieces::{Drawn, Filled, filled};
use super::ruler::rulers;
use super::scene::{Group, Ink, Item, Line, Outline, Point, Rect, Scene, Set, Shape, Text, Weight};
use super::sheet::{MARGIN, Sheet, WIDTH};
use super::{bands, ink, planking, sheet, steps};
use crate::check::{SeamFigure, Verdict};
use crate::hull::{Course, CourseId, Side};
use crate::job::Job;
use crate::plan::{Piece, Plan};
use crate::units::{Colour, delta_e, to_the_eye};

/// The step at which a line is as wide as it gets. Unit: ΔE00.
const STRONGEST: f64 = 8.0;
/// From line to line of the key, and its type. Unit: millimetre of paper.
const LEADING: f64 = 5.3;
const SIZE: f64 = 2.6;
/// Where the figures of the largest steps end.
const COLUMN: f64 = 150.0;

/// The scene of the steps.
pub fn scene(job: &Job, plan: &Plan, verdict: &Verdict) -> Scene {
    let sheet = Sheet::of(job);
    let rows = filled(job, plan, &sheet);
    let mut items = vec![heading(job, verdict)];
    items.extend(rulers(&sheet, job.unit));
    items.extend(planking::paper_it_takes(job.unit, &sheet));
    items.extend(bands::names(job, &sheet));
    for row in &rows {
        items.extend(row.pieces.iter().map(|drawn| pale(job, drawn)));
    }
    let pen = Pen {
        job,
        sheet: &sheet,
        rows: &rows,
    };
    items.extend(rows.iter().flat_map(|row| pen.joints(row)));
    items.extend(verdict.seams.iter().map(|seam| {
        let met = pen.met(seam.upper, seam.lower, seam.side);
        pen.seam(&met)
    }));
    for row in &rows {
        items.push(planking::row_ends(job, &sheet, &row.row));
        items.extend(row.pieces.iter().filter_map(|drawn| {
            let middle = row.row.top + sheet.pitch / 2.0;
            name(job, drawn, (sheet.pitch * 0.58).min(2.6), middle)
        }));
    }
    let worst = steps::largest_seams(verdict);
    items.extend(worst.iter().filter_map(|seam| {
        let met = pen.met(seam.upper, seam.lower, seam.side);
        let worst = met.into_iter().max_by(|a, b| a.step.total_cmp(&b.step))?;
        Some(figure(&worst))
    }));
    items.extend(steps::largest(job, verdict, &sheet));
    items.push(key(&pen, &worst));
    sheet.scene(format!("Colour steps of {}", job.name), items)
}

/// A stretch over which one piece meets one other.
struct Met {
    from: Point,
    to: Point,
    /// Unit: ΔE00.
    step: f64,
}

struct Pen<'a> {
    job: &'a Job,
    sheet: &'a Sheet,
    rows: &'a [Filled<'a>],
}

impl Pen<'_> {
    fn colour(&self, piece: &Piece) -> Colour {
        self.job.stock.strip(piece.strip).colour
    }

    /// The pieces of a course on a side, each from joint to joint on the paper.
    fn nominal(&self, course: CourseId, side: Side) -> Vec<(f64, f64, &Piece)> {
        let of = |side| {
            let mut rows = self.rows.iter();
            rows.find(move |row| row.row.course == course && row.row.side == side)
        };
        let Some(row) = of(side).or_else(|| of(Side::Centre)) else {
            return Vec::new();
        };
        let Course { from, to, .. } = *self.job.hull.course(course);
        let joints = row.joints();
        let mut places = vec![self.sheet.x(from)];
        places.extend(joints.iter().map(|(fore, aft)| (fore + aft) / 2.0));
        places.push(self.sheet.x(to));
        let spans = places.windows(2).zip(&row.pieces);
        spans
            .map(|(at, drawn)| (at[0], at[1], drawn.piece))
            .collect()
    }

    fn met(&self, upper: CourseId, lower: CourseId, side: Side) -> Vec<Met> {
        let (Some(one), Some(other)) = (self.sheet.row(upper, side), self.sheet.row(lower, side))
        else {
            return Vec::new();
        };
        let y = (one.top + other.top + self.sheet.pitch) / 2.0;
        let mut met = Vec::new();
        for (p_from, p_to, p) in self.nominal(upper, side) {
            for (q_from, q_to, q) in self.nominal(lower, side) {
                let (from, to) = (p_from.max(q_from), p_to.min(q_to));
                if from < to {
                    met.push(Met {
                        from: (from, y),
                        to: (to, y),
                        step: delta_e(self.colour(p), self.colour(q)),
                    });
                }
            }
        }
        met
    }

    /// Where a seam is, and which strips meet there.
    fn told(&self, seam: &SeamFigure) -> String {
        let hull = &self.job.hull;
        let strips = |course| {
            let pieces = self.nominal(course, seam.side);
            let names = pieces.iter().map(|(_, _, piece)| {
                let strip = self.job.stock.strip(piece.strip);
                strip.name.as_str()
            });
            names.collect::<Vec<_>>().join(", ")
        };
        let told = format!(
            "{} courses {} and {}, {}: {} against {}",
            hull.panel(seam.panel).name,
            hull.course(seam.upper).name(),
            hull.course(seam.lower).name(),
            seam.side.name(),
            strips(seam.upper),
            strips(seam.lower)
        );
        cut_off(&told, SIZE, Weight::Plain, WIDTH - MARGIN - COLUMN - 3.0)
    }

    fn seam(&self, met: &[Met]) -> Item {
        let lines = met.iter().map(|met| {
            let line = strength(met.step, self.sheet.pitch);
            Shape::drawn(Outline::Straight(met.from, met.to), line)
        });
        Item::Group(Group::of("seam", lines.collect()))
    }

    fn joints(&self, row: &Filled<'_>) -> Vec<Item> {
        let two = row.pieces.windows(2);
        let lines = two.filter_map(|two| {
            let (from, to) = two[1].scarf()?;
            let step = delta_e(self.colour(two[0].piece), self.colour(two[1].piece));
            let line = strength(step, self.sheet.pitch);
            Some(Shape::drawn(Outline::Straight(from, to), line))
        });
        lines.collect()
    }
}

/// How strong the line of a step is.
fn strength(step: f64, pitch: f64) -> Line {
    let part = (step / STRONGEST).clamp(0.0, 1.0);
    let grey = (165.0 * (1.0 - 1.6 * part)).max(0.0) as u8;
    Line::whole(Ink([grey; 3]), 0.06 + part * pitch * 0.4)
}

/// A piece in a pale grey that still tells dark wood from light.
fn pale(job: &Job, drawn: &Drawn<'_>) -> Item {
    let strip = job.stock.strip(drawn.piece.strip);
    let grey = Colour::lab(74.0 + 0.23 * strip.colour.l, 0.0, 0.0);
    let shape = Shape::filled(drawn.outline(), ink::of_wood(grey));
    Item::Group(Group {
        facts: vec![("strip", strip.name.clone())],
        ..Group::of("piece", vec![shape])
    })
}

fn name(job: &Job, drawn: &Drawn<'_>, size: f64, middle: f64) -> Option<Item> {
    let (left, right) = drawn.straight();
    let wording = Wording {
        name: job.stock.strip(drawn.piece.strip).name.clone(),
        more: String::new(),
    };
    let fitted = wording.shrunk(size, right - left - 3.0)?;
    let words = fitted.set(left + 1.5, middle, ink::PENCIL);
    Some(Item::Group(Group::of("lettering", words)))
}

/// The figure of a step on a plate, on the stretch where it is met.
fn figure(met: &Met) -> Item {
    let words = format!("{:.1}", met.step);
    let size = 2.4;
    let half = width(&words, size, Weight::Bold) / 2.0 + 0.6;
    let (x, y) = ((met.from.0 + met.to.0) / 2.0, met.from.1);
    let plate = Rect::between(x - half, y - 1.5, x + half, y + 1.5);
    let text = Text::new(words, (x, y + 0.36 * size), size, ink::PENCIL);
    let edge = Line::whole(ink::PENCIL, 0.2);
    Item::Group(Group::of(
        "figure",
        vec![
            Shape::outlined(plate.outline(), ink::CHALK, edge),
            text.set(Set::Middle).bold().into(),
        ],
    ))
}

fn heading(job: &Job, verdict: &Verdict) -> Item {
    let title = format!("{}: colour steps", job.name);
    let title = cut_off(&title, 7.0, Weight::Bold, WIDTH - 2.0 * MARGIN);
    let told = "In greys. The stronger a line, the larger the step in colour across it, ΔE00. The five largest are \
    pointed out.";
    let seams = verdict.seams_to_hide();
    let most = seams.max_by(|one, other| one.worst.total_cmp(&other.worst));
    let most = most.map_or(String::new(), |seam| {
        let words = seam.to_the_eye(seam.worst);
        format!("the largest step is {:.1}: {words}", seam.worst)
    });
    Item::Group(Group::of("heading", sheet::heading(title, told, most)))
}

/// What the strength of a line means, and where the largest steps are.
fn key(pen: &Pen<'_>, worst: &[&SeamFigure]) -> Item {
    let sheet = pen.sheet;
    let top = sheet.height - MARGIN - 4.0 * LEADING;
    let rule = Outline::Straight((MARGIN, top - 6.6), (WIDTH - MARGIN, top - 6.6));
    let mut items = vec![Shape::drawn(rule, Line::whole(ink::FAINT, 0.25))];
    let said = |words: String, x: f64, y: f64| -> Text {
        Text::new(words, (x, y + 0.36 * SIZE), SIZE, ink::PENCIL)
    };
    for (line, step) in [0.5, 1.5, 2.7, 4.2, 6.0].into_iter().enumerate() {
        let y = top + line as f64 * LEADING;
        let sample = Outline::Straight((MARGIN, y), (MARGIN + 22.0, y));
        items.push(Shape::drawn(sample, strength(step, sheet.pitch)));
        let figure = said(format!("{step:.1}"), MARGIN + 31.0, y);
        items.push(figure.set(Set::Right).into());
        items.push(said(to_the_eye(step).into(), MARGIN + 34.0, y).into());
    }
    for (line, seam) in worst.iter().enumerate() {
        let y = top + line as f64 * LEADING;
        let figure = said(format!("{:.1}", seam.step), COLUMN, y);
        items.push(figure.set(Set::Right).bold().into());
        items.push(said(pen.told(seam), COLUMN + 3.0, y).into());
    }
    Item::Group(Group::of("legend", items))
}
