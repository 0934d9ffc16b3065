//! offsets.csv: points on the skin at each form, from start line to stop line.

use super::cell::Cell;
use super::complaint::Complaint;
use super::forms::Forms;
use super::found::Found;
use super::nearest::did_you_mean;
use super::panels::PanelKeys;
use super::table::{self, Row, Rows, each_row};
use super::text::decode;
use super::wide;
use crate::hull::{FormId, PanelId};
use crate::lines::{Bend, Curve, Measured, Ordinate, misprints};
use crate::units::{Length, Slip, Unit};
use std::collections::BTreeMap;

pub(super) const FILE: &str = "offsets.csv";

pub(super) const SHEET: table::Form<'static> = table::Form {
    file: FILE,
    columns: &[
        "form",
        "panel",
        "point",
        "half_breadth",
        "height",
        "knuckle",
        "line",
    ],
    required: &["form", "panel", "point", "half_breadth", "height"],
    rows: Rows::AtLeastOne,
};

/// What may stand under `knuckle`.
const BENDS: [(&str, Bend); 4] = [
    ("yes", Bend::Knuckle),
    ("x", Bend::Knuckle),
    ("knuckle", Bend::Knuckle),
    ("no", Bend::Smooth),
];

/// A half-breadth or a height, and where it was written; a line of the grid is written nowhere.
#[derive(Clone, Default)]
pub(super) struct Figure {
    pub(super) length: Length,
    pub(super) written: Option<(usize, String, String)>,
}

impl Figure {
    pub(super) fn seen(length: Length, cell: &Cell<'_>) -> Figure {
        Figure {
            length,
            written: Some((cell.line, cell.column.into(), cell.text.into())),
        }
    }

    pub(super) fn given(length: Length) -> Figure {
        Figure {
            length,
            written: None,
        }
    }

    pub(super) fn complaint(&self, wrong: impl Into<String>, mend: impl Into<String>) -> Complaint {
        let complaint = Complaint::of(FILE, wrong, mend);
        match &self.written {
            Some((line, column, seen)) => complaint.at(*line).under(column).showing(seen),
            None => complaint,
        }
    }
}

/// A point of a section.
pub(super) struct Point {
    pub(super) half_breadth: Figure,
    pub(super) height: Figure,
    pub(super) bend: Bend,
    /// What the line that it lies on is called; empty where that is not told.
    pub(super) name: String,
}

impl Point {
    fn line(&self) -> usize {
        let written = self
            .height
            .written
            .as_ref()
            .or(self.half_breadth.written.as_ref());
        written.map_or(1, |(line, ..)| *line)
    }

    fn place(&self) -> [f64; 2] {
        [self.half_breadth.length.mm(), self.height.length.mm()]
    }
}

/// Points by panel, form and number.
pub(super) type Points = BTreeMap<(usize, FormId), BTreeMap<u32, Point>>;

/// What offsets.csv says.
#[derive(Default)]
pub(super) struct Offsets {
    /// The sections of each panel of boat.toml, by form.
    pub(super) sections: Vec<BTreeMap<FormId, Curve>>,
    /// Every point, by panel, form and number.
    pub(super) points: Vec<Measured>,
    /// Whether it was a table as it is printed.
    pub(super) wide: bool,
}

