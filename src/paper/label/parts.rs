//! Small words of a label.

/// A name, or as much of its beginning as there is room for.
pub fn short(name: &str, most: usize) -> String {
    match name.char_indices().nth(most) {
        Some((at, _)) => format!("{}…", name[..at].trim_end()),
        None => name.into(),
    }
}
