//! The boat: its panels, the courses planked over them, and the zones that are kept clear or shown.

mod course;
mod form;
mod name;
mod panel;
mod zone;

pub use course::{Course, CourseId, End, Kind};
pub use form::{Crossing, Form, FormId};
pub use name::{CourseName, NotAName, Stretch};
pub use panel::{Drift, LayOrder, Panel, PanelId, Shade, Side, Toward};
pub use zone::{Show, Zone};

/// The boat as the planner sees it.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Hull {
    /// Panels in the order of boat.toml.
    pub panels: Vec<Panel>,
    /// All courses, by panel, then by number, then by stretch.
    pub courses: Vec<Course>,
    /// The forms, from the bow aft; empty where no forms are known.
    pub forms: Vec<Form>,
    /// Where no scarf may fall.
    pub keep_clear: Vec<Zone>,
    /// Where looks count more, or less.
    pub show: Vec<Show>,
}

impl Hull {
    /// The panel with this id.
    pub fn panel(&self, id: PanelId) -> &Panel {
        &self.panels[id.0]
    }

    /// The course with this id.
    pub fn course(&self, id: CourseId) -> &Course {
        &self.courses[id.0]
    }

    /// The panel that a course belongs to.
    pub fn panel_of(&self, id: CourseId) -> &Panel {
        self.panel(self.course(id).panel)
    }

    /// The name of a course with that of its panel, as other programs read it: `topside 12`.
    pub fn full_name(&self, id: CourseId) -> String {
        format!("{} {}", self.panel_of(id).name, self.course(id).name())
    }

    /// Whether a course of its panel lies next to it on either hand: before it, and after it.
    pub fn has_beside(&self, id: CourseId) -> [bool; 2] {
        let course = self.course(id);
        let mut before = self.courses.iter();
        let mut after = self.courses.iter();
        [
            before.any(|other| other.lies_before(course)),
            after.any(|other| course.lies_before(other)),
        ]
    }

    /// What is said of the edge of a course that looks away from the start line: `next`, or `free` where no course is
    /// glued to it.
    pub fn next_or_free(&self, id: CourseId) -> &'static str {
        match self.has_beside(id)[1] {
            true => "next",
            false => "free",
        }
    }

    /// Every course with its id, by panel and number.
    pub fn courses(&self) -> impl Iterator<Item = (CourseId, &Course)> {
        (0..).map(CourseId).zip(&self.courses)
    }
}
