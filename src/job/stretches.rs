//! Bands that are cut in two: whether the stretches of courses.csv make sense together.

use super::complaint::Complaint;
use super::courses::FILE;
use super::found::Found;
use crate::hull::{Course, CourseName, PanelId, Stretch};
use std::collections::BTreeMap;

/// Complains of bands that are there both whole and in stretches, of letters left out, and of stretches that overlap.
pub(super) fn look_at(
    courses: &BTreeMap<(PanelId, CourseName), (usize, Course)>,
    found: &mut Found,
) {
    let mut last: Option<(&Course, u8)> = None;
    for (line, course) in courses.values() {
        let of_band = last
            .filter(|(before, _)| before.panel == course.panel && before.number == course.number);
        let complaint = |wrong: String, mend: &str| {
            Complaint::of(FILE, wrong, mend)
                .at(*line)
                .under("course")
                .showing(course.name().to_string())
        };
        let Stretch::Part(part) = course.stretch else {
            last = Some((course, 0));
            continue;
        };
        match of_band {
            Some((before, _)) if before.stretch == Stretch::Whole => {
                let wrong = format!(
                    "is a stretch of course {}, which is there whole",
                    course.number
                );
                let mend = "Give the whole band one row, or each of its stretches a letter.";
                found.complain(complaint(wrong, mend));
            }
            Some((before, _)) if before.to > course.from => {
                let wrong = format!("begins before stretch {} ends", before.name());
                let mend = "Letter the stretches of a band from the bow aft, one behind the other.";
                found.complain(complaint(wrong, mend));
            }
            _ => {}
        }
        let expected = of_band.map_or(0, |(_, next)| next);
        if part > expected {
            let wrong = "comes after a hole in the letters".to_owned();
            let mend = "Letter the stretches of a band a, b, c and so on from the bow aft.";
            found.complain(complaint(wrong, mend));
        }
        last = Some((course, part.saturating_add(1)));
    }
}
