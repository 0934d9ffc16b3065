//! Courses that a person wrote or edited, and where they cross the forms all the same.

use super::lined::Lined;
use crate::hull::{Course, Crossing, Form, FormId};
use crate::units::{Length, S, X};

/// Gives each course its crossings with the forms.
///
/// Where forms and offsets tell of a course with the same name, its map from station to skin is taken over and
/// stretched to the length that the person wrote; else the skin is taken as even from end to end, as the planner does.
pub(super) fn with_crossings(
    mut courses: Vec<Course>,
    lined: &Lined,
    forms: &[Form],
    width: Option<Length>,
) -> Vec<Course> {
    for course in &mut courses {
        let derived = lined
            .laid
            .iter()
            .map(|laid| &laid.course)
            .find(|derived| derived.panel == course.panel && derived.name() == course.name());
        let inside = (0..)
            .map(FormId)
            .zip(forms)
            .filter(|(_, form)| course.from <= form.at && form.at <= course.to);
        course.crossings = inside
            .map(|(id, form)| match derived {
                Some(derived) => crossing(course, derived, id, form.at, forms),
                None => Crossing {
                    form: id,
                    at: course.s_at(form.at),
                    width: width.unwrap_or_default(),
                    bevel: None,
                },
            })
            .collect();
    }
    courses
}

/// Where an edited course crosses a form, by the course that was worked out under its name.
fn crossing(course: &Course, derived: &Course, form: FormId, at: X, forms: &[Form]) -> Crossing {
    let there = derived
        .crossings
        .iter()
        .find(|crossing| crossing.form == form);
    let stretched = |x: X| along(derived, x, forms);
    let (bow, stern) = (stretched(course.from), stretched(course.to));
    let span = (stern - bow).mm();
    let part = if span > 0.0 {
        (stretched(at) - bow).mm() / span
    } else {
        0.0
    };
    Crossing {
        form,
        at: S::at(course.length * part),
        width: there.map_or(Length::ZERO, |there| there.width),
        bevel: there.and_then(|there| there.bevel),
    }
}

/// How far a station lies along the skin of a course that knows its forms: straight from form to form.
fn along(course: &Course, x: X, forms: &[Form]) -> S {
    let mut known = vec![(course.from, S::ORIGIN)];
    known.extend(
        course
            .crossings
            .iter()
            .map(|crossing| (forms[crossing.form.0].at, crossing.at)),
    );
    known.push((course.to, S::at(course.length)));
    for pair in known.windows(2) {
        let ((x0, s0), (x1, s1)) = (pair[0], pair[1]);
        if x0 < x1 && x0 <= x && x <= x1 {
            return s0 + (s1 - s0) * ((x - x0).mm() / (x1 - x0).mm());
        }
    }
    course.s_at(x)
}
