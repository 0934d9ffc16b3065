//! Small words of a label.

use crate::plan::BowEnd;

/// The end of a strip in words.
pub const fn strip_end(end: BowEnd) -> &'static str {
    match end {
        BowEnd::Mark => "marked",
        BowEnd::Plain => "plain",
    }
}

/// A name, or as much of its beginning as there is room for.
pub fn short(name: &str, most: usize) -> String {
    match name.char_indices().nth(most) {
        Some((at, _)) => format!("{}…", name[..at].trim_end()),
        None => name.into(),
    }
}
