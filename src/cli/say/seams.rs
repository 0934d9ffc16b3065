//! The seams that are seen most.

use super::summary::{plain_table, to_the_right};
use super::{HEAD, styled};
use std::collections::BTreeMap;
use twinstrake::check::{SeamFigure, Verdict};
use twinstrake::hull::{CourseId, Hull, Side};

/// How many are told.
const TOLD: usize = 5;

/// The seams with the largest mean colour step, by course, port beside starboard; `None` where no two courses meet.
pub fn worst_seams(hull: &Hull, verdict: &Verdict) -> Option<String> {
    let rows = worst_seam_rows(hull, verdict);
    if rows.is_empty() {
        return None;
    }
    let mut table = plain_table();
    table.set_header(["", "port", "starboard", "centre", "to the eye"]);
    let no_centre = rows.iter().all(|[_, _, _, centre, _]| centre == NO_SEAM);
    for row in rows {
        table.add_row(row);
    }
    if no_centre {
        // A hidden column is no column at all.
        if let Some(column) = table.column_mut(3) {
            column.set_constraint(comfy_table::ColumnConstraint::Hidden);
        }
    }
    to_the_right(&mut table, 1..=3);
    Some(format!(
        "{}\n{}\n",
        styled(HEAD, WORST_SEAMS),
        table.trim_fmt()
    ))
}

/// What the rows are.
pub const WORST_SEAMS: &str = "The worst seams, by mean colour step from course to course";
/// What stands where there is no seam.
pub const NO_SEAM: &str = "-";

/// The same, a row each: between which courses, the step on port, on starboard and on the centreline, and what it is
/// to the eye.
pub fn worst_seam_rows(hull: &Hull, verdict: &Verdict) -> Vec<[String; 5]> {
    let mut by_course: BTreeMap<(CourseId, CourseId), Vec<&SeamFigure>> = BTreeMap::new();
    for seam in verdict.seams_to_hide() {
        by_course
            .entry((seam.upper, seam.lower))
            .or_default()
            .push(seam);
    }
    let mut seams: Vec<Seam<'_>> = by_course.into_iter().map(Seam::of).collect();
    // Sorting is stable: of equals, the one nearer the start line comes first.
    seams.sort_by(|one, other| other.worse().total_cmp(&one.worse()));
    let row = |seam: &Seam<'_>| {
        let (upper, lower) = seam.between;
        let [panel, upper, lower] = [
            hull.panel_of(upper).name.clone(),
            hull.course(upper).name().to_string(),
            hull.course(lower).name().to_string(),
        ];
        [
            format!("{panel} {upper} to {lower}"),
            figure(seam.on(Side::Port)),
            figure(seam.on(Side::Starboard)),
            figure(seam.on(Side::Centre)),
            seam.words().to_string(),
        ]
    };
    seams.iter().take(TOLD).map(row).collect()
}

struct Seam<'v> {
    between: (CourseId, CourseId),
    sides: Vec<&'v SeamFigure>,
}

impl<'v> Seam<'v> {
    fn of((between, sides): ((CourseId, CourseId), Vec<&'v SeamFigure>)) -> Seam<'v> {
        Seam { between, sides }
    }

    fn on(&self, side: Side) -> Option<f64> {
        let mut sides = self.sides.iter();
        sides.find(|seam| seam.side == side).map(|seam| seam.step)
    }

    fn worst(&self) -> Option<&SeamFigure> {
        let sides = self.sides.iter().copied();
        sides.max_by(|one, other| one.step.total_cmp(&other.step))
    }

    fn worse(&self) -> f64 {
        self.worst().map_or(0.0, |seam| seam.step)
    }

    fn words(&self) -> &'static str {
        self.worst().map_or("", |seam| seam.to_the_eye(seam.step))
    }
}

fn figure(step: Option<f64>) -> String {
    step.map_or(NO_SEAM.into(), |step| format!("{step:.1}"))
}
