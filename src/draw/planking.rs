//! The planking: the whole skin of the boat, opened flat.

use super::fit::{cut_off, width};
use super::ruler::{Figures, ruler};
use super::scene::{Group, Item, Line, Outline, Scene, Set, Shape, Stroke, Text, Weight};
use super::sheet::{Band, MARGIN, Row, Sheet, WIDTH};
use super::{forms, ink, legend, marks, pieces, zones};
use crate::check::{SeamFigure, Verdict};
use crate::hull::Side;
use crate::job::Job;
use crate::plan::Plan;

/// How many of the largest colour steps are pointed out.
const STEPS_SHOWN: usize = 5;

/// The scene of the planking.
pub fn scene(job: &Job, plan: &Plan, verdict: &Verdict) -> Scene {
    let sheet = Sheet::of(job);
    let filled = pieces::filled(job, plan, &sheet);
    let joints: Vec<zones::Spans> = filled.iter().map(pieces::Filled::joints).collect();
    let zones = zones::zones(job, &sheet, &joints);
    let mut items = vec![heading(job, plan, verdict, &sheet)];
    items.push(ruler(&sheet, job.unit, sheet.span.0 - 4.0, Figures::Above));
    items.push(ruler(&sheet, job.unit, sheet.span.1 + 4.0, Figures::Below));
    items.push(centreline(job, &sheet));
    items.extend(sheet.bands.iter().map(|band| band_name(job, &sheet, band)));
    for row in &filled {
        if row.pieces.is_empty() {
            items.push(pieces::open(job, &sheet, &row.row));
        }
        for drawn in &row.pieces {
            let at = plan
                .pieces
                .iter()
                .position(|p| std::ptr::eq(p, drawn.piece));
            items.push(pieces::wood(job, at.map_or(0, |at| at + 1), drawn));
        }
    }
    items.extend(sheet.blanks.iter().map(|row| blank(job, &sheet, row)));
    items.extend(forms::lines(job, &sheet));
    items.extend(zones.areas);
    for (row, taken) in filled.iter().zip(&zones.taken) {
        items.push(row_ends(job, &sheet, &row.row));
        for drawn in &row.pieces {
            items.extend(pieces::lettering(job, sheet.pitch, &row.row, drawn, taken));
        }
    }
    items.extend(zones.names);
    items.push(forms::names(job, &sheet));
    items.extend(largest_steps(job, verdict, &sheet));
    items.push(legend::legend(&sheet));
    Scene {
        title: format!("Planking of {}", job.name),
        width: WIDTH,
        height: sheet.height,
        paper: ink::PAPER,
        items,
    }
}

fn heading(job: &Job, plan: &Plan, verdict: &Verdict, sheet: &Sheet) -> Item {
    let room = WIDTH - 2.0 * MARGIN;
    let name = cut_off(&job.name, 7.0, Weight::Bold, room);
    let scale = format!(
        "The skin of both sides opened flat, seen from outside, bow to the left. Lengths 1 : {:.0}, widths not to scale, allowances not drawn.",
        sheet.scale()
    );
    let mut counts = vec![
        many(job.hull.courses.len(), "course"),
        many(plan.pieces.len(), "piece"),
        many(verdict.joints, "joint"),
        format!("{} cut", many(verdict.strips_cut, "strip")),
    ];
    if !plan.uncovered.is_empty() {
        counts.push(format!("{} open", many(plan.uncovered.len(), "course")));
    }
    counts.push(format!("cost {:.1} ΔE00·m", verdict.cost.total()));
    let mut items = vec![
        Text::new(name, (MARGIN, 18.0), 7.0, ink::PENCIL)
            .bold()
            .into(),
        Text::new(scale, (MARGIN, 24.2), 2.8, ink::SOFT).into(),
        Text::new(counts.join(", "), (WIDTH - MARGIN, 24.2), 2.8, ink::PENCIL)
            .set(Set::Right)
            .into(),
    ];
    if !verdict.is_good() {
        let text = format!(
            "Not a good plan: {} of the rules",
            many_breaches(verdict.breaches.len())
        );
        items.push(
            Text::new(text, (WIDTH - MARGIN, 18.0), 4.0, ink::RED)
                .set(Set::Right)
                .bold()
                .into(),
        );
    }
    Item::Group(Group::of("heading", items))
}

fn many_breaches(count: usize) -> String {
    match count {
        1 => "1 breach".into(),
        count => format!("{count} breaches"),
    }
}

fn many(count: usize, what: &str) -> String {
    let s = if count == 1 { "" } else { "s" };
    format!("{count} {what}{s}")
}

