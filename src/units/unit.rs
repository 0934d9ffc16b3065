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

    /// What bare numbers are in, as a sentence has it.
    pub const fn spoken(self) -> &'static str {
        match self {
            Unit::Mm => "mm",
            Unit::Inch => "inches",
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

    /// The length of a board, a strip or a course, for people: as [`Unit::shop`], but in feet and inches from six feet
    /// on.
    pub fn wood(self, length: Length) -> String {
        let inches = (length.nm() as f64 / Unit::Inch.nm() as f64 * 16.0).round() / 16.0;
        if self == Unit::Mm || inches < 72.0 {
            return self.shop(length);
        }
        let feet = (inches / 12.0).floor();
        let rest = Length::from_mm(25.4 * (inches - 12.0 * feet));
        match fraction(rest, 16).as_str() {
            "0" => format!("{feet}'"),
            part if part.contains(' ') || !part.contains('/') => format!("{feet}' {part}\""),
            // Or 12' 1/8" might be read as twelve eighths.
            part => format!("{feet}' 0 {part}\""),
        }
    }

    /// Many lengths end to end, for people: metres, or feet.
    pub fn running(self, length: Length) -> String {
        match self {
            Unit::Mm => format!("{:.1} m", length.metres()),
            Unit::Inch => format!("{:.1} ft", length.mm() / 304.8),
        }
    }

    /// A length that is most likely a slip, for people: metres, or feet and inches.
    pub fn far(self, length: Length) -> String {
        match self {
            Unit::Mm => format!("{:.2} m", length.metres()),
            Unit::Inch => self.wood(length),
        }
    }

    /// A length as a rule shows it, for what is marked with a knife: tenths of a millimetre, or inches to a
    /// sixty-fourth.
    pub fn rule(self, length: Length) -> String {
        let mark = if self == Unit::Mm { " mm" } else { "\"" };
        self.bare_rule(length) + mark
    }

    /// The same without the mark of the unit behind it.
    pub fn bare_rule(self, length: Length) -> String {
        match self {
            Unit::Mm => format!("{:.1}", length.mm()),
            Unit::Inch => fraction(length, 64),
        }
    }

    /// Millimetres as a calliper shows them: to a tenth of a millimetre or a hundredth of an inch, without the unit.
    pub fn gauge(self, mm: f64) -> String {
        let value = Length::from_mm(mm).nm() as f64 / self.nm() as f64;
        match self {
            Unit::Mm => format!("{value:.1}"),
            Unit::Inch => format!("{value:.2}"),
        }
    }

    /// A length for people: whole millimetres, or inches to a sixteenth, with the unit behind it.
    pub fn shop(self, length: Length) -> String {
        match self {
            Unit::Mm => format!("{:.0} mm", length.mm()),
            Unit::Inch => format!("{}\"", fraction(length, 16)),
        }
    }
}

/// Inches to the nearest of such parts, a power of two, as people write them: `4 3/16`.
fn fraction(length: Length, parts: i64) -> String {
    let all = (length.nm() as f64 * parts as f64 / Unit::Inch.nm() as f64).round() as i64;
    let sign = if all < 0 { "-" } else { "" };
    let (whole, part) = (all.abs() / parts, all.abs() % parts);
    if part == 0 {
        return format!("{sign}{whole}");
    }
    let shift = part.trailing_zeros();
    let (top, under) = (part >> shift, parts >> shift);
    match whole {
        0 => format!("{sign}{top}/{under}"),
        _ => format!("{sign}{whole} {top}/{under}"),
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

    #[test]
    fn long_wood_is_told_in_feet_and_inches() {
        let inches = |inches: f64| Unit::Inch.wood(Length::from_mm(25.4 * inches));
        for (length, told) in [
            (71.5, "71 1/2\""),
            (72.0, "6'"),
            (196.25, "16' 4 1/4\""),
            (206.0, "17' 2\""),
            (120.125, "10' 0 1/8\""),
            (143.99, "12'"),
        ] {
            assert_eq!(inches(length), told);
        }
        assert_eq!(Unit::Mm.wood(Length::from_mm(4977.6)), "4978 mm");
        assert_eq!(Unit::Inch.running(Length::from_mm(3048.0)), "10.0 ft");
    }

    #[test]
    fn what_is_marked_with_a_knife_is_told_to_a_sixty_fourth_or_a_tenth() {
        let length = Length::from_mm(25.4 * (3.0 + 11.0 / 64.0) + 0.1);
        assert_eq!(Unit::Inch.rule(length), "3 11/64\"");
        assert_eq!(Unit::Mm.rule(length), "80.7 mm");
        assert_eq!(Unit::Inch.bare_rule(Length::ZERO), "0");
    }
}
