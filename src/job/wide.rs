//! offsets.csv as it is printed: a row for each line of the drawing, a column for each form.

use super::cell::Cell;
use super::complaint::Complaint;
use super::forms::Forms;
use super::found::Found;
use super::offsets::{FILE, Figure, Point, Points};
use super::split::column_name;
use super::split::{Record, delimiter, records};
use crate::hull::{FormId, Toward};
use crate::lines::{Bend, Fair};
use crate::units::parse::{self, Decimal};
use crate::units::{Length, Unit};
use std::collections::BTreeMap;

/// A panel that points may belong to: its name, and which way its sections run.
pub(super) type Panel<'p> = (&'p str, Toward);

/// Points nearer to each other than this are one. Unit: mm. Common practice, no source: printed offsets are coarser.
const ONE: f64 = 0.5;

/// The rows of a wide table, where the text is one: its header has forms as columns, and no column for points.
pub(super) fn recognised(text: &str, forms: &Forms) -> Option<(Vec<Record>, Decimal)> {
    let is_form = |name: &str| forms.forms.iter().any(|form| form.name == name);
    let delimiter = delimiter(text, is_form);
    let decimal = match delimiter {
        b';' => Decimal::PointOrComma,
        _ => Decimal::Point,
    };
    let records = records(text, delimiter).ok()?;
    let header = &records.first()?.fields;
    let long = header.iter().any(|name| column_name(name) == "point");
    let wide = header.iter().skip(1).filter(|name| is_form(name)).count() > 1;
    (wide && !long).then_some((records, decimal))
}

/// What the rows under a heading give.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Given {
    HalfBreadths,
    Heights,
    Diagonals,
    /// Of a stem: heights, and how far from the bow it is there.
    Profile,
}

/// What is given of one panel.
#[derive(Default)]
struct Sheet {
    /// Names of lines in the order in which they were first given.
    names: Vec<String>,
    half_breadths: BTreeMap<String, Row>,
    heights: BTreeMap<String, Row>,
    diagonals: Vec<(String, Length, f64, Row)>,
    profiles: Vec<Vec<(f64, f64)>>,
}

type Row = BTreeMap<FormId, Figure>;

