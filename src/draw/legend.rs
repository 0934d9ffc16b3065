//! The legend: what every sign in the drawing means.

use super::fit::{Wording, width};
use super::scene::{Group, Item, Line, Outline, Rect, Set, Shape, Stroke, Text, Weight};
use super::sheet::{MARGIN, Sheet, WIDTH};
use super::{ink, marks, pieces, wants, zones};
use crate::hull::Side;
use crate::job::Stage;
use crate::units::Colour;

/// From line to line of the legend, and its type. Unit: millimetre of paper.
const LEADING: f64 = 4.7;
const SIZE: f64 = 2.6;
const LINES: usize = 6;
/// How wide and high the signs are.
const SIGN: f64 = 16.0;
const TALL: f64 = 3.6;
/// Where the columns begin.
const COLUMNS: [f64; 3] = [MARGIN, MARGIN + 124.0, MARGIN + 274.0];

/// A sign, drawn from its left end and the middle of its height.
type Sign = fn(f64, f64) -> Vec<Item>;

/// What each sign means, column by column.
const ENTRIES: [&[(Sign, &str)]; 3] = [
    &[
        (
            |x, y| numbered(Side::Port, x, y),
            "port, and the number of the course",
        ),
        (
            |x, y| numbered(Side::Starboard, x, y),
            "starboard; its mate has the same number to port",
        ),
        (
            |x, y| numbered(Side::Centre, x, y),
            "a course on the centreline, laid once",
        ),
        (dotted, "dot: toward the marked end of the strip"),
        (
            |x, y| vec![word("step 3.1", x, y)],
            "the largest colour steps between courses, ΔE00",
        ),
        (
            |x, y| done(Stage::Laid, x, y),
            "whole line along the piece: laid",
        ),
    ],
    &[
        (named, "the strip that the piece is cut from"),
        (
            |x, y| vec![word("piece 2", x, y)],
            "counted from the bow in its course",
        ),
        (
            |x, y| vec![word("mark to bow", x, y)],
            "bow end: the end of the strip that points to the bow, mark or plain",
        ),
        (
            |x, y| vec![word("A next", x, y)],
            "next edge: the edge that the next course is glued to, A or B; free: no course next to it",
        ),
        (
            |x, y| vec![word("high out", x, y)],
            "face out: the sawn face that is seen, high or low",
        ),
        (
            |x, y| vec![word("2 · mark · A · high", x, y)],
            "the same in short, where there is less room",
        ),
    ],
    &[
        (scarf, "joint: the slant is as long as the scarf"),
        (kept_clear, "kept clear: no scarf here"),
        (
            |x, y| zones::shown_edge(field(x, y).outline()),
            "shows: looks count so many times",
        ),
        (open, "open: no wood in the rack covers this course"),
        (form, "form: a tick on every seam that crosses it"),
        (
            |x, y| done(Stage::Cut, x, y),
            "broken line along the piece: cut, not laid yet",
        ),
    ],
];

/// What is said where the job has wants.
const WANTED: [(Sign, &str); 1] = [(
    |x, y| wants::sign(x, y, SIGN),
    "want: the builder says what lies on these courses",
)];

/// The legend, at the foot of the sheet.
pub fn legend(sheet: &Sheet, with_wants: bool) -> Item {
    let top = sheet.height - MARGIN - (LINES - 1) as f64 * LEADING - TALL / 2.0;
    let rule = Outline::Straight((MARGIN, top - 4.6), (WIDTH - MARGIN, top - 4.6));
    let mut items = vec![Shape::drawn(rule, Line::whole(ink::FAINT, 0.25))];
    let wanted: [&[(Sign, &str)]; 3] = [&[], &[], if with_wants { &WANTED } else { &[] }];
    for ((x, column), more) in COLUMNS.into_iter().zip(ENTRIES).zip(wanted) {
        for (line, (sign, meaning)) in column.iter().chain(more).enumerate() {
            let y = top + line as f64 * LEADING;
            items.extend(sign(x, y));
            let at = (x + SIGN + 2.5, y + 0.36 * SIZE);
            items.push(Text::new(*meaning, at, SIZE, ink::PENCIL).into());
        }
    }
    Item::Group(Group::of("legend", items))
}

