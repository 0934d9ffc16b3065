//! Reads a drawing back: groups by kind, their facts, outlines and words.

use std::collections::BTreeMap;

use roxmltree::{Document, Node};

pub type Point = (f64, f64);

/// A group of the drawing.
#[derive(Clone, Debug)]
pub struct Group {
    pub facts: BTreeMap<String, String>,
    pub told: Option<String>,
    pub outlines: Vec<Vec<Point>>,
    pub lines: Vec<Vec<Point>>,
    /// Colour and width of each line.
    pub strokes: Vec<(String, f64)>,
    pub circles: usize,
    pub words: Vec<Words>,
    pub fill: Option<String>,
}

#[derive(Clone, Debug)]
pub struct Words {
    pub at: Point,
    pub size: f64,
    pub bold: bool,
    pub anchor: String,
    pub text: String,
}

impl Group {
    pub fn fact(&self, name: &str) -> &str {
        self.facts.get(name).map_or("", String::as_str)
    }

    /// Panel, course, side and piece: where a piece lies.
    pub fn place(&self, side: &str) -> [String; 4] {
        ["panel", "course", "side", "piece"].map(|name| match name {
            "side" => side.to_owned(),
            name => self.fact(name).to_owned(),
        })
    }
}

/// All groups of a kind, in the order of the drawing. Panics where the text is not well-formed XML.
pub fn groups(svg: &str, kind: &str) -> Vec<Group> {
    let document = Document::parse(svg).unwrap();
    let all = document.descendants();
    all.filter(|node| node.has_tag_name("g") && node.attribute("class") == Some(kind))
        .map(group)
        .collect()
}

fn group(node: Node) -> Group {
    let facts = node.attributes().filter_map(|attribute| {
        let name = attribute.name().strip_prefix("data-")?;
        Some((name.to_owned(), attribute.value().to_owned()))
    });
    let own = |tag: &'static str| node.children().filter(move |child| child.has_tag_name(tag));
    let path = |child: Node, name: &str| {
        let text = child.attribute(name).unwrap().replace(['M', 'L'], " ");
        let points = text.split_whitespace().map(|pair| {
            let (x, y) = pair.split_once(',').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        });
        points.collect::<Vec<Point>>()
    };
    Group {
        facts: facts.collect(),
        told: own("title")
            .next()
            .map(|title| title.text().unwrap_or("").to_owned()),
        outlines: own("polygon").map(|child| path(child, "points")).collect(),
        lines: own("path").map(|child| path(child, "d")).collect(),
        strokes: own("path").filter_map(stroke).collect(),
        circles: own("circle").count(),
        words: own("text").map(words).collect(),
        fill: own("polygon")
            .next()
            .and_then(|child| child.attribute("fill"))
            .map(str::to_owned),
    }
}

fn stroke(node: Node) -> Option<(String, f64)> {
    let width = node.attribute("stroke-width")?.parse().unwrap();
    Some((node.attribute("stroke")?.to_owned(), width))
}

fn words(node: Node) -> Words {
    let number = |name: &str| node.attribute(name).unwrap().parse::<f64>().unwrap();
    Words {
        at: (number("x"), number("y")),
        size: number("font-size"),
        bold: node.attribute("font-weight") == Some("bold"),
        anchor: node.attribute("text-anchor").unwrap_or("start").to_owned(),
        text: node.text().unwrap_or("").to_owned(),
    }
}

/// Smallest and largest of one coordinate of an outline.
pub fn span(points: &[Point], of: impl Fn(&Point) -> f64) -> (f64, f64) {
    let all: Vec<f64> = points.iter().map(of).collect();
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (least, most)
}
