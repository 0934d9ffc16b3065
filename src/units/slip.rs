//! What can be wrong with a number or a length, and how to write it right.

use super::Unit;

/// Why a text could not be read as a number or a length. Its `Display` goes on from the quoted text: `"4.9.8" has two
/// decimal points`.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub enum Slip {
    /// Nothing is written.
    #[error("is empty")]
    Empty,
    /// No number.
    #[error("is not a number")]
    NotANumber,
    /// No length.
    #[error("is not a length")]
    NotALength,
    /// More than one decimal mark in a number.
    #[error("has two decimal points")]
    TwoPoints,
    /// A comma where commas stand between fields.
    #[error("has a comma in a number")]
    Comma,
    /// Letters that are no unit.
    #[error("has an unknown unit, {0}")]
    UnknownUnit(String),
    /// A fraction without its unit where the job counts in millimetres.
    #[error("is a fraction without a unit, in a job in mm")]
    BareFraction,
    /// A fraction over nothing.
    #[error("divides by nothing")]
    ZeroDivisor,
    /// Two numbers side by side.
    #[error("has two numbers side by side")]
    TwoNumbers,
    /// Twelve inches or more behind feet.
    #[error("has twelve inches or more behind the feet")]
    TooManyInches,
    /// Eight eighths of an inch or more.
    #[error("has eight eighths or more behind the inches")]
    TooManyEighths,
    /// What a spreadsheet made of feet, inches and eighths.
    #[error("is a date that a spreadsheet made of an offset")]
    Date,
    /// Two units that don't go together.
    #[error("mixes units")]
    UnitsMixed,
    /// More than can be meant.
    #[error("is far too large")]
    TooLarge,
}

impl Slip {
    /// How to write a length right, in a job of this unit.
    pub fn mend_length(&self, seen: &str, unit: Unit) -> String {
        match (self, unit) {
            (Slip::TwoPoints, Unit::Mm) => mend_points(seen),
            (Slip::Comma, _) => mend_comma(seen),
            (Slip::BareFraction, _) => format!("Write {} in, or the length in mm.", seen.trim()),
            (Slip::TwoNumbers, Unit::Mm)
                if seen
                    .chars()
                    .all(|c| c.is_ascii_digit() || c.is_whitespace()) =>
            {
                format!("Write {}.", without(seen, char::is_whitespace))
            }
            (Slip::TooManyInches, _) => {
                "Write whole feet and less than 12 inches, as 16' 4 1/2\", or inches alone.".into()
            }
            (Slip::TooManyEighths, _) => "Write feet, inches and eighths, as 0-2-7.".into(),
            (Slip::Date, _) => {
                "Format the cells as text before you type: 0-2-7 is 2 7/8 in.".into()
            }
            (Slip::UnknownUnit(_), _) => "Write mm, cm, m, in or ft.".into(),
            (Slip::UnitsMixed, _) => "Write one unit, or feet and then inches.".into(),
            (Slip::ZeroDivisor, _) => "Write a fraction as 3/4.".into(),
            (Slip::TooLarge, Unit::Mm) => {
                "Write a length in mm, as 4978, or with its unit, as 4.978 m.".into()
            }
            (Slip::TooLarge, Unit::Inch) => {
                "Write a length in inches, as 196.5, or with its unit, as 16' 4 1/2\".".into()
            }
            (_, Unit::Mm) => "Write 4978, or 4.978 m.".into(),
            (_, Unit::Inch) => "Write 196.5, or 16' 4 1/2\".".into(),
        }
    }
}

/// `4.97.8` was most likely a length of four figures: 4978 mm, 4.978 m. Anything else gets the usual example.
fn mend_points(seen: &str) -> String {
    let figures = without(seen, |c| c == '.' || c == ',');
    match figures.parse::<u32>() {
        Ok(mm @ 1000..=9999) => format!("Write {mm}, or {}.{:03} m.", mm / 1000, mm % 1000),
        _ => "Write 4978, or 4.978 m.".into(),
    }
}

fn mend_comma(seen: &str) -> String {
    if seen.matches(',').count() == 1 && !seen.contains('.') {
        let point = seen.trim().replace(',', ".");
        format!("Write {point}; a decimal comma is read where semicolons stand between the fields.")
    } else {
        "Write the number without commas, as 4978.5.".into()
    }
}

fn without(text: &str, dropped: impl Fn(char) -> bool) -> String {
    text.chars().filter(|c| !dropped(*c)).collect()
}
