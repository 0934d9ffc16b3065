//! The shape before there is any wood: the skin course by course, with the edges of courses, start line, stop line and
//! forms as lines on it.

use super::body::Body;
use super::edges::Edges;
use super::gltf::File;
use super::ribbon::OnSkin;
use crate::hull::{Kind, Side};
use crate::job::Lines;
use crate::lines::{Laid, PanelShape, Point};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Into how many parts a section is cut to be drawn.
const PARTS: u32 = 64;

/// What is seen: its colour, as red, green and blue of light. The order is that of the materials in the file.
const LOOKS: [(&str, [f64; 3]); 5] = [
    ("skin", [0.82, 0.78, 0.69]),
    ("edge of a course", [0.16, 0.12, 0.08]),
    ("form", [0.02, 0.20, 0.55]),
    ("start line", [0.0, 0.30, 0.06]),
    ("stop line", [0.60, 0.03, 0.02]),
];
const SKIN: usize = 0;
const EDGE: usize = 1;
const FORM: usize = 2;
const START: usize = 3;
const STOP: usize = 4;

/// The shape as glTF; `None` where no panel has offsets.
pub fn write(lines: &Lines) -> Option<Vec<u8>> {
    let width = lines.rules.width.mm();
    let mut file = File::default();
    let mut sides: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    let mut put = |side: Side, node: usize| sides.entry(side.name()).or_default().push(node);
    for told in &lines.told {
        let Some(edges) = Edges::of(told, width) else {
            continue;
        };
        let panel = &lines.hull.panel(told.panel).name;
        let own = |laid: &&Laid| laid.course.panel == told.panel;
        for laid in lines.laid.iter().filter(own) {
            let Some(on_skin) = OnSkin::of(&edges, &laid.course) else {
                continue;
            };
            let bare = on_skin.bare();
            for side in laid.course.sides() {
                let lines_here: Vec<Vec<(Point, Point)>> = bare
                    .iter()
                    .map(|line| line.iter().map(|both| onto(*side, both)).collect())
                    .collect();
                let mesh = file.mesh(&Body::bare(&lines_here), None, SKIN);
                let name = format!("{} {panel} {}", side.name(), laid.course.name());
                let node = file.node(&name, vec![mesh], extras(*side, "skin", words(lines, laid)));
                put(*side, node);
                // The first course begins on the start line.
                if laid.course.number > 1 {
                    let middle = lines_here.len() / 2;
                    let edge = if laid.course.kind == Kind::Centre {
                        middle
                    } else {
                        0
                    };
                    let points: Vec<Point> = lines_here[edge].iter().map(|(at, _)| *at).collect();
                    let line = file.line(&points, EDGE);
                    let told = format!("{}: its edge toward the start line", course(lines, laid));
                    let told = extras(*side, "edge", told);
                    put(
                        *side,
                        file.node(&format!("edge of {name}"), vec![line], told),
                    );
                }
            }
        }
        for (name, points, look, words) in rules(lines, told) {
            for side in [Side::Port, Side::Starboard] {
                let points: Vec<Point> = points.iter().map(|at| mirrored(side, *at)).collect();
                let line = file.line(&points, look);
                let name = format!("{} {panel} {name}", side.name());
                let node = file.node(
                    &name,
                    vec![line],
                    extras(side, LOOKS[look].0, words.clone()),
                );
                put(side, node);
            }
        }
    }
    (!sides.is_empty()).then(|| {
        let scene = file.scene(&lines.name, &sides);
        file.written(json!({ "scene": 0, "scenes": [scene], "materials": materials() }))
    })
}

/// Start line, stop line and sections of a panel, for starboard: name, points, look, and what is said of each.
fn rules(lines: &Lines, told: &PanelShape) -> Vec<(String, Vec<Point>, usize, String)> {
    let sections = told.sections.iter().flatten();
    let panel = &lines.hull.panel(told.panel).name;
    let forms = sections.clone().zip(&told.forms).map(|(section, form)| {
        let point = |i: u32| section.at(section.length() * f64::from(i) / f64::from(PARTS));
        let form = &lines.hull.forms[form.0];
        let from_bow = lines.unit.shop(form.at.from_origin());
        let words = format!("Form {}, {from_bow} from the bow", form.name);
        (
            format!("form {}", form.name),
            (0..=PARTS).map(point).collect(),
            FORM,
            words,
        )
    });
    let mut all: Vec<_> = forms.collect();
    let ends = |of: fn(&crate::lines::Curve) -> Point| sections.clone().map(of).collect();
    let line = |name: &str, points, look| {
        (
            name.to_owned(),
            points,
            look,
            format!("The {name} of {panel}"),
        )
    };
    all.push(line("start line", ends(|section| section.at(0.0)), START));
    all.push(line(
        "stop line",
        ends(|section| section.at(section.length())),
        STOP,
    ));
    all
}

/// A place of starboard on another side, and which way the skin looks there.
fn onto(side: Side, (at, out): &(Point, Point)) -> (Point, Point) {
    (mirrored(side, *at), mirrored(side, *out))
}

fn mirrored(side: Side, [x, y, z]: Point) -> Point {
    match side {
        Side::Port => [x, -y, z],
        Side::Starboard | Side::Centre => [x, y, z],
    }
}

fn extras(side: Side, kind: &str, says: String) -> Value {
    json!({ "side": side.name(), "kind": kind, "says": says })
}

fn course(lines: &Lines, laid: &Laid) -> String {
    let panel = &lines.hull.panel(laid.course.panel).name;
    format!("{panel} course {}", laid.course.name())
}

/// What is said of a course.
fn words(lines: &Lines, laid: &Laid) -> String {
    let (course, at) = (course(lines, laid), &laid.course);
    let shop = |length| lines.unit.shop(length);
    let mut words = format!(
        "{course}\n{} along the skin, from {} to {} aft of the bow",
        shop(at.length),
        shop(at.from.from_origin()),
        shop(at.to.from_origin()),
    );
    let widths = at.crossings.iter().map(|crossing| crossing.width);
    if let (Some(least), Some(most)) = (widths.clone().min(), widths.max()) {
        words += &match least == most {
            true => format!("\nas wide as a strip at every form: {}", shop(most)),
            false => format!("\n{} to {} wide at the forms", shop(least), shop(most)),
        };
    }
    words
}

fn materials() -> Value {
    let look = |(name, [r, g, b]): &(&str, [f64; 3])| {
        json!({
            "name": name,
            "doubleSided": true,
            "pbrMetallicRoughness": {
                "baseColorFactor": [r, g, b, 1.0],
                "metallicFactor": 0.0,
                "roughnessFactor": 0.95,
            },
        })
    };
    LOOKS.iter().map(look).collect()
}