/// The centreline, on both sides of a course that lies on it.
fn centreline(job: &Job, sheet: &Sheet) -> Item {
    let y = sheet.centreline;
    let (left, right) = (MARGIN + 8.0, WIDTH - MARGIN);
    let line = Line {
        ink: ink::SOFT,
        width: 0.2,
        stroke: Stroke::Broken(7.0, 1.6),
    };
    let astride = |row: &&Row| row.top < y && row.top + sheet.pitch > y;
    let ends = sheet.rows.iter().find(astride).map(|row| {
        let course = job.hull.course(row.course);
        (sheet.x(course.from), sheet.x(course.to))
    });
    let parts = match ends {
        Some((bow, stern)) => vec![(left, bow - 14.0), (stern + 9.0, right)],
        None => vec![(left, right)],
    };
    let parts = parts.into_iter().filter(|(from, to)| from < to);
    let lines = parts.map(|(from, to)| Shape::drawn(Outline::Straight((from, y), (to, y)), line));
    Item::Group(Group::of("centreline", lines.collect()))
}

/// The place where a centre course would lie, had it a starboard side.
fn blank(job: &Job, sheet: &Sheet, row: &Row) -> Item {
    let course = job.hull.course(row.course);
    let words = format!(
        "course {} is laid once, on the centreline: drawn at the top",
        course.name()
    );
    let size = (sheet.pitch * 0.62).min(2.8);
    let at = (
        sheet.x(course.from),
        row.top + sheet.pitch / 2.0 + size * 0.36,
    );
    let text = Text::new(words, at, size, ink::SOFT);
    Item::Group(Group::of("blank", vec![text.into()]))
}

/// The panel's name and side, reading upwards at the left edge.
fn band_name(job: &Job, sheet: &Sheet, band: &Band) -> Item {
    let x = MARGIN + 3.0;
    let middle = (band.top + band.bottom) / 2.0;
    let room = band.bottom - band.top;
    let name = format!("{}, {}", job.hull.panel(band.panel).name, band.side.name());
    let words = cut_off(&name, 3.2, Weight::Plain, room);
    let edge = Outline::Straight((x + 2.6, band.top), (x + 2.6, band.bottom));
    Item::Group(Group::of(
        "panel",
        vec![
            Shape::drawn(edge, Line::whole(ink::FAINT, 0.3)),
            Text::new(words, (x, middle), 3.2_f64.min(sheet.pitch), ink::SOFT)
                .set(Set::Middle)
                .upward()
                .into(),
        ],
    ))
}

/// Mark and course number at the bow, the number again at the stern.
fn row_ends(job: &Job, sheet: &Sheet, row: &Row) -> Item {
    let course = job.hull.course(row.course);
    let (bow, stern) = (sheet.x(course.from), sheet.x(course.to));
    let middle = row.top + sheet.pitch / 2.0;
    let size = (sheet.pitch * 0.74).min(3.2);
    let base = middle + size * 0.36;
    let tall = (sheet.pitch - 0.3).min(4.6);
    let number = course.name().to_string();
    let half = width(&number, size, Weight::Bold);
    let mark = bow - 1.0 - tall * marks::WIDE / 2.0;
    let before = mark - tall * marks::WIDE / 2.0 - 0.8;
    Item::Group(Group {
        kind: "row",
        facts: vec![
            ("panel", job.hull.panel(course.panel).name.clone()),
            ("course", number.clone()),
            ("side", row.side.name().into()),
        ],
        told: None,
        items: vec![
            marks::mark(row.side, (mark, middle), tall),
            Text::new(number.clone(), (before, base), size, ink::PENCIL)
                .set(Set::Right)
                .bold()
                .into(),
            Text::new(number, (stern + 1.0 + half, base), size, ink::SOFT)
                .set(Set::Right)
                .into(),
        ],
    })
}

/// The largest steps in colour between neighbours, at the right edge.
fn largest_steps(job: &Job, verdict: &Verdict, sheet: &Sheet) -> Vec<Item> {
    let mut seams: Vec<&SeamFigure> = verdict.seams.iter().collect();
    seams.sort_by(|a, b| b.step.total_cmp(&a.step));
    let steps = seams.into_iter().take(STEPS_SHOWN).filter_map(|seam| {
        let of = |course| {
            let row = sheet.row(course, seam.side);
            row.or_else(|| sheet.row(course, Side::Centre))
        };
        let (one, other) = (of(seam.upper)?, of(seam.lower)?);
        let y = (one.top + other.top + sheet.pitch) / 2.0;
        let stern = |course| sheet.x(job.hull.course(course).to);
        let from = stern(seam.upper).max(stern(seam.lower)) + 8.0;
        Some(step(from, y, seam.step))
    });
    steps.collect()
}

fn step(from: f64, y: f64, step: f64) -> Item {
    let (right, size) = (WIDTH - MARGIN, 2.4);
    let words = format!("step {step:.1}");
    let to = right - width(&words, size, Weight::Plain) - 0.5;
    let mut items = Vec::new();
    if from < to {
        let line = Line::whole(ink::FAINT, 0.2);
        items.push(Shape::drawn(Outline::Straight((from, y), (to, y)), line));
    }
    let text = Text::new(words, (right, y + 0.36 * size), size, ink::PENCIL);
    items.push(text.set(Set::Right).into());
    Item::Group(Group::of("step", items))
}
