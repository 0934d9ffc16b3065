//! What a course is called: its number, and a letter where the stop line cuts its band in two.

use std::fmt;
use std::str::FromStr;

/// Which part of a band of girth a course is.
///
/// A stop line that rises and falls may cut one band into several courses; each is planned and labelled as itself.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Stretch {
    /// All of it: the band is whole.
    #[default]
    Whole,
    /// One of several, from the bow aft: 0 is written `a`.
    Part(u8),
}

impl Stretch {
    /// The most stretches that one band can have: one a letter.
    pub const MOST: usize = 26;

    /// The letter it is told by; nothing where the band is whole.
    pub fn letter(self) -> Option<char> {
        match self {
            Stretch::Whole => None,
            Stretch::Part(part) => Some(char::from(b'a' + part.min(Self::MOST as u8 - 1))),
        }
    }
}

/// The name of a course in its panel: `7`, or `7a` and `7b` for the stretches of one band.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct CourseName {
    /// The band's number from the start line.
    pub number: u32,
    /// Which part of the band.
    pub stretch: Stretch,
}

impl fmt::Display for CourseName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Made whole first, so that a width asked for holds for number and letter together.
        let mut text = self.number.to_string();
        text.extend(self.stretch.letter());
        f.pad(&text)
    }
}

/// A text that is no name of a course.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct NotAName;

impl FromStr for CourseName {
    type Err = NotAName;

    fn from_str(text: &str) -> Result<CourseName, NotAName> {
        let figures = text.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let stretch = match &text.as_bytes()[figures.len()..] {
            [] => Stretch::Whole,
            [letter] => Stretch::Part(letter.to_ascii_lowercase() - b'a'),
            _ => return Err(NotAName),
        };
        let all_figures = !figures.is_empty() && figures.bytes().all(|b| b.is_ascii_digit());
        match figures.parse() {
            Ok(number) if all_figures => Ok(CourseName { number, stretch }),
            _ => Err(NotAName),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_second_stretch_of_band_seven_is_written_7b() {
        let name = CourseName {
            number: 7,
            stretch: Stretch::Part(1),
        };
        assert_eq!(name.to_string(), "7b");
        assert_eq!(format!("{name:>4}"), "  7b");
        assert_eq!("7b".parse(), Ok(name));
        assert_eq!("7B".parse(), Ok(name));
        assert_eq!(
            "7".parse::<CourseName>().map(|n| n.stretch),
            Ok(Stretch::Whole)
        );
        for wrong in ["", "b", "7ab", "7é", "-7", "+7", "7 b", "99999999999"] {
            assert_eq!(wrong.parse::<CourseName>(), Err(NotAName), "{wrong}");
        }
    }
}
