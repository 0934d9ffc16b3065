//! Things put elsewhere on the paper: what is decided once can be set down in many places.

use super::scene::{Group, Hatch, Item, Outline, Photograph, Point, Rect, Shape, Text};

impl Item {
    /// The same thing, so much to the right and down.
    pub fn moved(self, by: Point) -> Item {
        match self {
            Item::Shape(shape) => Item::Shape(Shape {
                outline: shape.outline.moved(by),
                ..shape
            }),
            Item::Text(text) => Item::Text(Text {
                at: moved(text.at, by),
                ..text
            }),
            Item::Hatch(hatch) => Item::Hatch(Hatch {
                area: hatch.area.moved(by),
                ..hatch
            }),
            Item::Photograph(seen) => Item::Photograph(Photograph {
                area: seen.area.moved(by),
                inside: seen
                    .inside
                    .into_iter()
                    .map(|points| all_moved(points, by))
                    .collect(),
                ..seen
            }),
            Item::Group(group) => Item::Group(Group {
                items: group.items.into_iter().map(|item| item.moved(by)).collect(),
                ..group
            }),
        }
    }
}

impl Outline {
    fn moved(self, by: Point) -> Outline {
        match self {
            Outline::Straight(from, to) => Outline::Straight(moved(from, by), moved(to, by)),
            Outline::Open(points) => Outline::Open(all_moved(points, by)),
            Outline::Closed(points) => Outline::Closed(all_moved(points, by)),
            Outline::Circle(centre, radius) => Outline::Circle(moved(centre, by), radius),
            Outline::Cells(cells) => {
                Outline::Cells(cells.into_iter().map(|cell| cell.moved(by)).collect())
            }
        }
    }
}

impl Rect {
    /// The same rectangle, so much to the right and down.
    pub fn moved(self, by: Point) -> Rect {
        Rect {
            x: self.x + by.0,
            y: self.y + by.1,
            ..self
        }
    }

    /// The rectangle within it, this far from all its edges; never less than nothing.
    pub fn inset(self, by: f64) -> Rect {
        Rect {
            x: self.x + by,
            y: self.y + by,
            w: (self.w - 2.0 * by).max(0.0),
            h: (self.h - 2.0 * by).max(0.0),
        }
    }

    /// Its right edge.
    pub fn right(self) -> f64 {
        self.x + self.w
    }

    /// Its lower edge.
    pub fn bottom(self) -> f64 {
        self.y + self.h
    }
}

fn moved(point: Point, by: Point) -> Point {
    (point.0 + by.0, point.1 + by.1)
}

fn all_moved(points: Vec<Point>, by: Point) -> Vec<Point> {
    points.into_iter().map(|point| moved(point, by)).collect()
}
