//! A stretch of the planking before and after a change, beside each other.

use super::scene::Rect;
use super::sheet::{Row, Sheet, WIDTH};
use super::{Picture, svg};
use crate::check::Verdict;
use crate::hull::CourseId;
use crate::job::Job;
use crate::plan::Plan;
use std::fmt::Write;

/// Courses that are shown on either side of those that change.
const AROUND: f64 = 2.0;
/// Between the pictures, and over them for what they are called. Unit: mm.
const GAP: f64 = 6.0;
/// What they are called. Unit: mm.
const HEADING: f64 = 4.5;

/// The planking as it is, and beside it as it would be: the courses named and two on either side of each, to port
/// and to starboard. As wide as the sheet of the planking.
pub fn beside(
    job: &Job,
    courses: &[CourseId],
    before: (&Plan, &Verdict),
    after: (&Plan, &Verdict),
) -> String {
    let views = views(job, courses);
    let width = views.first().map_or(0.0, |view| view.w);
    let tall: f64 = views.iter().map(|view| view.h + GAP).sum();
    let (wide, high) = (2.0 * width + 3.0 * GAP, tall + 2.0 * GAP);
    let paper = high * WIDTH / wide;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDTH}mm\" height=\"{paper:.2}mm\" \
         viewBox=\"0 0 {wide} {high}\">\n<title>Before and after</title>\n\
         <rect width=\"{wide}\" height=\"{high}\" fill=\"#fff\"/>\n"
    );
    let columns = [
        (GAP, "as it is", before),
        (2.0 * GAP + width, "changed", after),
    ];
    for (x, name, (plan, verdict)) in columns {
        // Writing to a text can't fail.
        let _ = writeln!(
            out,
            "<text x=\"{x}\" y=\"{}\" font-size=\"{HEADING}\" font-weight=\"bold\" font-family=\"sans-serif\">{name}</text>",
            GAP + 3.0
        );
        let scene = Picture::Planking.scene(job, plan, verdict, None);
        let mut y = 2.0 * GAP;
        for view in &views {
            let place = format!(
                "<svg x=\"{x}\" y=\"{y}\" width=\"{}\" height=\"{}\" ",
                view.w, view.h
            );
            out += &svg::element(&scene, *view, "img", &|_| None).replacen("<svg ", &place, 1);
            y += view.h + GAP;
        }
    }
    out + "</svg>\n"
}

/// The parts of the planking that are shown, from the top; those that overlap as one.
fn views(job: &Job, courses: &[CourseId]) -> Vec<Rect> {
    let sheet = Sheet::of(job);
    let drawing = sheet.drawing();
    let around = |row: &Row| {
        (
            row.top - AROUND * sheet.pitch,
            row.top + (1.0 + AROUND) * sheet.pitch,
        )
    };
    let named = sheet
        .rows
        .iter()
        .filter(|row| courses.contains(&row.course));
    let mut spans: Vec<(f64, f64)> = named.map(around).collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut merged: Vec<(f64, f64)> = Vec::new();
    for (top, bottom) in spans {
        match merged.last_mut() {
            Some(last) if top <= last.1 => last.1 = last.1.max(bottom),
            _ => merged.push((top, bottom)),
        }
    }
    let view = |(top, bottom): (f64, f64)| Rect {
        x: drawing.x,
        y: top,
        w: drawing.w,
        h: bottom - top,
    };
    merged.into_iter().map(view).collect()
}
