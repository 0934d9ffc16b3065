//! How wide words are likely to be, and which words fit.

use super::scene::{Ink, Item, Text, Weight};

/// The smallest type in the drawing. Unit: millimetre of paper.
pub const SMALLEST: f64 = 1.6;

/// Between a name and what is written behind it, as a part of the height of the type.
const BEHIND: f64 = 0.5;

/// An upper guess of the width of words in a common sans-serif, whichever the viewer has.
///
/// Unit: millimetre of paper. Why a guess: the drawing carries no typeface. The widths are those of a wide one, so
/// the words come out narrower in most.
pub fn width(words: &str, size: f64, weight: Weight) -> f64 {
    let ems: f64 = words.chars().map(ems).sum();
    let heavier = match weight {
        Weight::Plain => 1.0,
        Weight::Bold => 1.13,
    };
    ems * size * heavier
}

fn ems(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | ' ' | '·' | 'I' => 0.36,
        'f' | 't' | 'r' | '-' | '(' | ')' | '[' | ']' | '/' | '"' => 0.46,
        'm' | 'w' | 'M' | 'W' | '%' | '@' | '…' => 1.0,
        '0'..='9' | 'a'..='z' => 0.65,
        'A'..='Z' => 0.8,
        c if (c as u32) < 0x1100 => 0.8,
        _ => 1.05,
    }
}

/// What may be written on a piece: a name in heavy type, and more in plain type behind it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wording {
    /// In heavy type.
    pub name: String,
    /// Behind it; may be empty.
    pub more: String,
}

/// A wording at a size.
#[derive(Clone, PartialEq, Debug)]
pub struct Fitted {
    wording: Wording,
    /// Height of the type.
    pub size: f64,
    /// Likely width of all of it.
    pub width: f64,
}

impl Wording {
    /// The wording at this size.
    pub fn at(&self, size: f64) -> Fitted {
        let more = if self.more.is_empty() {
            0.0
        } else {
            size * BEHIND + width(&self.more, size, Weight::Plain)
        };
        Fitted {
            wording: self.clone(),
            size,
            width: width(&self.name, size, Weight::Bold) + more,
        }
    }

    /// The wording made small enough for the room; `None` where it would be smaller than [`SMALLEST`].
    pub fn shrunk(&self, wished: f64, room: f64) -> Option<Fitted> {
        let size = wished * (room / self.at(wished).width).min(1.0);
        (size >= SMALLEST).then(|| self.at(size))
    }
}

impl Fitted {
    /// The words on the paper, from `left`, the type centred on the height `middle`.
    pub fn set(self, left: f64, middle: f64, pen: Ink) -> Vec<Item> {
        let base = middle + self.size * 0.36;
        let behind = left + width(&self.wording.name, self.size, Weight::Bold) + self.size * BEHIND;
        let name = Text::new(self.wording.name, (left, base), self.size, pen).bold();
        let mut items = vec![name.into()];
        if !self.wording.more.is_empty() {
            items.push(Text::new(self.wording.more, (behind, base), self.size, pen).into());
        }
        items
    }
}

/// The beginning of the words that fits the room by the guess of their width.
pub fn cut_off(words: &str, size: f64, weight: Weight, room: f64) -> String {
    beginning(words, |words| width(words, size, weight) <= room)
}

/// The words, or as much of their beginning as fits with three dots behind it.
pub fn beginning(words: &str, fits: impl Fn(&str) -> bool) -> String {
    if fits(words) {
        return words.into();
    }
    let ends: Vec<usize> = words.char_indices().map(|(at, _)| at).collect();
    let short = |end: &usize| words[..*end].trim_end().to_owned() + "…";
    // By halves, so that very long words are no trouble.
    match ends.partition_point(|end| fits(&short(end))) {
        0 => String::new(),
        fit => short(&ends[fit - 1]),
    }
}
