//! How wide words are likely to be, and which words fit.

use super::scene::Weight;

/// The smallest type in the drawing. Unit: millimetre of paper.
pub const SMALLEST: f64 = 1.6;

/// An upper guess of the width of words in a common sans-serif, whichever the viewer has.
///
/// Unit: millimetre of paper. Why a guess: the drawing carries no typeface. The widths are those of a wide one, so the words
/// come out narrower in most.
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

/// Words at a size.
#[derive(Clone, PartialEq, Debug)]
pub struct Fitted {
    pub words: String,
    pub size: f64,
    pub width: f64,
}

/// The first of these wordings that fits the room at the wished size; else the last one made smaller, but not below
/// [`SMALLEST`]; else none.
pub fn first_that_fits(wordings: &[String], room: f64, wished: f64) -> Option<Fitted> {
    let at = |words: &String, size: f64| Fitted {
        words: words.clone(),
        size,
        width: width(words, size, Weight::Plain),
    };
    let as_wished = wordings.iter().map(|words| at(words, wished));
    if let Some(fitted) = as_wished.into_iter().find(|fitted| fitted.width <= room) {
        return Some(fitted);
    }
    let shortest = at(wordings.last()?, wished);
    let size = wished * room / shortest.width;
    (size >= SMALLEST).then(|| at(&shortest.words, size))
}

/// The words, or as much of their beginning as fits with three dots behind it.
pub fn cut_off(words: &str, size: f64, weight: Weight, room: f64) -> String {
    if width(words, size, weight) <= room {
        return words.into();
    }
    let mut kept: Vec<char> = words.chars().collect();
    while kept.pop().is_some() {
        let short: String = kept.iter().collect::<String>().trim_end().to_owned() + "…";
        if width(&short, size, weight) <= room {
            return short;
        }
    }
    String::new()
}
