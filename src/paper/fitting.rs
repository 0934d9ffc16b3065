//! Words made to fit: they shrink to a limit, go on in a new line between two parts, and are refused before they run over.

use super::BLACK;
use crate::draw::scene::{Rect, Text, Weight};
use crate::draw::typeface::measured;

/// The smallest type that is printed. Unit: mm; 5 points, the least that a common printer gives clean.
pub const LEAST: f64 = 1.8;
/// From line to line, as a part of the size.
pub const LEADING: f64 = 1.3;
/// Between two parts of a line.
const BETWEEN: &str = "  ·  ";

/// Words that have no room where they must stand.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Unfit {
    /// The words.
    pub words: String,
    /// The first character that can't be printed at all, where that is the reason.
    pub unprintable: Option<char>,
}

/// The largest size, up to the wished one, at which the words fit the room; `None` below [`LEAST`].
pub fn size_for(words: &str, weight: Weight, wished: f64, room: f64) -> Option<f64> {
    let wide = measured(words, 1.0, weight);
    let most = if wide > 0.0 { room / wide } else { wished };
    // Rounded down: a size is written with three decimals.
    let size = (wished.min(most) * 100.0).floor() / 100.0;
    (size >= LEAST).then_some(size)
}

/// The words, or as much of their beginning as fits with three dots behind it.
pub fn cut_off(words: &str, size: f64, weight: Weight, room: f64) -> String {
    if measured(words, size, weight) <= room {
        return words.into();
    }
    let mut kept: Vec<char> = words.chars().collect();
    while kept.pop().is_some() {
        let short = kept.iter().collect::<String>().trim_end().to_owned() + "…";
        if measured(&short, size, weight) <= room {
            return short;
        }
    }
    String::new()
}

/// Parts put into lines that fit the room at this size; a part is never broken. `None` where one part alone is too wide.
pub fn lines(parts: &[String], size: f64, weight: Weight, room: f64) -> Option<Vec<String>> {
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        if measured(part, size, weight) > room {
            return None;
        }
        if let Some(last) = lines.last_mut() {
            let longer = format!("{last}{BETWEEN}{part}");
            if measured(&longer, size, weight) <= room {
                *last = longer;
                continue;
            }
        }
        lines.push(part.clone());
    }
    Some(lines)
}

/// Parts in lines over an area, as large as they fit, up to the wished size.
pub fn block(parts: &[String], area: Rect, wished: f64) -> Option<Vec<Text>> {
    let mut size = wished;
    while size >= LEAST {
        let set = lines(parts, size, Weight::Plain, area.w);
        if let Some(set) = set.filter(|set| set.len() as f64 * size * LEADING <= area.h + 1e-9) {
            let from = |n: usize| area.y + (n as f64 * LEADING + 1.0) * size;
            let texts = set.into_iter().enumerate();
            return Some(
                texts
                    .map(|(n, words)| Text::new(words, (area.x, from(n)), size, BLACK))
                    .collect(),
            );
        }
        size -= 0.1;
    }
    None
}
