//! Words made to fit: they shrink to a limit, go on in a new line between two parts, and are refused before they run
//! over.

use super::BLACK;
use crate::draw::fit::beginning;
use crate::draw::scene::{Item, Rect, Text, Weight};
use crate::draw::typeface::measured;

/// The smallest type that is printed. Unit: mm; 5 points, the least that a common printer gives clean.
pub const LEAST: f64 = 1.8;
/// From line to line, as a part of the size.
pub const LEADING: f64 = 1.3;
/// Between two parts of a line.
const BETWEEN: &str = " · ";

/// Words that have no room where they must stand, or can't be printed at all.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Unfit {
    /// A character that the typeface has not got, and the words that it is in.
    Unprintable(char, String),
    /// The name of a strip is too long for its label; what else is on it would fit.
    Name(String),
    /// The label is too small for what a label says, whatever the name.
    Label,
}

/// The largest size, up to the wished one, at which the words fit the room; `None` below [`LEAST`].
pub fn size_for(words: &str, weight: Weight, wished: f64, room: f64) -> Option<f64> {
    let wide = measured(words, 1.0, weight);
    let most = if wide > 0.0 { room / wide } else { wished };
    // Rounded down: a size is written with three decimals.
    let size = (wished.min(most) * 100.0).floor() / 100.0;
    (size >= LEAST).then_some(size)
}

/// The beginning of the words that fits the room in print.
pub fn cut_off(words: &str, size: f64, weight: Weight, room: f64) -> String {
    beginning(words, |words| measured(words, size, weight) <= room)
}

/// Words and how wide they are in type of 1 mm, so that they are measured once however often a size is tried.
#[derive(Clone, PartialEq, Debug)]
pub struct Phrase {
    words: String,
    weight: Weight,
    wide: f64,
}

impl Phrase {
    /// In plain type.
    pub fn plain(words: impl Into<String>) -> Phrase {
        Phrase::of(words.into(), Weight::Plain)
    }

    /// In heavy type.
    pub fn bold(words: impl Into<String>) -> Phrase {
        Phrase::of(words.into(), Weight::Bold)
    }

    fn of(words: String, weight: Weight) -> Phrase {
        let wide = measured(&words, 1.0, weight);
        Phrase {
            words,
            weight,
            wide,
        }
    }
}

/// Parts put into lines that fit the room at this size; a part is never broken. `None` where one part alone is too
/// wide.
fn lines_of(parts: &[Phrase], between: f64, size: f64, room: f64) -> Option<Vec<Phrase>> {
    let mut lines: Vec<Phrase> = Vec::new();
    for part in parts {
        if part.wide * size > room {
            return None;
        }
        match lines.last_mut() {
            Some(last) if (last.wide + between + part.wide) * size <= room => {
                last.words.push_str(BETWEEN);
                last.words.push_str(&part.words);
                last.wide += between + part.wide;
            }
            _ => lines.push(part.clone()),
        }
    }
    Some(lines)
}

/// Parts of plain words in lines that fit the room at this size; a part that is too wide alone is cut off.
pub fn lines(parts: &[String], size: f64, room: f64) -> Vec<String> {
    let short = parts
        .iter()
        .map(|part| Phrase::plain(cut_off(part, size, Weight::Plain, room)));
    let short: Vec<Phrase> = short.collect();
    let between = measured(BETWEEN, 1.0, Weight::Plain);
    let lines = lines_of(&short, between, size, room).unwrap_or(short);
    lines.into_iter().map(|line| line.words).collect()
}

/// Lines of their own and parts in lines below them, over an area, as large as they fit, up to the wished size. With
/// the size that they have.
pub fn block(
    heads: &[Phrase],
    parts: &[Phrase],
    area: Rect,
    wished: f64,
) -> Option<(f64, Vec<Item>)> {
    let between = measured(BETWEEN, 1.0, Weight::Plain);
    let widest = heads.iter().chain(parts).map(|part| part.wide);
    let most = area.w / widest.fold(0.1, f64::max);
    // In whole tenths, so that the least size itself is tried.
    let tenths = |size: f64| (size * 10.0 + 1e-9).floor() as u32;
    (tenths(LEAST)..=tenths(wished.min(most)))
        .rev()
        .find_map(|tenths| {
            let size = f64::from(tenths) / 10.0;
            let under = lines_of(parts, between, size, area.w)?;
            let many = (heads.len() + under.len()) as f64;
            let all = heads.iter().cloned().chain(under);
            (many * size * LEADING <= area.h + 1e-9).then(|| (size, set(all, area, size)))
        })
}

fn set(lines: impl Iterator<Item = Phrase>, area: Rect, size: f64) -> Vec<Item> {
    let texts = lines.enumerate().map(|(n, line)| {
        let base = area.y + (n as f64 * LEADING + 1.0) * size;
        let text = Text::new(line.words, (area.x, base), size, BLACK);
        Item::from(Text {
            weight: line.weight,
            ..text
        })
    });
    texts.collect()
}
