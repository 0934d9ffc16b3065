//! The unit that a job is written in, and how a length is printed in it.

use super::{Length, parse};

/// What a bare number means in a job's files.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Unit {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches of 25.4 mm.
    Inch,
}

impl Unit {
    /// How many nanometres one of the unit is.
    pub const fn nm(self) -> i64 {
        match self {
            Unit::Mm => 1_000_000,
            Unit::Inch => 25_400_000,
        }
    }

    /// The unit's short name, as written behind a number and in boat.toml.
    pub const fn name(self) -> &'static str {
        match self {
            Unit::Mm => "mm",
            Unit::Inch => "in",
        }
    }

    /// A length as a bare number for a file: three decimals in mm, four in inches, and more only where
    /// fewer would not read back to the same nanometre.
    pub fn exact(self, length: Length) -> String {
        let least = match self {
            Unit::Mm => 3,
            Unit::Inch => 4,
        };
        let value = length.nm() as f64 / self.nm() as f64;
        for decimals in least..9 {
            let text = format!("{value:.decimals$}");
            if parse::length(&text, self, parse::Decimal::Point) == Ok(length) {
                return text;
            }
        }
        format!("{value:.9}")
    }

    /// A length for people: whole millimetres, or inches to a sixteenth, with the unit behind it.
    pub fn shop(self, length: Length) -> String {
        match self {
            Unit::Mm => format!("{:.0} mm", length.mm()),
            Unit::Inch => sixteenths(length),
        }
    }
}

fn sixteenths(length: Length) -> String {
    let all = (length.nm() as f64 * 16.0 / Unit::Inch.nm() as f64).round() as i64;
    let sign = if all < 0 { "-" } else { "" };
    let (whole, part) = (all.abs() / 16, all.abs() % 16);
    if part == 0 {
        return format!("{sign}{whole}\"");
    }
    let shift = part.trailing_zeros();
    let (top, under) = (part >> shift, 16 >> shift);
    if whole == 0 {
        format!("{sign}{top}/{under}\"")
    } else {
        format!("{sign}{whole} {top}/{under}\"")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sixty_fourth_of_an_inch_reads_back_exactly() {
        let length = Length::from_nm(396_875);
        assert_eq!(Unit::Inch.exact(length), "0.015625");
        assert_eq!(Unit::Mm.exact(length), "0.396875");
    }

    #[test]
    fn shop_lengths_are_what_a_tape_shows() {
        assert_eq!(Unit::Mm.shop(Length::from_mm(4977.6)), "4978 mm");
        assert_eq!(Unit::Inch.shop(Length::from_mm(25.4 * 12.5)), "12 1/2\"");
        assert_eq!(Unit::Inch.shop(Length::from_mm(-25.4 * 0.75)), "-3/4\"");
        assert_eq!(Unit::Inch.shop(Length::from_mm(25.4 * 7.0)), "7\"");
    }
}