fn field(x: f64, y: f64) -> Rect {
    Rect::between(x, y - TALL / 2.0, x + SIGN, y + TALL / 2.0)
}

fn wood(outline: Outline, shade: u8) -> Item {
    let ground = ink::of_wood(Colour::shade(shade));
    Shape::outlined(outline, ground, Line::whole(ink::SEAM, 0.12))
}

fn word(words: &str, x: f64, y: f64) -> Item {
    let at = (x + SIGN, y + 0.36 * SIZE);
    Text::new(words, at, SIZE, ink::PENCIL)
        .set(Set::Right)
        .into()
}

fn numbered(side: Side, x: f64, y: f64) -> Vec<Item> {
    let room = SIGN - 6.2;
    let number = Text::new("12", (x + room, y + 0.36 * SIZE), SIZE, ink::PENCIL);
    vec![
        number.set(Set::Right).bold().into(),
        marks::mark(side, (x + SIGN - 2.6, y), 4.0),
    ]
}

fn named(x: f64, y: f64) -> Vec<Item> {
    let name = Wording {
        name: "D5".into(),
        more: String::new(),
    };
    let left = x + (SIGN - width("D5", 2.4, Weight::Bold)) / 2.0;
    let mut items = vec![wood(field(x, y).outline(), 7)];
    items.extend(name.at(2.4).set(left, y, ink::PENCIL));
    items
}

fn dotted(x: f64, y: f64) -> Vec<Item> {
    let dot = Outline::Circle((x + 1.6, y), 0.55);
    vec![
        wood(field(x, y).outline(), 7),
        Shape::filled(dot, ink::PENCIL),
    ]
}

fn scarf(x: f64, y: f64) -> Vec<Item> {
    let (top, bottom) = (y - TALL / 2.0, y + TALL / 2.0);
    let (fore, aft, end) = (x + SIGN * 0.4, x + SIGN * 0.6, x + SIGN);
    let forward = vec![(x, top), (fore, top), (aft, bottom), (x, bottom)];
    let after = vec![(fore, top), (end, top), (end, bottom), (aft, bottom)];
    vec![
        wood(Outline::Closed(forward), 8),
        wood(Outline::Closed(after), 6),
    ]
}

fn done(stage: Stage, x: f64, y: f64) -> Vec<Item> {
    let (top, bottom, right) = (y - TALL / 2.0, y + TALL / 2.0, x + SIGN);
    let corners = [(x, top), (right, top), (right, bottom), (x, bottom)];
    let line = pieces::done(stage, &corners, ink::PENCIL);
    [wood(field(x, y).outline(), 7)]
        .into_iter()
        .chain(line)
        .collect()
}

fn form(x: f64, y: f64) -> Vec<Item> {
    let (middle, top, bottom) = (x + SIGN / 2.0, y - TALL / 2.0, y + TALL / 2.0);
    let tick = |y: f64| {
        let line = Outline::Straight((middle, y - 0.6), (middle, y + 0.6));
        [(ink::CHALK, 0.42), (ink::PENCIL, 0.2)]
            .map(|(ink, width)| Shape::drawn(line.clone(), Line::whole(ink, width)))
    };
    let mut items = vec![wood(field(x, y).outline(), 7)];
    items.extend(tick(top));
    items.extend(tick(bottom));
    items
}

fn kept_clear(x: f64, y: f64) -> Vec<Item> {
    let area = field(x, y);
    let mut items = vec![wood(area.outline(), 7)];
    items.extend(zones::hatch(area));
    items.extend(zones::clear_edge(area.outline()));
    items
}

fn open(x: f64, y: f64) -> Vec<Item> {
    let dashed = Line {
        ink: ink::SOFT,
        width: 0.25,
        stroke: Stroke::Broken(2.2, 1.4),
    };
    vec![Shape::outlined(field(x, y).outline(), ink::CHALK, dashed)]
}
