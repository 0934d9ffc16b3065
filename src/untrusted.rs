//! Text from outside, made safe to show: names, notes, file names and typed words may come from a stranger.
//!
//! A terminal obeys control characters, and characters that change the direction of writing make one name look like
//! another. Knows nothing of boats.

use std::path::Path;

/// The longest name, in characters. More fits on no label, and slows down whoever has to lay it out.
pub const LONGEST_NAME: usize = 200;

/// Whether a character is not seen but does something: control characters (C0 and C1), marks, embeddings, overrides
/// and isolates of the direction of writing, separators of lines, what has no width, tags, and code points that are
/// no characters.
///
/// Source: The Unicode Standard, version 15.0, sections 23.1 to 23.9.
pub fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fdd0}'..='\u{fdef}' | '\u{e0000}'..='\u{e007f}')
}

/// The text on one line, with a blank for each hidden character.
pub fn clean(text: &str) -> String {
    let visible = |c: char| if is_hidden(c) { ' ' } else { c };
    text.chars().map(visible).collect()
}

/// A path as it may be shown.
pub fn shown(path: &Path) -> String {
    clean(&path.display().to_string())
}

/// What keeps a text from being a name, and the mend; `None` where nothing does.
pub fn slip_in_name(name: &str) -> Option<(String, String)> {
    if let Some(c) = name.chars().find(|c| is_hidden(*c)) {
        return Some((
            format!(
                "has a character in it that is not seen (U+{:04X})",
                u32::from(c)
            ),
            "Write it anew, letter by letter.".into(),
        ));
    }
    (name.chars().nth(LONGEST_NAME).is_some()).then(|| {
        (
            format!("is longer than {LONGEST_NAME} characters"),
            "Choose a shorter one.".into(),
        )
    })
}
