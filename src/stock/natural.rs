//! The order in which people count names: B2 before B10.

use std::cmp::Ordering;

/// Compares two names, with figures counted as numbers. Names that differ at all are never equal.
pub fn natural(one: &str, other: &str) -> Ordering {
    let (mut rest, mut others) = (one, other);
    loop {
        match (rest.chars().next(), others.chars().next()) {
            (None, None) => return one.cmp(other),
            (None, _) => return Ordering::Less,
            (_, None) => return Ordering::Greater,
            (Some(c), Some(d)) if c.is_ascii_digit() && d.is_ascii_digit() => {
                let (figures, after) = figures(rest);
                let (figures_other, after_other) = self::figures(others);
                let order = (figures.len(), figures).cmp(&(figures_other.len(), figures_other));
                if order != Ordering::Equal {
                    return order;
                }
                (rest, others) = (after, after_other);
            }
            (Some(c), Some(d)) if c == d => {
                rest = &rest[c.len_utf8()..];
                others = &others[d.len_utf8()..];
            }
            (Some(c), Some(d)) => return c.cmp(&d),
        }
    }
}

/// The figures a text begins with, without leading zeros, and the rest.
fn figures(text: &str) -> (&str, &str) {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    (text[..end].trim_start_matches('0'), &text[end..])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_counted_as_people_count() {
        let mut names = vec!["B10", "B2", "A1", "B2b", "B02", "B", "10", "9"];
        names.sort_by(|one, other| natural(one, other));
        assert_eq!(names, ["9", "10", "A1", "B", "B02", "B2", "B2b", "B10"]);
    }
}
