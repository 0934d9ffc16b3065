//! The usual cautions, once, at the foot of the laying sheet.

use super::pages::{Block, Section};
use crate::draw::scene::{Item, Line, Outline, Shape, Text, Weight};
use crate::draw::typeface::measured;
use crate::paper::BLACK;

/// Why so short: the README has them with their sources, and a sheet on the wall is read in passing.
const CAUTIONS: [&str; 4] = [
    "Dust: extract it where it arises and wear a mask that is made for it. Some woods, western redcedar among them, \
    make people allergic for good.",
    "Saw: thin strips are cut close to the blade, and long ones want to pinch it. Follow the manual of the saw; if \
    you have not been taught, be taught first.",
    "Glue: resin and hardener that have not cured can make the skin allergic. Go by the maker's data sheet for \
    gloves, air and temperature, and by local rules for what is left over.",
    "Strength: this plan is about looks and lengths. Whether a strip is sound, a scarf long enough and the boat fit \
    for its water is for you and a competent designer or surveyor.",
];

const SIZE: f64 = 2.9;
const LEADING: f64 = 3.9;

/// The cautions as the last section of a sheet of this width.
pub fn cautions(wide: f64) -> Section {
    let lines: Vec<String> = CAUTIONS
        .iter()
        .flat_map(|text| wrapped(text, wide))
        .collect();
    let texts = lines.iter().enumerate().map(|(n, line)| {
        let base = 2.0 + (n + 1) as f64 * LEADING;
        Item::from(Text::new(line, (0.0, base), SIZE, BLACK))
    });
    let rule = Outline::Straight((0.0, 1.6), (wide, 1.6));
    let mut items = vec![Shape::drawn(rule, Line::whole(BLACK, 0.2))];
    items.extend(texts);
    Section {
        head: Block {
            height: 3.0,
            items: Vec::new(),
        },
        blocks: vec![Block {
            height: 4.0 + lines.len() as f64 * LEADING,
            items,
        }],
    }
}

/// A text in lines of at most this width, broken between words.
fn wrapped(text: &str, wide: f64) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split(' ') {
        let longer = match lines.last() {
            Some(last) if !last.is_empty() => format!("{last} {word}"),
            _ => word.to_owned(),
        };
        match lines.last_mut() {
            Some(last) if measured(&longer, SIZE, Weight::Plain) <= wide => *last = longer,
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
