//! What a picture shows, in no file format: shapes, words and groups.
//!
//! Unit: millimetre of paper. Frame: 0, 0 at the top left, x to the right, y down. Later things lie over earlier ones.

/// A colour of ink or paper, as sRGB bytes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Ink(pub [u8; 3]);

/// A point on the paper.
pub type Point = (f64, f64);

/// A whole picture.
#[derive(Clone, PartialEq, Debug)]
pub struct Scene {
    /// What the picture is, in a line.
    pub title: String,
    /// Width of the paper.
    pub width: f64,
    /// Height of the paper.
    pub height: f64,
    /// The colour of the paper, for a screen: whoever prints brings paper of their own.
    pub paper: Ink,
    /// What is on it.
    pub items: Vec<Item>,
}

/// A thing on the paper.
#[derive(Clone, PartialEq, Debug)]
pub enum Item {
    /// An area or a line.
    Shape(Shape),
    /// A line of words.
    Text(Text),
    /// Lines over a rectangle, rising to the right at 45 degrees.
    Hatch(Hatch),
    /// A photograph.
    Photograph(Photograph),
    /// Things that belong together.
    Group(Group),
}

/// An area or a line.
#[derive(Clone, PartialEq, Debug)]
pub struct Shape {
    /// Its outline.
    pub outline: Outline,
    /// What it is filled with.
    pub fill: Option<Ink>,
    /// The line along its outline.
    pub line: Option<Line>,
}

/// The outline of a shape.
#[derive(Clone, PartialEq, Debug)]
pub enum Outline {
    /// A straight line.
    Straight(Point, Point),
    /// A line through these points.
    Open(Vec<Point>),
    /// A closed outline through these points.
    Closed(Vec<Point>),
    /// A circle: centre and radius.
    Circle(Point, f64),
    /// Rectangles as one shape, so that no hair of light shows between those that touch.
    Cells(Vec<Rect>),
}

/// How a line is drawn.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Line {
    /// Its colour.
    pub ink: Ink,
    /// Its width.
    pub width: f64,
    /// Whether it is broken.
    pub stroke: Stroke,
}

/// Whether a line is broken.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Stroke {
    /// One unbroken line.
    Whole,
    /// Dashes of the first length with gaps of the second.
    Broken(f64, f64),
}

/// Lines over a rectangle, rising to the right at 45 degrees.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Hatch {
    /// The rectangle.
    pub area: Rect,
    /// Distance from line to line, along x.
    pub spacing: f64,
    /// The lines.
    pub line: Line,
}

/// A photograph, stretched over a rectangle.
#[derive(Clone, PartialEq, Debug)]
pub struct Photograph {
    /// The rectangle.
    pub area: Rect,
    /// A JPEG.
    pub jpeg: Vec<u8>,
    /// The closed outlines inside which it is seen; empty: all of it is.
    pub inside: Vec<Vec<Point>>,
}

/// A rectangle.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Rect {
    /// Left edge.
    pub x: f64,
    /// Top edge.
    pub y: f64,
    /// Width.
    pub w: f64,
    /// Height.
    pub h: f64,
}

/// A line of words.
#[derive(Clone, PartialEq, Debug)]
pub struct Text {
    /// The point that the words are set from, on their base line.
    pub at: Point,
    /// Height of the type.
    pub size: f64,
    /// Which part of the words is at the point.
    pub set: Set,
    /// How heavy the type is.
    pub weight: Weight,
    /// Its colour.
    pub ink: Ink,
    /// Whether it is turned to read upwards.
    pub turn: Turn,
    /// The words.
    pub words: String,
}

/// Which part of a line of words is at its point.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Set {
    /// The beginning.
    Left,
    /// The middle.
    Middle,
    /// The end.
    Right,
}

/// How heavy type is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Weight {
    /// As usual.
    Plain,
    /// Heavy.
    Bold,
}

/// Which way a line of words runs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Turn {
    /// To the right.
    Level,
    /// Upwards.
    Upward,
}

