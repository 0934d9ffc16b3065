//! What somebody most likely meant to write.

/// What is wrong with the name of a panel that there is not.
pub(super) const NO_SUCH_PANEL: &str = "is not a panel of boat.toml";

/// The known word nearest to a text: at most a third of its letters differ, and not more than three. One letter alone
/// is near none but itself.
pub(super) fn nearest<'k>(seen: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let seen = seen.to_lowercase();
    if seen.is_empty() {
        return None;
    }
    let most = match seen.chars().count() {
        1 => 0,
        letters => (letters / 3).clamp(1, 3),
    };
    known
        .into_iter()
        .map(|word| (distance(&seen, &word.to_lowercase()), word))
        .filter(|(apart, _)| *apart <= most)
        .min_by_key(|(apart, _)| *apart)
        .map(|(_, word)| word)
}

/// Letters to add, drop, change or swap with their neighbour to get from one word to the other.
/// Source: V. I. Levenshtein, "Binary codes capable of correcting deletions, insertions and reversals", 1966, with the
/// swaps of F. J. Damerau, "A technique for computer detection and correction of spelling errors", 1964.
fn distance(one: &str, other: &str) -> usize {
    // A word longer than any key or name that we know is never near.
    const LONGEST: usize = 100;
    let one: Vec<char> = one.chars().take(LONGEST).collect();
    let other: Vec<char> = other.chars().take(LONGEST).collect();
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=other.len()).collect();
    for i in 1..=one.len() {
        let mut row = vec![i];
        for j in 1..=other.len() {
            let change = last[j - 1] + usize::from(one[i - 1] != other[j - 1]);
            let mut least = change.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1] {
                least = least.min(before[j - 2] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut last, row);
    }
    last[other.len()]
}

/// `Did you mean "x"?`, or the list of what is known where nothing is near.
pub(super) fn advice(seen: &str, known: &[&str]) -> String {
    did_you_mean(seen, known.iter().copied()).unwrap_or_else(|| format!("Write {}.", one_of(known)))
}

/// `Did you mean "x"?`; `None` where nothing is near.
pub(super) fn did_you_mean<'k>(
    seen: &str,
    known: impl IntoIterator<Item = &'k str>,
) -> Option<String> {
    nearest(seen, known).map(|word| format!("Did you mean \"{word}\"?"))
}

/// `a, b or c`.
pub(super) fn one_of(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} or {last}", rest.join(", ")),
    }
}
