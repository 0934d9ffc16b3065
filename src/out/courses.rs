//! out/courses.csv, out/ends.csv, out/bevels.csv: what was worked out from forms and offsets.

use super::{Fault, in_64ths, sheet, with_64ths};
use crate::hull::Kind;
use crate::job::{Lines, columns};
use crate::lines::{Bend, Fit, Taper, gape, radius};
use crate::units::Length;

/// The courses, in the form in which a person writes them: copied into the job folder and edited, they count. Source
/// of the columns: the formats, courses.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn courses_csv(lines: &Lines) -> Result<Vec<u8>, Fault> {
    let rows = lines.laid.iter().map(|laid| {
        let course = &laid.course;
        let length = |length| lines.unit.exact(length);
        vec![
            lines.hull.panel(course.panel).name.clone(),
            course.name().to_string(),
            kind(course.kind).into(),
            length(course.from.from_origin()),
            length(course.to.from_origin()),
            length(course.length),
            course.bow_end.name().into(),
            course.stern_end.name().into(),
        ]
    });
    sheet("out/courses.csv", columns("courses.csv"), rows)
}

/// Every end that narrows, as points to join with a straight edge. Source of the columns: the formats, out/ends.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn ends_csv(lines: &Lines) -> Result<Vec<u8>, Fault> {
    let header = with_64ths(
        lines.unit,
        &[
            "panel", "course", "end", "meets", "point", "from_tip", "width", "loose",
        ],
        &["from_tip_64", "width_64"],
    );
    let mut rows = Vec::new();
    for laid in &lines.laid {
        let ends: [(&str, Fit, &Option<Taper>); 2] = [
            ("bow", laid.bow, &laid.bow_taper),
            ("stern", laid.stern, &laid.stern_taper),
        ];
        for (name, fit, taper) in ends {
            let points = taper.iter().flat_map(|taper| {
                let loose = if taper.is_loose(lines.rules.thickness.mm()) {
                    lines.unit.gauge(taper.sliver)
                } else {
                    String::new()
                };
                taper.line.iter().map(move |point| (point, loose.clone()))
            });
            for (i, ((from_tip, width), loose)) in points.enumerate() {
                let mut row = vec![
                    lines.hull.panel(laid.course.panel).name.clone(),
                    laid.course.name().to_string(),
                    name.into(),
                    fit.name().into(),
                    (i + 1).to_string(),
                    lines.unit.gauge(*from_tip),
                    lines.unit.gauge(*width),
                    loose,
                ];
                let lengths = [*from_tip, *width].map(Length::from_mm);
                row.extend(in_64ths(lines.unit, &lengths));
                rows.push(row);
            }
        }
    }
    sheet("out/ends.csv", &header, rows)
}

/// Every course at every form: its width, and the bevel to the next course. Source of the columns: the formats,
/// out/bevels.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn bevels_csv(lines: &Lines) -> Result<Vec<u8>, Fault> {
    let header = with_64ths(
        lines.unit,
        &[
            "panel", "course", "form", "s", "width", "bevel", "radius", "gape",
        ],
        &["s_64", "width_64"],
    );
    let width = lines.rules.width.mm();
    let mut rows = Vec::new();
    for laid in &lines.laid {
        for crossing in &laid.course.crossings {
            let bevel = crossing.bevel;
            let radius = bevel.map(|bevel| radius(width, bevel));
            let gape =
                bevel.map(|bevel| gape(lines.rules.edges, lines.rules.thickness.mm(), bevel));
            let mut row = vec![
                lines.hull.panel(laid.course.panel).name.clone(),
                laid.course.name().to_string(),
                lines.hull.forms[crossing.form.0].name.clone(),
                lines.unit.exact(crossing.at.from_origin()),
                lines.unit.exact(crossing.width),
                bevel.map_or(String::new(), |bevel| format!("{bevel:.1}")),
                radius
                    .filter(|radius| *radius < FLAT)
                    .map_or(String::new(), |radius| lines.unit.gauge(radius)),
                gape.map_or(String::new(), |gape| lines.unit.gauge(gape)),
            ];
            let lengths = [crossing.at.from_origin(), crossing.width];
            row.extend(in_64ths(lines.unit, &lengths));
            rows.push(row);
        }
    }
    sheet("out/bevels.csv", &header, rows)
}

/// The points of the sections one by one, in the long form of offsets.csv. Source of the columns: the formats,
/// offsets.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn offsets_csv(lines: &Lines) -> Result<Vec<u8>, Fault> {
    let rows = lines.points.iter().map(|point| {
        let knuckle = match point.bend {
            Bend::Smooth => "",
            Bend::Knuckle => "yes",
        };
        vec![
            lines.hull.forms[point.form.0].name.clone(),
            lines.hull.panel(point.panel).name.clone(),
            point.number.to_string(),
            lines.unit.exact(point.half_breadth),
            lines.unit.exact(point.height),
            knuckle.into(),
            point.line.clone(),
        ]
    });
    sheet("out/offsets.csv", columns("offsets.csv"), rows)
}

/// A larger radius than this is none. Unit: mm.
const FLAT: f64 = 100_000.0;

const fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Mirrored => "mirrored",
        Kind::Centre => "centre",
    }
}