/// Things that belong together.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Group {
    /// What kind of thing it is, in one word.
    pub kind: &'static str,
    /// Facts about it for whoever reads the picture by program: a lower-case name and a value each.
    pub facts: Vec<(&'static str, String)>,
    /// What the pointer tells. A group without it is passed over by the pointer.
    pub told: Option<String>,
    /// What is in it.
    pub items: Vec<Item>,
}

impl Rect {
    /// The rectangle from one corner to the opposite one.
    pub fn between(left: f64, top: f64, right: f64, bottom: f64) -> Rect {
        Rect {
            x: left,
            y: top,
            w: right - left,
            h: bottom - top,
        }
    }

    /// Its outline.
    pub fn outline(self) -> Outline {
        let (right, bottom) = (self.x + self.w, self.y + self.h);
        Outline::Closed(vec![
            (self.x, self.y),
            (right, self.y),
            (right, bottom),
            (self.x, bottom),
        ])
    }
}

impl Line {
    /// An unbroken line.
    pub const fn whole(ink: Ink, width: f64) -> Line {
        Line {
            ink,
            width,
            stroke: Stroke::Whole,
        }
    }
}

impl Shape {
    /// A filled area without a line.
    pub fn filled(outline: Outline, ink: Ink) -> Item {
        Item::Shape(Shape {
            outline,
            fill: Some(ink),
            line: None,
        })
    }

    /// A line without filling.
    pub fn drawn(outline: Outline, line: Line) -> Item {
        Item::Shape(Shape {
            outline,
            fill: None,
            line: Some(line),
        })
    }

    /// An area with a line around it.
    pub fn outlined(outline: Outline, ink: Ink, line: Line) -> Item {
        Item::Shape(Shape {
            outline,
            fill: Some(ink),
            line: Some(line),
        })
    }
}

impl Text {
    /// Plain level words that begin at the point.
    pub fn new(words: impl Into<String>, at: Point, size: f64, ink: Ink) -> Text {
        Text {
            at,
            size,
            set: Set::Left,
            weight: Weight::Plain,
            ink,
            turn: Turn::Level,
            words: words.into(),
        }
    }

    /// With another part of the words at the point.
    pub fn set(self, set: Set) -> Text {
        Text { set, ..self }
    }

    /// In heavy type.
    pub fn bold(self) -> Text {
        Text {
            weight: Weight::Bold,
            ..self
        }
    }

    /// Reading upwards.
    pub fn upward(self) -> Text {
        Text {
            turn: Turn::Upward,
            ..self
        }
    }
}

impl From<Text> for Item {
    fn from(text: Text) -> Item {
        Item::Text(text)
    }
}

impl From<Group> for Item {
    fn from(group: Group) -> Item {
        Item::Group(group)
    }
}

impl Group {
    /// A group of this kind with these things in it.
    pub fn of(kind: &'static str, items: Vec<Item>) -> Group {
        Group {
            kind,
            items,
            ..Group::default()
        }
    }
}

impl Hatch {
    /// The hatch as straight lines, cut off at the edges of its area.
    ///
    /// The lines are spaced from the corner of the paper, not of the area, so that areas side by side look like one.
    pub fn lines(&self) -> Vec<(Point, Point)> {
        let Rect { x, y, w, h } = self.area;
        if w <= 0.0 || h <= 0.0 || self.spacing <= 0.0 {
            return Vec::new();
        }
        // Each line holds the places where x + y is the same multiple of the spacing: it rises to the right.
        let first = ((x + y) / self.spacing).ceil() as i64;
        let last = ((x + w + y + h) / self.spacing).floor() as i64;
        let lines = (first..=last).filter_map(|n| {
            let sum = n as f64 * self.spacing;
            let (left, right) = (x.max(sum - y - h), (x + w).min(sum - y));
            (right > left).then_some(((left, sum - left), (right, sum - right)))
        });
        lines.collect()
    }
}
