//! The largest steps in colour between neighbouring courses, pointed out at the stern.

use super::fit::width;
use super::ink;
use super::scene::{Group, Item, Line, Outline, Set, Shape, Text, Weight};
use super::sheet::{MARGIN, Sheet, WIDTH};
use crate::check::{SeamFigure, Verdict};
use crate::job::Job;

/// How many are pointed out at most.
const SHOWN: usize = 5;
/// The least step worth a look. Unit: ΔE00. Why: below 1, as printed to one decimal, no eye sees it.
const SEEN: f64 = 0.95;

/// The largest steps that can be seen, at the right edge.
pub fn largest(job: &Job, verdict: &Verdict, sheet: &Sheet) -> Vec<Item> {
    let steps = largest_seams(verdict).into_iter().filter_map(|seam| {
        let one = sheet.row(seam.upper, seam.side)?;
        let other = sheet.row(seam.lower, seam.side)?;
        let y = (one.top + other.top + sheet.pitch) / 2.0;
        let stern = |course| sheet.x(job.hull.course(course).to);
        let from = stern(seam.upper).max(stern(seam.lower)) + 8.0;
        Some(step(from, y, seam.step))
    });
    steps.collect()
}

/// The seams with the largest mean steps that can be seen, the largest first.
pub fn largest_seams(verdict: &Verdict) -> Vec<&SeamFigure> {
    let mut seams: Vec<&SeamFigure> = verdict.seams_to_hide().filter(|s| s.step >= SEEN).collect();
    seams.sort_by(|a, b| b.step.total_cmp(&a.step));
    seams.truncate(SHOWN);
    seams
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