/// Reads offsets.csv, in either layout, against the forms and the panels.
pub(super) fn read(
    bytes: &[u8],
    forms: &Forms,
    panels: &[PanelKeys],
    unit: Unit,
    found: &mut Found,
) -> Offsets {
    let mut points = Points::new();
    let before = found.complaints.len();
    let text = decode(FILE, bytes, &mut Found::default());
    let wide = text.and_then(|text| wide::recognised(&text, forms));
    let is_wide = wide.is_some();
    match wide {
        Some((records, decimal)) => {
            let all: Vec<wide::Panel<'_>> = panels
                .iter()
                .map(|keys| (keys.panel.name.as_str(), keys.panel.toward))
                .collect();
            points = wide::read(&records, forms, &all, (unit, decimal), found);
        }
        None => {
            let names: Vec<String> = panels.iter().map(|keys| keys.panel.name.clone()).collect();
            each_row(&SHEET, bytes, unit, found, |row, found| {
                take(row, forms, &names, &mut points, found);
            });
        }
    }
    one_for_the_unit(before, found);
    let doubtful = doubtful(&points, forms, unit);
    let mut offsets = Offsets {
        sections: vec![BTreeMap::new(); panels.len()],
        wide: is_wide,
        ..Offsets::default()
    };
    let mut told = Vec::new();
    for (key @ (panel, form), points) in &points {
        let x = forms.forms[form.0].at.mm();
        complain_of_holes(points, found);
        let doubts = || {
            doubtful
                .iter()
                .filter(|doubt| (doubt.panel, doubt.form) == *key)
        };
        if doubts().next().is_none() || is_sound(points) {
            complain_of_turns(points, found);
            told.extend(doubts().map(|doubt| doubt.complaint.clone()));
        } else {
            // What stands out is what makes the section double back: said once.
            found
                .complaints
                .extend(doubts().map(|doubt| doubt.complaint.clone()));
        }
        let curve: Vec<([f64; 3], Bend)> = points
            .values()
            .map(|point| ([x, point.place()[0], point.place()[1]], point.bend))
            .collect();
        offsets.sections[*panel].insert(*form, Curve::section(&curve));
        offsets
            .points
            .extend(points.iter().map(|(number, point)| Measured {
                panel: PanelId(*panel),
                form: *form,
                number: *number,
                line: point.name.clone(),
                half_breadth: point.half_breadth.length,
                height: point.height.length,
                bend: point.bend,
                doubtful: doubts().any(|doubt| doubt.number == *number),
            }));
    }
    found.warnings.extend(told);
    offsets
}

/// A figure that stands out from its neighbours.
struct Doubtful {
    panel: usize,
    form: FormId,
    number: u32,
    complaint: Complaint,
}

/// To what offsets are usually given. Common practice, no source: eighths of an inch, and whole millimetres that were
/// measured to two.
const fn grain(unit: Unit) -> f64 {
    match unit {
        Unit::Mm => 2.0,
        Unit::Inch => 25.4 / 8.0,
    }
}

/// The figures of all panels that stand out, over each run of forms with as many points.
fn doubtful(points: &Points, forms: &Forms, unit: Unit) -> Vec<Doubtful> {
    let all: Vec<_> = points.iter().collect();
    let runs =
        all.chunk_by(|(one, few), (other, more)| one.0 == other.0 && few.len() == more.len());
    let mut doubtful = Vec::new();
    for run in runs {
        let x: Vec<f64> = run
            .iter()
            .map(|((_, form), _)| forms.forms[form.0].at.mm())
            .collect();
        let sections: Vec<Vec<[f64; 2]>> = run
            .iter()
            .map(|(_, points)| points.values().map(Point::place).collect())
            .collect();
        if x.windows(2).any(|pair| pair[0] >= pair[1]) {
            continue;
        }
        for misprint in misprints(&x, &sections, grain(unit)) {
            let ((panel, form), points) = run[misprint.form];
            let Some((number, point)) = points.iter().nth(misprint.point) else {
                continue;
            };
            let figure = match misprint.ordinate {
                Ordinate::HalfBreadth => &point.half_breadth,
                Ordinate::Height => &point.height,
            };
            let fits = Length::from_mm((misprint.fits / grain(unit)).round() * grain(unit));
            let name = match point.name.as_str() {
                "" => format!("point {number}"),
                name => format!("\"{name}\""),
            };
            let wrong = format!(
                "at form {}, {name}, is {} off its neighbours",
                forms.forms[form.0].name,
                unit.shop((figure.length - fits).abs())
            );
            let mend = format!(
                "{} would fit; look at the drawing, or measure again.",
                unit.shop(fits)
            );
            doubtful.push(Doubtful {
                panel: *panel,
                form: *form,
                number: *number,
                complaint: figure.complaint(wrong, mend),
            });
        }
    }
    doubtful
}

/// A whole table in another unit is one slip, and is complained of once.
fn one_for_the_unit(before: usize, found: &mut Found) {
    let slip = Slip::BareFraction.to_string();
    let mut same = found.complaints.split_off(before);
    let of_unit = |complaint: &Complaint| complaint.wrong == slip;
    let count = same.iter().filter(|complaint| of_unit(complaint)).count();
    if count > 1 {
        let mut first = true;
        same.retain_mut(|complaint| {
            if !of_unit(complaint) {
                return true;
            }
            complaint.mend = format!(
                "So are {} more: the table is in inches, it seems. Write units = \"in\" in boat.toml, or the unit \
                behind \
                 each.",
                count - 1
            );
            std::mem::take(&mut first)
        });
    }
    found.complaints.append(&mut same);
}

