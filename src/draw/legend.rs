//! The legend: what every sign in the drawing means.

use super::marks;
use super::scene::{Group, Item, Line, Outline, Rect, Set, Shape, Stroke, Text};
use super::sheet::{MARGIN, Sheet};
use super::{ink, zones};
use crate::hull::Side;
use crate::units::Colour;

/// Height of a line of the legend, and of its type. Unit: millimetre of paper.
const LEADING: f64 = 5.6;
const SIZE: f64 = 2.6;
/// Where the three columns begin.
const COLUMNS: [f64; 3] = [MARGIN, MARGIN + 118.0, MARGIN + 262.0];
/// How wide the signs are.
const SIGN: f64 = 16.0;

/// The legend, at the foot of the sheet.
pub fn legend(sheet: &Sheet) -> Item {
    let top = sheet.height - MARGIN - 4.0 * LEADING;
    let mut items = vec![rule(top - 3.6)];
    let mut entry = |column: usize, line: usize, sign: Vec<Item>, words: &str| {
        let at = (
            COLUMNS[column] + SIGN + 2.5,
            top + line as f64 * LEADING + SIZE * 0.36,
        );
        items.extend(sign);
        items.push(Text::new(words, at, SIZE, ink::PENCIL).into());
    };
    let y = |line: usize| top + line as f64 * LEADING;
    let sides = [
        (Side::Port, "port, and the number of the course"),
        (
            Side::Starboard,
            "starboard, the same: its mate has the same number",
        ),
        (Side::Centre, "a course on the centreline, laid once"),
    ];
    for (line, (side, words)) in sides.into_iter().enumerate() {
        entry(0, line, numbered(side, COLUMNS[0], y(line)), words);
    }
    entry(
        0,
        3,
        sign_of_dots(COLUMNS[0], y(3)),
        "dot: the end of the piece toward the strip's marked end",
    );
    entry(
        1,
        0,
        sample(COLUMNS[1], y(0), Some("2 · D5")),
        "piece, counted from the bow, and the strip that it is cut from",
    );
    entry(
        1,
        1,
        vec![word("mark to bow", COLUMNS[1], y(1))],
        "the end of the strip that points to the bow: mark or plain",
    );
    entry(
        1,
        2,
        vec![word("A next", COLUMNS[1], y(2))],
        "next edge: the edge that the next course is glued to, A or B",
    );
    entry(
        1,
        3,
        vec![word("high out", COLUMNS[1], y(3))],
        "face out: the sawn face that is seen, high or low",
    );
    entry(
        2,
        0,
        scarf(COLUMNS[2], y(0)),
        "joint: a scarf of this length",
    );
    entry(
        2,
        1,
        zones::hatched(box_at(COLUMNS[2], y(1)), 1.0),
        "kept clear: no scarf here",
    );
    let dotted = Line {
        ink: ink::PENCIL,
        width: 0.3,
        stroke: Stroke::Broken(0.6, 1.2),
    };
    entry(
        2,
        2,
        vec![Shape::drawn(box_at(COLUMNS[2], y(2)).outline(), dotted)],
        "shows: looks count so many times",
    );
    let dashed = Line {
        ink: ink::SOFT,
        width: 0.25,
        stroke: Stroke::Broken(2.2, 1.4),
    };
    entry(
        2,
        3,
        vec![Shape::outlined(
            box_at(COLUMNS[2], y(3)).outline(),
            ink::CHALK,
            dashed,
        )],
        "open: the wood does not cover this course",
    );
    Item::Group(Group::of("legend", items))
}

fn rule(y: f64) -> Item {
    let right = super::sheet::WIDTH - MARGIN;
    Shape::drawn(
        Outline::Straight((MARGIN, y), (right, y)),
        Line::whole(ink::FAINT, 0.25),
    )
}

fn numbered(side: Side, x: f64, y: f64) -> Vec<Item> {
    let number = Text::new("12", (x + 7.4, y + 0.36 * SIZE), SIZE, ink::PENCIL);
    vec![marks::mark(side, (x + 3.0, y), 4.0), number.bold().into()]
}

fn box_at(x: f64, y: f64) -> Rect {
    Rect::between(x, y - 1.8, x + SIGN, y + 1.8)
}

fn word(words: &str, x: f64, y: f64) -> Item {
    Text::new(words, (x + SIGN, y + 0.36 * SIZE), SIZE, ink::PENCIL)
        .set(Set::Right)
        .bold()
        .into()
}

fn sample(x: f64, y: f64, words: Option<&str>) -> Vec<Item> {
    let wood = ink::of_wood(Colour::shade(7));
    let mut items = vec![Shape::outlined(
        box_at(x, y).outline(),
        wood,
        Line::whole(ink::SEAM, 0.12),
    )];
    if let Some(words) = words {
        let at = (x + SIGN / 2.0, y + 0.36 * 2.4);
        let text = Text::new(words, at, 2.4, ink::readable_on(wood)).set(Set::Middle);
        items.push(text.into());
    }
    items
}

fn sign_of_dots(x: f64, y: f64) -> Vec<Item> {
    let mut items = sample(x, y, None);
    items.push(Shape::filled(
        Outline::Circle((x + 1.6, y), 0.55),
        ink::PENCIL,
    ));
    items
}

fn scarf(x: f64, y: f64) -> Vec<Item> {
    let (top, bottom) = (y - 1.8, y + 1.8);
    let line = Line::whole(ink::SEAM, 0.12);
    let (fore, aft, end) = (x + SIGN * 0.4, x + SIGN * 0.6, x + SIGN);
    let forward = vec![(x, top), (fore, top), (aft, bottom), (x, bottom)];
    let after = vec![(fore, top), (end, top), (end, bottom), (aft, bottom)];
    vec![
        Shape::outlined(
            Outline::Closed(forward),
            ink::of_wood(Colour::shade(8)),
            line,
        ),
        Shape::outlined(Outline::Closed(after), ink::of_wood(Colour::shade(6)), line),
    ]
}
