//! The lines of the boat with the courses on them: profile, half-breadths and body plan, before there is any wood.

use super::fit::cut_off;
use super::ink;
use super::scene::{Group, Item, Line, Outline, Point, Scene, Set, Shape, Stroke, Text, Weight};
use crate::hull::FormId;
use crate::job::Lines;
use crate::lines::{CourseEdge, PanelShape, bands};
use crate::units::{Length, Unit};

/// Pages on their side, the smallest first: the first on which courses can be told apart is taken. Unit: millimetre of
/// paper, as everywhere here. Source of the sizes: ISO 216.
const PAGES: [Page; 4] = [
    Page::of("A3", 420.0, 297.0),
    Page::of("A2", 594.0, 420.0),
    Page::of("A1", 841.0, 594.0),
    Page::of("A0", 1189.0, 841.0),
];
/// Courses nearer to each other than this in the body plan are one grey. Common practice, no source.
const APART: f64 = 0.9;
const MARGIN: f64 = 14.0;
/// Where the first view begins: below the heading.
const ABOVE: f64 = 36.0;
/// Between views, with the words over each and the names of forms under it.
const BETWEEN: f64 = 17.0;
/// The most that profile and half-breadths together take of the height, as a part of it.
const LONG_VIEWS: f64 = 0.377;
const SIZE: f64 = 2.6;

/// Into how many parts a course is cut to be drawn, and a section.
const PARTS: u32 = 160;

/// A place on the skin: aft of the bow, out from the centreplane, up. Unit: mm of boat.
type Place = [f64; 3];

/// How the boat is looked at.
#[derive(Clone, Copy)]
enum View {
    /// From the side: bow to the left.
    Profile,
    /// From below, one side: bow to the left.
    HalfBreadths,
    /// From ahead and astern: forms forward of the widest to the right, those abaft it to the left.
    BodyPlan {
        /// Where the widest form stands.
        widest: f64,
    },
}

/// A view on the paper.
struct Frame {
    view: View,
    /// Millimetres of paper to one of boat.
    scale: f64,
    /// Where the bow, the centreplane and the base line come to lie.
    origin: Point,
}

impl Frame {
    fn at(&self, [x, y, z]: Place) -> Point {
        let (across, up) = match self.view {
            View::Profile => (x, z),
            View::HalfBreadths => (x, -y),
            View::BodyPlan { widest } if x > widest => (-y, z),
            View::BodyPlan { .. } => (y, z),
        };
        (
            self.origin.0 + self.scale * across,
            self.origin.1 - self.scale * up,
        )
    }

    fn line(&self, points: &[Place], line: Line) -> Item {
        Shape::drawn(
            Outline::Open(points.iter().map(|point| self.at(*point)).collect()),
            line,
        )
    }
}

/// A sheet of paper on its side.
#[derive(Clone, Copy)]
struct Page {
    name: &'static str,
    width: f64,
    height: f64,
}

impl Page {
    const fn of(name: &'static str, width: f64, height: f64) -> Page {
        Page {
            name,
            width,
            height,
        }
    }
}

/// The smallest and the largest of what is to be drawn. Unit: mm of boat.
struct Extent {
    least: Place,
    most: Place,
}

