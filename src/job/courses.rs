//! courses.csv: every row of planking, as the builder measured it.

use super::complaint::Complaint;
use super::found::Found;
use super::stretches;
use super::table::{Form, Row, Rows, each_row};
use crate::hull::{Course, CourseName, End, Kind, PanelId};
use crate::units::{Length, Unit, X};
use std::collections::BTreeMap;

pub(super) const FILE: &str = "courses.csv";

pub(super) const FORM: Form = Form {
    file: FILE,
    columns: &[
        "panel",
        "course",
        "kind",
        "from",
        "to",
        "length",
        "bow_end",
        "stern_end",
    ],
    required: &["panel", "course", "from", "to"],
    rows: Rows::AtLeastOne,
};

const KINDS: [(&str, Kind); 2] = [("mirrored", Kind::Mirrored), ("centre", Kind::Centre)];
const ENDS: [(&str, End); 2] = [
    (End::Fitted.name(), End::Fitted),
    (End::Free.name(), End::Free),
];

/// A course longer than this is most likely a slip of units. Unit: metre. Common practice, no source: strip-built boats
/// are small.
const LONG_COURSE_M: f64 = 30.0;

/// A skin length may fall short of the distance along the boat by this much without a warning: rounding. Unit: mm.
const ROUNDING_MM: f64 = 0.5;

/// Reads courses.csv. Without `panels` (boat.toml could not be read) the panels' names are taken as they come.
///
/// The courses come sorted by panel and number.
pub(super) fn read(
    bytes: &[u8],
    panels: Option<&[String]>,
    unit: Unit,
    found: &mut Found,
) -> Vec<Course> {
    let mut courses: BTreeMap<(PanelId, CourseName), (usize, Course)> = BTreeMap::new();
    let mut seen_lines: BTreeMap<(String, CourseName), usize> = BTreeMap::new();
    let mut holes_matter = true;
    each_row(&FORM, bytes, unit, found, |row, found| {
        let name = row.cell("course").course(found);
        let read = course(row, name, panels, found);
        let panel_name = row.cell("panel").text.to_owned();
        // A row whose panel or number can't be read may be the one that would fill a hole.
        let known = row.sound && panels.is_none_or(|names| names.contains(&panel_name));
        let Some(name) = name.filter(|_| known) else {
            holes_matter = false;
            return;
        };
        if let Some(first) = seen_lines.get(&(panel_name.clone(), name)) {
            row.cell("course").complain(
                found,
                format!(
                    "is there twice: line {first} has the same course of panel \"{panel_name}\""
                ),
                "Give each course of a panel its own number.",
            );
            return;
        }
        seen_lines.insert((panel_name, name), row.line);
        if let Some(course) = read {
            courses.insert((course.panel, course.name()), (row.line, course));
        }
    });
    if holes_matter {
        complain_of_holes(&seen_lines, found);
    }
    stretches::look_at(&courses, found);
    warn_of_centres(&courses, found);
    courses.into_values().map(|(_, course)| course).collect()
}

fn course(
    row: &Row<'_>,
    name: Option<CourseName>,
    panels: Option<&[String]>,
    found: &mut Found,
) -> Option<Course> {
    let panel = panel(row, panels, found);
    let kind = row.cell("kind").word_or_default(&KINDS, found);
    let from = row.cell("from").length(found).map(X::at);
    let to = row.cell("to").length(found).map(X::at);
    let length = match row.cell("length") {
        cell if cell.is_empty() => None,
        cell => cell.positive_length(found),
    };
    let bow_end = row.cell("bow_end").word_or_default(&ENDS, found);
    let stern_end = row.cell("stern_end").word_or_default(&ENDS, found);
    let (from, to) = (from?, to?);
    if from >= to {
        return row.cell("to").refuse(
            found,
            format!("is not aft of from, \"{}\"", row.cell("from").text),
            "Write from and to as distances from the bow, the course's bow end first.",
        );
    }
    let along = to - from;
    look_at_length(row, length, along, found);
    Some(Course {
        panel: panel?,
        number: name?.number,
        kind: kind?,
        from,
        to,
        length: length.unwrap_or(along),
        bow_end: bow_end?,
        stern_end: stern_end?,
        stretch: name?.stretch,
        crossings: Vec::new(),
    })
}

fn panel(row: &Row<'_>, panels: Option<&[String]>, found: &mut Found) -> Option<PanelId> {
    let cell = row.cell("panel");
    if cell.is_empty() {
        return cell.refuse(found, "is empty", "Write the name of a panel of boat.toml.");
    }
    // With no panels to go by, all that is asked is whether the rest of the row can be read.
    let Some(panels) = panels else {
        return Some(PanelId(0));
    };
    cell.panel(panels, found).map(PanelId)
}

fn look_at_length(row: &Row<'_>, length: Option<Length>, along: Length, found: &mut Found) {
    let cell = row.cell("length");
    let along_text = cell.unit.shop(along);
    match length {
        Some(length) if length + Length::from_mm(ROUNDING_MM) < along => cell.warn(
            found,
            format!("is shorter than the {along_text} from one end of the course to the other"),
            "A skin can't be shorter than the straight way: measure again, or leave length empty.",
        ),
        Some(length) if length > along * 2.0 => cell.warn(
            found,
            format!("is more than twice the {along_text} from one end of the course to the other"),
            "Look whether it is in the job's units.",
        ),
        _ => {}
    }
    if along.metres() > LONG_COURSE_M {
        row.cell("to").warn(
            found,
            format!(
                "makes a course of {}, most likely a slip of units",
                row.cell("to").unit.far(along)
            ),
            format!(
                "Bare numbers are in {}; write the unit behind a number in another.",
                cell.unit.spoken()
            ),
        );
    }
}

fn complain_of_holes(lines: &BTreeMap<(String, CourseName), usize>, found: &mut Found) {
    let mut last: Option<(&str, u32)> = None;
    for ((panel, name), line) in lines {
        let number = &name.number;
        let expected = match last {
            Some((same, before)) if same == panel => before.saturating_add(1),
            _ => 1,
        };
        if *number > expected {
            let missing = match number - expected {
                1 => format!("course {expected} of panel \"{panel}\" is missing"),
                _ => format!(
                    "courses {expected} to {} of panel \"{panel}\" are missing",
                    number - 1
                ),
            };
            let wrong = format!("comes after a hole: {missing}");
            let mend = "Number the courses of a panel 1, 2, 3 and so on from its start line.";
            let complaint = Complaint::of(FILE, wrong, mend).at(*line).under("course");
            found.complain(complaint.showing(name.to_string()));
        }
        last = Some((panel, *number));
    }
}

/// A course on the centreline has the port side on its one edge and the starboard side on its other: only the first or
/// the last course of a panel can lie so.
fn warn_of_centres(courses: &BTreeMap<(PanelId, CourseName), (usize, Course)>, found: &mut Found) {
    for ((panel, name), (line, course)) in courses {
        let has = |near: Option<u32>| {
            courses
                .keys()
                .any(|(other, name)| other == panel && Some(name.number) == near)
        };
        let inside = has(name.number.checked_sub(1)) && has(name.number.checked_add(1));
        if course.kind == Kind::Centre && inside {
            let wrong = "a centre course stands between two others, where only the first or the last of a panel can \
                         lie on the centreline";
            let complaint = Complaint::of(FILE, wrong, "Look at its number and kind.");
            found.warn(complaint.at(*line).under("kind"));
        }
    }
}
