//! What somebody most likely meant to write.

/// The known word nearest to a text: at most a third of its letters differ, and not more than three.
pub(super) fn nearest<'k>(seen: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let seen = seen.to_lowercase();
    let most = (seen.chars().count() / 3).clamp(1, 3);
    known
        .into_iter()
        .map(|word| (distance(&seen, &word.to_lowercase()), word))
        .filter(|(apart, _)| *apart <= most)
        .min_by_key(|(apart, _)| *apart)
        .map(|(_, word)| word)
}

/// Letters to add, drop or change to get from one word to the other. Source: V. I. Levenshtein, "Binary codes capable
/// of correcting deletions, insertions and reversals", 1966.
fn distance(one: &str, other: &str) -> usize {
    // A word longer than any key or name that we know is never near.
    const LONGEST: usize = 100;
    let other: Vec<char> = other.chars().take(LONGEST).collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (i, c) in one.chars().take(LONGEST).enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, d) in other.iter().enumerate() {
            let change = diagonal + usize::from(c != *d);
            diagonal = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(row[j + 1] + 1);
        }
    }
    row[other.len()]
}

/// `Did you mean "x"?`, or the list of what is known where nothing is near.
pub(super) fn advice(seen: &str, known: &[&str]) -> String {
    match nearest(seen, known.iter().copied()) {
        Some(word) => format!("Did you mean \"{word}\"?"),
        None => format!("Write {}.", one_of(known)),
    }
}

/// `a, b or c`.
pub(super) fn one_of(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} or {last}", rest.join(", ")),
    }
}
