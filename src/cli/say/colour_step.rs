//! What a step in colour means to the eye.

/// A colour step in words.
///
/// Unit: ΔE00. Source of the limits: W. Mokrzycki and M. Tatol, "Colour difference ΔE: a survey", Machine Graphics and
/// Vision 20 (2011), where a standard observer is described; the words are ours. They were given for neighbouring flat
/// patches: figured wood hides a little more.
pub(super) fn to_the_eye(step: f64) -> &'static str {
    match step {
        s if s < 1.0 => "not seen",
        s if s < 2.0 => "seen by a practised eye only",
        s if s < 3.5 => "seen when looked for",
        s if s < 5.0 => "plain to see",
        _ => "looks like two woods",
    }
}