fn take(row: &Row<'_>, forms: &Forms, panels: &[String], points: &mut Points, found: &mut Found) {
    let form = form(row, forms, found);
    let panel = row.cell("panel").panel(panels, found);
    let number = row.cell("point").counted(found);
    let cell = row.cell("half_breadth");
    let half_breadth = cell.offset(found);
    if half_breadth.is_some_and(|length| length < Length::ZERO) {
        cell.complain(
            found,
            "is negative",
            "Write the distance from the centreplane; both sides are alike.",
        );
    }
    let figure =
        |cell: &Cell<'_>, length: Option<Length>| Figure::seen(length.unwrap_or_default(), cell);
    let half_breadth = figure(&cell, half_breadth);
    let cell = row.cell("height");
    let height = cell.offset(found);
    let height = figure(&cell, height);
    let bend = row.cell("knuckle").word_or_default(&BENDS, found);
    let (Some(form), Some(panel), Some(number)) = (form, panel, number) else {
        return;
    };
    let section = points.entry((panel, form)).or_default();
    if let Some(first) = section.get(&number) {
        row.cell("point").complain(
            found,
            format!("is there twice: line {} has the same point", first.line()),
            "Number the points of a section 1, 2, 3 and so on from start line to stop line.",
        );
    }
    // A point that can't be read takes its place all the same, so that nothing more is said of a hole.
    section.entry(number).or_insert(Point {
        half_breadth,
        height,
        name: row.cell("line").text.to_owned(),
        bend: bend.unwrap_or_default(),
    });
}

fn form(row: &Row<'_>, forms: &Forms, found: &mut Found) -> Option<FormId> {
    let cell = row.cell("form");
    let place = forms.forms.iter().position(|form| form.name == cell.text);
    if place.is_none() {
        let known = forms.forms.iter().map(|form| form.name.as_str());
        let mend = did_you_mean(cell.text, known)
            .unwrap_or_else(|| "Write the name of a form of forms.csv.".into());
        cell.complain(found, "is not a form of forms.csv", mend);
    }
    place.map(FormId)
}

fn complain_of_holes(points: &BTreeMap<u32, Point>, found: &mut Found) {
    for (expected, (number, point)) in (1_u32..).zip(points) {
        if *number != expected {
            let wrong = format!("comes after a hole: point {expected} of its section is missing");
            let mend =
                "Number the points of a section 1, 2, 3 and so on from start line to stop line.";
            let complaint = Complaint::of(FILE, wrong, mend).at(point.line());
            found.complain(complaint.under("point").showing(number.to_string()));
            return;
        }
    }
}

/// Whether nothing is to be said of the turns of a section.
fn is_sound(points: &BTreeMap<u32, Point>) -> bool {
    let mut found = Found::default();
    complain_of_turns(points, &mut found);
    found.complaints.is_empty()
}

/// Two points on one spot, or a section that turns back on itself: by more than a right angle from one point to the
/// next.
fn complain_of_turns(points: &BTreeMap<u32, Point>, found: &mut Found) {
    let places: Vec<(f64, f64, usize)> = points
        .values()
        .map(|point| (point.place()[0], point.place()[1], point.line()))
        .collect();
    let steps: Vec<(f64, f64, usize)> = places
        .windows(2)
        .map(|pair| (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1, pair[1].2))
        .collect();
    for (y, z, line) in &steps {
        if *y == 0.0 && *z == 0.0 {
            let wrong = "the point lies where the one before it lies";
            let mend = "Leave one of the two out.";
            found.complain(Complaint::of(FILE, wrong, mend).at(*line));
        }
    }
    for pair in steps.windows(2) {
        let straight_on = pair[0].0 * pair[1].0 + pair[0].1 * pair[1].1;
        if straight_on < 0.0 {
            let wrong = "the section doubles back at the point before this one";
            let mend = "Write the points in order from start line to stop line; where the skin turns back, end one \
            panel \
                        there and begin the next.";
            found.complain(Complaint::of(FILE, wrong, mend).at(pair[1].2));
        }
    }
}
