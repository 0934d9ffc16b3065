//! offsets.csv: points on the skin at each form, from start line to stop line.

use super::complaint::{Complaint, Found};
use super::forms::Forms;
use super::nearest::{advice, nearest};
use super::table::{self, Need, Row, Rows, each_row};
use crate::hull::FormId;
use crate::lines::{Bend, Curve};
use crate::units::{Length, Unit};
use std::collections::BTreeMap;

pub(super) const FILE: &str = "offsets.csv";

const SHEET: table::Form<'static> = table::Form {
    file: FILE,
    columns: &[
        ("form", Need::Required),
        ("panel", Need::Required),
        ("point", Need::Required),
        ("half_breadth", Need::Required),
        ("height", Need::Required),
        ("knuckle", Need::Optional),
    ],
    rows: Rows::AtLeastOne,
};

/// What may stand under `knuckle`.
const BENDS: [(&str, Bend); 4] = [
    ("yes", Bend::Knuckle),
    ("x", Bend::Knuckle),
    ("knuckle", Bend::Knuckle),
    ("no", Bend::Smooth),
];

/// A point of a section: its line, and how far out from the centreplane and how high it lies.
struct Point {
    line: usize,
    half_breadth: Length,
    height: Length,
    bend: Bend,
}

/// The sections of each panel of boat.toml, by form.
pub(super) type Sections = Vec<BTreeMap<FormId, Curve>>;

/// Points by panel, form and number.
type Points = BTreeMap<(usize, FormId), BTreeMap<u32, Point>>;

/// Reads offsets.csv against the forms and the panels.
pub(super) fn read(
    bytes: &[u8],
    forms: &Forms,
    panels: &[String],
    unit: Unit,
    found: &mut Found,
) -> Sections {
    let mut points: Points = BTreeMap::new();
    each_row(&SHEET, bytes, unit, found, |row, found| {
        take(row, forms, panels, &mut points, found);
    });
    let mut sections: Sections = vec![BTreeMap::new(); panels.len()];
    for ((panel, form), points) in &points {
        let x = forms.forms[form.0].at.mm();
        complain_of_holes(points, found);
        complain_of_turns(points, found);
        let points: Vec<([f64; 3], Bend)> = points
            .values()
            .map(|point| {
                let place = [x, point.half_breadth.mm(), point.height.mm()];
                (place, point.bend)
            })
            .collect();
        sections[*panel].insert(*form, Curve::section(&points));
    }
    sections
}

fn take(row: &Row<'_>, forms: &Forms, panels: &[String], points: &mut Points, found: &mut Found) {
    let form = form(row, forms, found);
    let panel = panel(row, panels, found);
    let number = row.cell("point").counted(found);
    let cell = row.cell("half_breadth");
    let half_breadth = cell.length(found);
    if half_breadth.is_some_and(|length| length < Length::ZERO) {
        cell.complain(
            found,
            "is negative",
            "Write the distance from the centreplane; both sides are alike.",
        );
    }
    let height = row.cell("height").length(found);
    let bend = row.cell("knuckle").word_or_default(&BENDS, found);
    let (Some(form), Some(panel), Some(number)) = (form, panel, number) else {
        return;
    };
    let section = points.entry((panel, form)).or_default();
    if let Some(first) = section.get(&number) {
        row.cell("point").complain(
            found,
            format!("is there twice: line {} has the same point", first.line),
            "Number the points of a section 1, 2, 3 and so on from start line to stop line.",
        );
    }
    // A point that can't be read takes its place all the same, so that nothing more is said of a hole.
    section.entry(number).or_insert(Point {
        line: row.line,
        half_breadth: half_breadth.unwrap_or_default(),
        height: height.unwrap_or_default(),
        bend: bend.unwrap_or_default(),
    });
}

fn form(row: &Row<'_>, forms: &Forms, found: &mut Found) -> Option<FormId> {
    let cell = row.cell("form");
    let place = forms.forms.iter().position(|form| form.name == cell.text);
    if place.is_none() {
        let known = forms.forms.iter().map(|form| form.name.as_str());
        let mend = match nearest(cell.text, known) {
            Some(like) => format!("Did you mean \"{like}\"?"),
            None => "Write the name of a form of forms.csv.".into(),
        };
        cell.complain(found, "is not a form of forms.csv", mend);
    }
    place.map(FormId)
}

fn panel(row: &Row<'_>, panels: &[String], found: &mut Found) -> Option<usize> {
    let cell = row.cell("panel");
    let place = panels.iter().position(|name| name == cell.text);
    if place.is_none() {
        let known: Vec<&str> = panels.iter().map(String::as_str).collect();
        cell.complain(
            found,
            "is not a panel of boat.toml",
            advice(cell.text, &known),
        );
    }
    place
}

fn complain_of_holes(points: &BTreeMap<u32, Point>, found: &mut Found) {
    for (expected, (number, point)) in (1_u32..).zip(points) {
        if *number != expected {
            let wrong = format!("comes after a hole: point {expected} of its section is missing");
            let mend =
                "Number the points of a section 1, 2, 3 and so on from start line to stop line.";
            let complaint = Complaint::of(FILE, wrong, mend).at(point.line);
            found
                .complaints
                .push(complaint.under("point").showing(number.to_string()));
            return;
        }
    }
}

/// Two points on one spot, or a section that turns back on itself: by more than a right angle from one point to the
/// next.
fn complain_of_turns(points: &BTreeMap<u32, Point>, found: &mut Found) {
    let places: Vec<(f64, f64, usize)> = points
        .values()
        .map(|point| (point.half_breadth.mm(), point.height.mm(), point.line))
        .collect();
    let steps: Vec<(f64, f64, usize)> = places
        .windows(2)
        .map(|pair| (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1, pair[1].2))
        .collect();
    for (y, z, line) in &steps {
        if *y == 0.0 && *z == 0.0 {
            let wrong = "the point lies where the one before it lies";
            let mend = "Leave one of the two out.";
            found
                .complaints
                .push(Complaint::of(FILE, wrong, mend).at(*line));
        }
    }
    for pair in steps.windows(2) {
        let straight_on = pair[0].0 * pair[1].0 + pair[0].1 * pair[1].1;
        if straight_on < 0.0 {
            let wrong = "the section doubles back at the point before this one";
            let mend = "Write the points in order from start line to stop line; where the skin turns back, end one panel \
                        there and begin the next.";
            found
                .complaints
                .push(Complaint::of(FILE, wrong, mend).at(pair[1].2));
        }
    }
}