/// Puts the rows of a wide table together into sections, in order round each.
pub(super) fn read(
    records: &[Record],
    forms: &Forms,
    panels: &[Panel<'_>],
    (unit, decimal): (Unit, Decimal),
    found: &mut Found,
) -> Points {
    let mut sheets: BTreeMap<usize, Sheet> = BTreeMap::new();
    let Some((header, rows)) = records.split_first() else {
        return Points::new();
    };
    let columns = columns(header, forms, found);
    let mut panel = (panels.len() == 1).then_some(0);
    let mut given = None;
    for record in rows {
        let label = record.fields.first().map_or("", String::as_str);
        let complain = |found: &mut Found, wrong: &str, mend: &str| {
            let complaint = Complaint::of(FILE, wrong, mend).at(record.line);
            found.complain(complaint.showing(label));
        };
        if record.fields.iter().skip(1).all(String::is_empty) {
            let word = label.to_lowercase();
            let name = word.strip_prefix("panel ").unwrap_or(&word).trim();
            let heading = heading(&word);
            match panels
                .iter()
                .position(|(panel, _)| panel.to_lowercase() == name)
            {
                Some(place) => panel = Some(place),
                None if heading.is_some() => {
                    given = heading;
                    if let (Some(Given::Profile), Some(panel)) = (given, panel) {
                        sheets.entry(panel).or_default().profiles.push(Vec::new());
                    }
                }
                None => complain(
                    found,
                    "is neither a heading nor a row of offsets",
                    "Headings are half-breadths, heights, diagonals, bow profile, stern profile, and the names of \
                    panels.",
                ),
            }
            continue;
        }
        let (Some(panel), Some(given)) = (panel, given) else {
            complain(
                found,
                "stands under no heading that says what it gives, and of which panel",
                "Write half-breadths or heights on a row of its own above it; with several panels, the panel's name \
                first.",
            );
            return Points::new();
        };
        let mut row = Row::new();
        let mut at_bow = None;
        for (text, form) in record.fields.iter().skip(1).zip(&columns) {
            if matches!(text.as_str(), "" | "-" | "–" | "—" | "." | "..") {
                continue;
            }
            let cell = Cell {
                file: FILE,
                line: record.line,
                column: form.map_or("", |form| &forms.forms[form.0].name),
                text,
                silent: false,
                decimal,
                unit,
            };
            let Some(length) = cell.offset(found) else {
                continue;
            };
            at_bow = at_bow.or(Some(length));
            if let Some(form) = form {
                row.insert(*form, Figure::seen(length, &cell));
            }
        }
        let sheet = sheets.entry(panel).or_default();
        let name = label.to_lowercase();
        if given != Given::Profile && !sheet.names.contains(&name) {
            sheet.names.push(name.clone());
        }
        let height = |text: &str| of_grid(text, unit, decimal);
        match given {
            Given::HalfBreadths => {
                sheet.half_breadths.insert(name, row);
            }
            Given::Heights => {
                sheet.heights.insert(name, row);
            }
            Given::Diagonals => match diagonal(label, height) {
                Some((up, slope)) => sheet.diagonals.push((name, up, slope, row)),
                None => complain(
                    found,
                    "does not say where the diagonal lies",
                    "Write its height on the centreline and how steeply it falls, in degrees: A 18 at 45.",
                ),
            },
            Given::Profile => match (height(label), at_bow, sheet.profiles.last_mut()) {
                (Some(height), Some(at), Some(profile)) => profile.push((at.mm(), height.mm())),
                _ => complain(
                    found,
                    "is no height of the stem",
                    "Write a height, and behind it how far from the bow the stem is there.",
                ),
            },
        }
    }
    let mut points = Points::new();
    for (panel, sheet) in sheets {
        for (id, form) in (0..).map(FormId).zip(&forms.forms) {
            let section = sheet.section(id, form.at.mm(), (unit, decimal), panels[panel].1, found);
            if !section.is_empty() {
                points.insert((panel, id), (1..).zip(section).collect());
            }
        }
    }
    points
}

/// The form of each column but the first.
fn columns(header: &Record, forms: &Forms, found: &mut Found) -> Vec<Option<FormId>> {
    let columns = header.fields.iter().skip(1).map(|name| {
        let place = forms.forms.iter().position(|form| form.name == *name);
        if place.is_none() && !name.is_empty() {
            let mend = "Write the names of forms.csv over the columns; add a form there where one is missing.";
            let complaint = Complaint::of(FILE, "is not a form of forms.csv", mend);
            found.complain(complaint.at(header.line).showing(name.as_str()));
        }
        place.map(FormId)
    });
    columns.collect()
}

fn heading(word: &str) -> Option<Given> {
    let is = |part: &str| word.contains(part);
    if is("half") {
        Some(Given::HalfBreadths)
    } else if is("height") {
        Some(Given::Heights)
    } else if is("diagonal") {
        Some(Given::Diagonals)
    } else if is("profile") {
        Some(Given::Profile)
    } else {
        None
    }
}

/// What a line of the grid is called is how high it lies, or how far out: `6in`, `WL 6`, `buttock 0-3-0`.
fn of_grid(text: &str, unit: Unit, decimal: Decimal) -> Option<Length> {
    let bare = text.trim_start_matches(|c: char| c.is_alphabetic() || c == '.' || c == ' ');
    parse::offset(bare, unit, decimal).ok()
}

/// Where a diagonal meets the centreplane, and how steeply it falls outboard. Unit: radian.
fn diagonal(label: &str, height: impl Fn(&str) -> Option<Length>) -> Option<(Length, f64)> {
    let (up, slope) = label.rsplit_once(" at ")?;
    let up = height(up.rsplit_once(' ').map_or(up, |(_, up)| up))?;
    let degrees: f64 = slope.trim().trim_end_matches('°').parse().ok()?;
    (degrees > 0.0 && degrees < 90.0).then_some((up, degrees.to_radians()))
}

impl Sheet {
    /// The points of one section in order round it.
    fn section(
        &self,
        form: FormId,
        x: f64,
        (unit, decimal): (Unit, Decimal),
        toward: Toward,
        found: &mut Found,
    ) -> Vec<Point> {
        let mut points = Vec::new();
        for name in &self.names {
            let half_breadth = self.half_breadths.get(name).map(|row| row.get(&form));
            let height = self.heights.get(name).map(|row| row.get(&form));
            let level = || of_grid(name, unit, decimal).map(Figure::given);
            let (half_breadth, height) = match (half_breadth, height) {
                (Some(Some(y)), Some(Some(z))) => (y.clone(), z.clone()),
                (Some(None), Some(Some(other))) | (Some(Some(other)), Some(None)) => {
                    let wrong = format!(
                        "\"{name}\" has a height or a half-breadth at this form and not the other"
                    );
                    let mend = "Write both, or leave both empty.";
                    found.complain(other.complaint(wrong, mend));
                    continue;
                }
                (Some(Some(y)), None) => match level() {
                    Some(z) => (y.clone(), z),
                    None => {
                        let wrong = format!("\"{name}\" has half-breadths and no heights");
                        let mend =
                            "Give it a row under heights, or call a waterline by its height.";
                        found.complain(y.complaint(wrong, mend));
                        continue;
                    }
                },
                // A line of which only heights are given lies on the centreplane: a rabbet, a keel.
                (None, Some(Some(z))) => {
                    (level().unwrap_or(Figure::given(Length::ZERO)), z.clone())
                }
                _ => continue,
            };
            points.push(Point {
                half_breadth,
                height,
                bend: bend(name),
                name: name.clone(),
            });
        }
        for (name, up, slope, row) in &self.diagonals {
            if let Some(out) = row.get(&form) {
                let along = out.length;
                points.push(Point {
                    half_breadth: Figure {
                        length: along * slope.cos(),
                        ..out.clone()
                    },
                    height: Figure::given(*up - along * slope.sin()),
                    bend: Bend::Smooth,
                    name: name.clone(),
                });
            }
        }
        let stem = |profile: &Vec<(f64, f64)>| {
            let mut profile = profile.clone();
            profile.sort_by(|one, other| one.0.total_cmp(&other.0));
            profile.dedup_by(|one, other| one.0 == other.0);
            let (first, last) = (profile.first()?.0, profile.last()?.0);
            (profile.len() > 1 && first <= x && x <= last).then(|| Fair::through(&profile).at(x))
        };
        for height in self.profiles.iter().filter_map(stem) {
            points.push(Point {
                half_breadth: Figure::given(Length::ZERO),
                height: Figure::given(Length::from_mm(height)),
                bend: Bend::Smooth,
                name: "stem".into(),
            });
        }
        in_order(points, toward)
    }
}

/// A line that is called a chine or a knuckle is one.
fn bend(name: &str) -> Bend {
    match ["chine", "knuckle"].iter().any(|word| name.contains(word)) {
        true => Bend::Knuckle,
        false => Bend::Smooth,
    }
}

/// From the sheer round to the keel, or back: by the angle at which each point is seen from the centreplane at the
/// height of the highest. Of two on one spot the first given is kept.
fn in_order(mut points: Vec<Point>, toward: Toward) -> Vec<Point> {
    let place = |point: &Point| [point.half_breadth.length.mm(), point.height.length.mm()];
    let top = points
        .iter()
        .map(|point| place(point)[1])
        .fold(f64::NEG_INFINITY, f64::max);
    let seen = |point: &Point| {
        let [y, z] = place(point);
        (top - z).atan2(y)
    };
    points.sort_by(|one, other| seen(one).total_cmp(&seen(other)));
    points.dedup_by(|next, kept| {
        let ([y, z], [v, w]) = (place(next), place(kept));
        (y - v).hypot(z - w) < ONE
    });
    if toward == Toward::Deck {
        points.reverse();
    }
    points
}
