//! Everything in a job folder but the wood: boat.toml, and the courses from whichever files they come from.

use super::boat::{self, Boat};
use super::complaint::Complaint;
use super::files::{Digest, input, is_there};
use super::forms::{self, Forms};
use super::found::Found;
use super::lined::{Lined, lined};
use super::{courses, edited, keys, offsets};
use crate::hull::{Course, PanelId};
use crate::lines::{Laid, Scantling};
use crate::units::Unit;
use std::path::Path;

/// The boat as its files have it; each part `None` where it could not be read.
pub(super) struct Shape {
    pub(super) boat: Option<Boat>,
    pub(super) forms: Forms,
    /// What was worked out from forms and offsets.
    pub(super) lined: Lined,
    /// The courses that the planner goes by; `None` where none could be read.
    pub(super) courses: Option<Vec<Course>>,
    /// Whether every course could be read, so that a course that is not there is really not meant.
    pub(super) all: bool,
}

impl Shape {
    pub(super) fn unit(&self) -> Unit {
        self.boat
            .as_ref()
            .and_then(|boat| boat.unit)
            .unwrap_or_default()
    }
}

/// Reads boat.toml, forms.csv, offsets.csv and courses.csv, as far as they are there.
pub(super) fn read(dir: &Path, digests: &mut Vec<Digest>, found: &mut Found) -> Shape {
    let boat = input(dir, keys::FILE, digests, found).and_then(|bytes| boat::read(&bytes, found));
    let mut shape = Shape {
        boat,
        forms: Forms::default(),
        lined: Lined::default(),
        courses: None,
        all: false,
    };
    let unit = shape.unit();
    let panels = shape.boat.as_ref().and_then(|boat| boat.panels.as_deref());
    let names: Option<Vec<String>> =
        panels.map(|all| all.iter().map(|keys| keys.panel.name.clone()).collect());
    let names = names.as_deref();

    let before = found.complaints.len();
    let by_hand = is_there(dir, courses::FILE);
    if is_there(dir, forms::FILE) {
        if let Some(bytes) = input(dir, forms::FILE, digests, found) {
            shape.forms = forms::read(&bytes, names, unit, found);
        }
        let mut offsets = None;
        if is_there(dir, offsets::FILE)
            && let Some(bytes) = input(dir, offsets::FILE, digests, found)
            && let Some(panels) = panels
            && found.complaints.len() == before
        {
            offsets = Some(offsets::read(&bytes, &shape.forms, panels, unit, found));
        }
        let rules = shape.boat.as_ref().and_then(|boat| boat.rules);
        let readable = found.complaints.len() == before;
        if let (Some(panels), Some(rules), true) = (panels, rules, readable) {
            let strip = Scantling::of(&rules);
            shape.lined = lined(&shape.forms, offsets, panels, strip, unit, found);
        }
        let derived = |laid: &Laid| laid.course.clone();
        shape.courses = Some(shape.lined.laid.iter().map(derived).collect());
    } else if is_there(dir, offsets::FILE) {
        found.complain(Complaint::of(
            offsets::FILE,
            "is there without forms.csv, which says where the forms stand",
            "Write forms.csv with a row for each form: form,from_bow.",
        ));
    }
    if by_hand {
        let width = shape
            .boat
            .as_ref()
            .and_then(|boat| boat.rules)
            .map(|rules| rules.width);
        shape.courses = input(dir, courses::FILE, digests, found)
            .map(|bytes| courses::read(&bytes, names, unit, found))
            .map(|courses| {
                edited::with_crossings(courses, &shape.lined, &shape.forms.forms, width)
            });
    } else if !is_there(dir, forms::FILE) {
        found.complain(Complaint::of(
            courses::FILE,
            "there is neither this file nor forms.csv",
            "Write one of them as docs/formats.md says; demo-stock has an example.",
        ));
    }
    shape.all = shape.courses.is_some() && found.complaints.len() == before;
    if let (Some(names), Some(courses), true) = (names, &shape.courses, shape.all) {
        let file = if by_hand { courses::FILE } else { forms::FILE };
        warn_of_bare_panels(file, names, courses, found);
    }
    shape
}

fn warn_of_bare_panels(file: &str, names: &[String], courses: &[Course], found: &mut Found) {
    let mend = if file == courses::FILE {
        "Write its courses, or take the panel out of boat.toml."
    } else {
        "Write its girths under its name, or take the panel out of boat.toml."
    };
    for (place, name) in names.iter().enumerate() {
        if !courses.iter().any(|course| course.panel == PanelId(place)) {
            let wrong = format!("panel \"{name}\" has no course");
            found.warn(Complaint::of(file, wrong, mend));
        }
    }
}
