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
    let mut shape = Shape::default();
    for told in &lines.told {
        let Some(edges) = Edges::of(told, lines.rules.width.mm()) else {
            continue;
        };
        let own = |laid: &&Laid| laid.course.panel == told.panel;
        for laid in lines.laid.iter().filter(own) {
            if let Some(on_skin) = OnSkin::of(&edges, &laid.course) {
                for side in laid.course.sides() {
                    shape.course(lines, laid, &on_skin, *side);
                }
            }
        }
        let panel = &lines.hull.panel(told.panel).name;
        for (name, points, look, words) in rules(lines, told) {
            for side in [Side::Port, Side::Starboard] {
                let points: Vec<Point> = points.iter().map(|at| mirrored(side, *at)).collect();
                let name = format!("{} {panel} {name}", side.name());
                let line = shape.file.line(&points, look);
                shape.put(side, &name, line, LOOKS[look].0, &words);
            }
        }
    }
    (!shape.sides.is_empty()).then(|| {
        let scene = shape.file.scene(&lines.name, &shape.sides);
        let head = json!({ "scene": 0, "scenes": [scene], "materials": materials() });
        shape.file.written(head)
    })
}

/// What is in the file so far, and which of it is on which side.
#[derive(Default)]
struct Shape {
    file: File,
    sides: BTreeMap<&'static str, Vec<usize>>,
}

impl Shape {
    fn put(&mut self, side: Side, name: &str, mesh: Value, kind: &str, says: &str) {
        let extras = json!({ "side": side.name(), "kind": kind, "says": says });
        let node = self.file.node(name, vec![mesh], extras);
        self.sides.entry(side.name()).or_default().push(node);
    }

    /// The skin of a course on one side, and its edge.
    fn course(&mut self, lines: &Lines, laid: &Laid, on_skin: &OnSkin<'_>, side: Side) {
        let panel = &lines.hull.panel(laid.course.panel).name;
        let name = format!("{} {panel} {}", side.name(), laid.course.name());
        let bare = on_skin.bare(side);
        let mesh = self.file.mesh(&Body::bare(&bare), None, SKIN);
        self.put(side, &name, mesh, "skin", &words(lines, laid));
        // The first course begins on the start line.
        if laid.course.number > 1 {
            let edge = match laid.course.kind {
                Kind::Centre => bare.len() / 2,
                Kind::Mirrored => 0,
            };
            let points: Vec<Point> = bare[edge].iter().map(|(at, _)| *at).collect();
            let says = format!("{}: its edge toward the start line", lines.named(laid));
            let line = self.file.line(&points, EDGE);
            self.put(side, &format!("edge of {name}"), line, "edge", &says);
        }
    }
}

/// Start line, stop line and sections of a panel, for starboard: name, points, look, and what is said of each.
fn rules(lines: &Lines, told: &PanelShape) -> Vec<(String, Vec<Point>, usize, String)> {
    let sections = told.sections.iter().flatten();
    let panel = &lines.hull.panel(told.panel).name;
    let forms = sections.clone().zip(&told.forms).map(|(section, form)| {
        let form = &lines.hull.forms[form.0];
        let from_bow = lines.unit.shop(form.at.from_origin());
        let words = format!("Form {}, {from_bow} from the bow", form.name);
        (
            format!("form {}", form.name),
            section.walked(PARTS),
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

/// A place of starboard on another side.
fn mirrored(side: Side, [x, y, z]: Point) -> Point {
    match side {
        Side::Port => [x, -y, z],
        Side::Starboard | Side::Centre => [x, y, z],
    }
}

/// What is said of a course.
fn words(lines: &Lines, laid: &Laid) -> String {
    let (course, at) = (lines.named(laid), &laid.course);
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
