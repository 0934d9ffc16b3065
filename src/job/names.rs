//! What the names of panels, courses and strips in a row about a piece stand for.

use super::Job;
use super::cell::Cell;
use super::found::Found;
use super::nearest::{NO_SUCH_PANEL, advice, did_you_mean};
use super::table::Row;
use crate::hull::{Course, CourseId, CourseName, Hull};
use crate::stock::StripId;
use std::collections::BTreeMap;

/// What the names in the laying order and in the log stand for.
pub(super) struct Names<'j> {
    panels: Vec<&'j str>,
    courses: BTreeMap<(&'j str, CourseName), CourseId>,
    strips: BTreeMap<&'j str, StripId>,
}

impl<'j> Names<'j> {
    pub(super) fn of(job: &'j Job) -> Names<'j> {
        let strips = job.stock.strips();
        Names {
            strips: strips.map(|(id, strip)| (&*strip.name, id)).collect(),
            ..Names::of_hull(&job.hull)
        }
    }

    /// The names of panels and courses alone.
    pub(super) fn of_hull(hull: &'j Hull) -> Names<'j> {
        let name_of = |course: &Course| hull.panel(course.panel).name.as_str();
        Names {
            panels: hull
                .panels
                .iter()
                .map(|panel| panel.name.as_str())
                .collect(),
            courses: hull
                .courses()
                .map(|(id, course)| ((name_of(course), course.name()), id))
                .collect(),
            strips: BTreeMap::new(),
        }
    }

    pub(super) fn strip(&self, cell: &Cell<'_>, found: &mut Found) -> Option<StripId> {
        let strip = self.strips.get(cell.text).copied();
        if strip.is_none() {
            let mend = did_you_mean(cell.text, self.strips.keys().copied())
                .unwrap_or_else(|| "Write the name of a strip in the rack.".into());
            let wrong = if cell.is_empty() {
                "is empty"
            } else {
                "is not a strip in the rack"
            };
            cell.complain(found, wrong, mend);
        }
        strip
    }

    pub(super) fn course(&self, row: &Row<'_>, found: &mut Found) -> Option<CourseId> {
        let (panel, course) = (row.cell("panel"), row.cell("course"));
        let name = course.course(found);
        if !self.panels.contains(&panel.text) {
            panel.complain(found, NO_SUCH_PANEL, advice(panel.text, &self.panels));
            return None;
        }
        let id = self.courses.get(&(panel.text, name?)).copied();
        if id.is_none() {
            course.complain(
                found,
                format!("is not a course of panel \"{}\" in courses.csv", panel.text),
                "Write the number of a course that is there.",
            );
        }
        id
    }

    /// The course that a row names, where the panel may be left out if only one has a course of that number.
    pub(super) fn course_of_any_panel(&self, row: &Row<'_>, found: &mut Found) -> Option<CourseId> {
        if !row.cell("panel").is_empty() {
            return self.course(row, found);
        }
        let cell = row.cell("course");
        let name = cell.course(found)?;
        let here: Vec<CourseId> = self
            .courses
            .iter()
            .filter(|((_, course), _)| *course == name)
            .map(|(_, id)| *id)
            .collect();
        match here.as_slice() {
            [one] => return Some(*one),
            [] => cell.complain(
                found,
                "is not a course of courses.csv",
                "Write the number of a course that is there.",
            ),
            _ => cell.complain(
                found,
                "is a course of several panels",
                "Write the panel as well.",
            ),
        }
        None
    }
}
