//! What a step in colour means to the eye: the one wording of it, for the terminal and for every page.

/// A colour step in words.
///
/// Unit: ΔE00. Source of the limits: W. Mokrzycki and M. Tatol, "Colour difference ΔE: a survey", Machine Graphics and
/// Vision 20 (2011) (cited from memory), where a standard observer is described; the words are ours. They were given
/// for neighbouring flat patches: figured wood hides a little more. The step is judged as it is printed, to one
/// decimal, so that 2.0 always has the same words beside it.
pub fn to_the_eye(step: f64) -> &'static str {
    match (step * 10.0).round() / 10.0 {
        s if s < 1.0 => "not seen",
        s if s < 2.0 => "seen by a practised eye only",
        s if s < 3.5 => "seen when looked for",
        s if s < 5.0 => "plain to see",
        _ => "looks like two woods",
    }
}

/// The same of colours that were taken by eye and are no more than a shade apart: whole shades that follow each other
/// are about 6 apart, so the step is as likely one of guessing.
pub fn of_guesses_to_the_eye(step: f64) -> &'static str {
    match to_the_eye(step) {
        "looks like two woods" => "a shade apart by eye, perhaps one wood",
        words => words,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_is_judged_as_it_is_printed() {
        assert_eq!(format!("{:.1}", 1.96), "2.0");
        assert_eq!(to_the_eye(1.96), to_the_eye(2.0));
        assert_ne!(to_the_eye(1.94), to_the_eye(2.0));
        assert_eq!(to_the_eye(0.0), "not seen");
        assert_eq!(of_guesses_to_the_eye(0.0), "not seen");
        assert_ne!(of_guesses_to_the_eye(6.0), to_the_eye(6.0));
        assert_eq!(to_the_eye(f64::INFINITY), "looks like two woods");
    }
}