/// The scene of the lines; `None` where only girths are known.
pub fn scene(lines: &Lines) -> Option<Scene> {
    let drawn: Vec<&PanelShape> = lines
        .told
        .iter()
        .filter(|told| told.sections.is_some())
        .collect();
    let sections: Vec<(&PanelShape, Vec<Vec<Place>>)> =
        drawn.iter().map(|told| (*told, sections(told))).collect();
    let extent = extent(&sections)?;
    let on = |page: Page| {
        let frames = frames(page, &extent, widest(&sections));
        let body = &frames[2].2;
        (page, body.scale * lines.strip().width >= APART, frames)
    };
    let [.., largest] = PAGES;
    let mut pages = PAGES.into_iter().map(on);
    let (page, _, frames) = pages
        .find(|(_, is_read, _)| *is_read)
        .unwrap_or_else(|| on(largest));
    let mut items = heading(lines, page, frames[0].2.scale, frames[2].2.scale);
    for (name, y, frame) in &frames {
        items.push(
            Text::new(*name, (MARGIN, *y), 3.2, ink::PENCIL)
                .bold()
                .into(),
        );
        items.extend(rules(frame, &extent));
        for (told, sections) in &sections {
            items.extend(courses(lines, told, frame));
            items.extend(edges(sections, frame));
            items.extend(forms(lines, told, sections, frame));
        }
        items.extend(doubts(lines, frame));
    }
    items.extend(legend(lines, page));
    Some(Scene {
        title: format!("Lines of {}", lines.name),
        width: page.width,
        height: page.height,
        paper: ink::PAPER,
        items,
    })
}

/// The three views on a page: the name of each, where it stands, and the frame.
fn frames(page: Page, extent: &Extent, widest: f64) -> [(&'static str, f64, Frame); 3] {
    let (wide, high) = (page.width, page.height);
    let size = |k: usize| (extent.most[k] - extent.least[k]).max(1.0);
    let long_views = LONG_VIEWS * high / (size(2) + extent.most[1]);
    let long = ((wide - 2.0 * MARGIN) / size(0)).min(long_views);
    let left = MARGIN + 0.5 * (wide - 2.0 * MARGIN - long * size(0)) - long * extent.least[0];
    let profile_top = ABOVE + 5.0;
    let profile = profile_top + long * extent.most[2];
    let half_top = profile_top + long * size(2) + BETWEEN;
    let body_top = half_top + long * extent.most[1] + BETWEEN + 4.0;
    let room = high - MARGIN - 8.0 - body_top;
    let body = (room / size(2)).min((0.6 * wide) / (2.0 * extent.most[1]).max(1.0));
    let frame = |view: View, scale: f64, origin: Point| Frame {
        view,
        scale,
        origin,
    };
    [
        (
            "Profile",
            profile_top - 2.5,
            frame(View::Profile, long, (left, profile)),
        ),
        (
            // Above the names of the forms, which stand on the centreline.
            "Half-breadths",
            half_top - 5.5,
            frame(View::HalfBreadths, long, (left, half_top)),
        ),
        (
            "Body plan: forward forms to the right, after forms to the left",
            body_top - 5.5,
            frame(
                View::BodyPlan { widest },
                body,
                (0.4 * wide, body_top + body * extent.most[2]),
            ),
        ),
    ]
}

/// Each section of a panel, from start line to stop line.
fn sections(told: &PanelShape) -> Vec<Vec<Place>> {
    let all = told.sections.iter().flatten();
    all.map(|section| section.walked(PARTS)).collect()
}

fn extent(sections: &[(&PanelShape, Vec<Vec<Place>>)]) -> Option<Extent> {
    let places = || sections.iter().flat_map(|(_, all)| all.iter().flatten());
    places().next()?;
    let over = |fold: fn(f64, f64) -> f64, from: f64| -> Place {
        std::array::from_fn(|k| places().map(|place| place[k]).fold(from, fold))
    };
    Some(Extent {
        least: over(f64::min, f64::INFINITY),
        most: over(f64::max, f64::NEG_INFINITY),
    })
}

/// Where the widest section of all stands, and a hair abaft it: all of that section lies on one side of the body plan.
fn widest(sections: &[(&PanelShape, Vec<Vec<Place>>)]) -> f64 {
    const HAIR: f64 = 0.01;
    let places = sections.iter().flat_map(|(_, all)| all.iter().flatten());
    places
        .max_by(|one, other| one[1].total_cmp(&other[1]))
        .map_or(0.0, |place| place[0] + HAIR)
}

fn heading(lines: &Lines, page: Page, long: f64, body: f64) -> Vec<Item> {
    let name = cut_off(&lines.name, 7.0, Weight::Bold, page.width - 2.0 * MARGIN);
    let mut scale = format!(
        "Lines with the courses on them, bow to the left. Profile and half-breadths 1 : {:.1}, body plan 1 : {:.1}. \
         To the outside of the skin as the offsets have it.",
        1.0 / long,
        1.0 / body
    );
    if page.name != PAGES[0].name {
        let size = |mm: f64| lines.unit.shop(Length::from_mm(mm));
        scale += &match lines.unit {
            Unit::Mm => format!(
                " Print this on {}: on A3 the courses run together.",
                page.name
            ),
            Unit::Inch => format!(
                " Print this at its size, {} x {}: on 11 x 17 the courses run together.",
                size(page.width),
                size(page.height)
            ),
        };
    }
    vec![
        Text::new(name, (MARGIN, 19.0), 7.0, ink::PENCIL)
            .bold()
            .into(),
        Text::new(scale, (MARGIN, 25.5), 2.8, ink::SOFT).into(),
    ]
}

/// Base line and centreline.
fn rules(frame: &Frame, extent: &Extent) -> Vec<Item> {
    let line = Line {
        ink: ink::SOFT,
        width: 0.15,
        stroke: Stroke::Broken(6.0, 1.5),
    };
    let (fore, aft) = (extent.least[0], extent.most[0]);
    match frame.view {
        View::Profile => vec![frame.line(
            &[[fore, 0.0, extent.least[2]], [aft, 0.0, extent.least[2]]],
            line,
        )],
        View::HalfBreadths => vec![frame.line(&[[fore, 0.0, 0.0], [aft, 0.0, 0.0]], line)],
        View::BodyPlan { .. } => {
            vec![frame.line(
                &[[fore, 0.0, extent.least[2]], [fore, 0.0, extent.most[2]]],
                line,
            )]
        }
    }
}

/// The start line and the stop line of a panel, from form to form.
fn edges(sections: &[Vec<Place>], frame: &Frame) -> Vec<Item> {
    if let View::BodyPlan { .. } = frame.view {
        return Vec::new();
    }
    let line = Line::whole(ink::PENCIL, 0.4);
    let edge = |of: fn(&Vec<Place>) -> Option<&Place>| {
        let points: Vec<Place> = sections.iter().filter_map(of).copied().collect();
        frame.line(&points, line)
    };
    vec![
        edge(|section| section.first()),
        edge(|section| section.last()),
    ]
}

/// The edges of the courses toward the start line.
fn courses(lines: &Lines, told: &PanelShape, frame: &Frame) -> Vec<Item> {
    let strip = lines.strip();
    let all = bands(told, strip.width, crate::lines::MOST);
    let line = Line::whole(ink::SEAM, 0.12);
    let of_panel = lines
        .laid
        .iter()
        .filter(|laid| laid.course.panel == told.panel);
    let items = of_panel.filter_map(|laid| {
        let course = &laid.course;
        let band = all.iter().find(|band| band.number == course.number)?;
        let skin = CourseEdge::of(told, band, course.from.mm(), course.to.mm());
        let points: Vec<Place> = (0..=PARTS)
            .filter_map(|i| skin.point(skin.length() * f64::from(i) / f64::from(PARTS)))
            .collect();
        let line = match frame.view {
            View::BodyPlan { widest } => {
                let (fore, aft): (Vec<Place>, Vec<Place>) =
                    points.into_iter().partition(|point| point[0] <= widest);
                vec![frame.line(&fore, line), frame.line(&aft, line)]
            }
            _ => vec![frame.line(&points, line)],
        };
        Some(Item::Group(Group {
            facts: vec![("course", course.name().to_string())],
            told: Some(lines.named(laid)),
            ..Group::of("course", line)
        }))
    });
    items.collect()
}

/// The forms: their sections in the body plan, a line across in the other views, with their names.
fn forms(lines: &Lines, told: &PanelShape, sections: &[Vec<Place>], frame: &Frame) -> Vec<Item> {
    let line = match frame.view {
        View::BodyPlan { .. } => Line::whole(ink::PENCIL, 0.25),
        _ => Line::whole(ink::SOFT, 0.15),
    };
    let mut named: Vec<Point> = Vec::new();
    let all = told.forms.iter().zip(sections);
    let items = all.map(|(form, section)| {
        let name = name(lines, *form);
        let mut items = vec![frame.line(section, line)];
        let at = match frame.view {
            View::Profile => frame.at(lowest(section)),
            View::HalfBreadths => frame.at([section[0][0], 0.0, 0.0]),
            View::BodyPlan { .. } => frame.at(section[0]),
        };
        let at = match frame.view {
            View::BodyPlan { .. } => (at.0, at.1 - 1.2),
            View::Profile => (at.0, at.1 + 3.4),
            View::HalfBreadths => (at.0, at.1 - 1.0),
        };
        let clear = |other: &Point| (other.0 - at.0).abs() > 4.0 || (other.1 - at.1).abs() > SIZE;
        if named.iter().all(clear) {
            named.push(at);
            items.push(
                Text::new(name, at, SIZE, ink::PENCIL)
                    .set(Set::Middle)
                    .into(),
            );
        }
        Item::Group(Group {
            facts: vec![("name", name.to_owned())],
            ..Group::of("form", items)
        })
    });
    items.collect()
}

fn lowest(section: &[Place]) -> Place {
    let lowest = section
        .iter()
        .min_by(|one, other| one[2].total_cmp(&other[2]));
    lowest.copied().unwrap_or_default()
}

fn name(lines: &Lines, form: FormId) -> &str {
    &lines.hull.forms[form.0].name
}

/// A ring round every point of which a figure stands out.
fn doubts(lines: &Lines, frame: &Frame) -> Vec<Item> {
    let doubtful = lines.points.iter().filter(|point| point.doubtful);
    let items = doubtful.map(|point| {
        let x = lines.hull.forms[point.form.0].at.mm();
        let at = frame.at([x, point.half_breadth.mm(), point.height.mm()]);
        let mut items = vec![Shape::drawn(
            Outline::Circle(at, 2.4),
            Line::whole(ink::RED, 0.5),
        )];
        if let View::BodyPlan { .. } = frame.view {
            let words = format!("form {}, point {}", name(lines, point.form), point.number);
            items.push(Text::new(words, (at.0 + 3.2, at.1 + 1.0), SIZE, ink::RED).into());
        }
        Item::Group(Group::of("doubt", items))
    });
    items.collect()
}

fn legend(lines: &Lines, page: Page) -> Vec<Item> {
    let left = page.width - 100.8;
    let mut y = page.height - MARGIN - 34.0;
    let mut items = Vec::new();
    let mut put = |mark: Item, words: String| {
        items.push(mark);
        items.push(Text::new(words, (left + 12.0, y + 0.9), SIZE, ink::PENCIL).into());
        y += 5.5;
    };
    let line =
        |y: f64, line: Line| Shape::drawn(Outline::Straight((left, y), (left + 9.0, y)), line);
    let top = page.height - MARGIN - 34.0;
    put(
        line(top, Line::whole(ink::SEAM, 0.12)),
        "edge of a course toward the start line".into(),
    );
    put(
        line(top + 5.5, Line::whole(ink::PENCIL, 0.4)),
        "start line and stop line of a panel".into(),
    );
    put(
        line(top + 11.0, Line::whole(ink::PENCIL, 0.25)),
        "section at a form".into(),
    );
    if lines.points.iter().any(|point| point.doubtful) {
        let ring = Outline::Circle((left + 4.5, top + 16.5), 2.4);
        put(
            Shape::drawn(ring, Line::whole(ink::RED, 0.5)),
            "stands out from its neighbours: look again".into(),
        );
    }
    items
}
