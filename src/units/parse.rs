//! Lengths as people write them: `4978`, `4.978 m`, `16' 4 1/2"`, `16ft 4-1/2in`, `3/4"`, `16′ 4½″`.
//!
//! Read into whole nanometres by integer arithmetic, so that an inch rule loses nothing. Start with [`length`].

use super::quantity::{Quantity, Token, tokens};
use super::slip::Slip;
use super::{Length, Unit};

/// What a number may be written with.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Decimal {
    /// Only a decimal point: the comma stands between fields.
    Point,
    /// A decimal point or a decimal comma.
    PointOrComma,
}

/// A unit that a length may carry.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Measure {
    /// Millimetre.
    Mm,
    /// Centimetre.
    Cm,
    /// Metre.
    M,
    /// Inch of 25.4 mm.
    Inch,
    /// Foot of 12 inches.
    Foot,
}

impl Measure {
    /// How many nanometres one of it is.
    pub const fn nm(self) -> i64 {
        match self {
            Measure::Mm => 1_000_000,
            Measure::Cm => 10_000_000,
            Measure::M => 1_000_000_000,
            Measure::Inch => 25_400_000,
            Measure::Foot => 304_800_000,
        }
    }

    /// Whether a fraction may stand without its unit where this one is meant: on a rule in inches, not in millimetres.
    const fn takes_fractions(self) -> bool {
        matches!(self, Measure::Inch | Measure::Foot)
    }
}

impl From<Unit> for Measure {
    fn from(unit: Unit) -> Measure {
        match unit {
            Unit::Mm => Measure::Mm,
            Unit::Inch => Measure::Inch,
        }
    }
}

/// Reads a length; a bare number is in `unit`.
///
/// Errors: the first [`Slip`] in the text.
pub fn length(text: &str, unit: Unit, decimal: Decimal) -> Result<Length, Slip> {
    measured(text, unit.into(), decimal).map(|(length, _)| length)
}

/// Reads a length and tells which unit it carried itself (the first, of feet and inches); a bare number is in `bare`.
///
/// Errors: the first [`Slip`] in the text.
pub fn measured(
    text: &str,
    bare: Measure,
    decimal: Decimal,
) -> Result<(Length, Option<Measure>), Slip> {
    let tokens = tokens(text)?;
    let (negative, tokens) = match tokens.as_slice() {
        [] => return Err(Slip::Empty),
        [Token::Hyphen, rest @ ..] => (true, rest),
        [Token::Plus, rest @ ..] => (false, rest),
        rest => (false, rest),
    };
    let (first, unit, rest) = Quantity::read(tokens, decimal)?;
    if unit.is_none() && first.is_fraction && !bare.takes_fractions() {
        return Err(Slip::BareFraction);
    }
    let mut nm = first.nm(unit.unwrap_or(bare))?;
    let rest = match (unit, rest) {
        (Some(Measure::Foot), [Token::Hyphen, rest @ ..] | rest) if !rest.is_empty() => {
            let (inches, under_feet, rest) = Quantity::read(rest, decimal)?;
            if !matches!(under_feet, None | Some(Measure::Inch)) {
                return Err(Slip::UnitsMixed);
            }
            let inches = inches.nm(Measure::Inch)?;
            if inches >= Measure::Foot.nm() {
                return Err(Slip::TooManyInches);
            }
            nm += inches;
            rest
        }
        (_, rest) => rest,
    };
    match rest {
        [] => Ok((Length::from_nm(if negative { -nm } else { nm }), unit)),
        [Token::Number(_) | Token::Vulgar(..), ..] if unit.is_none() => Err(Slip::TwoNumbers),
        [Token::Number(_) | Token::Vulgar(..), ..] => Err(Slip::UnitsMixed),
        _ => Err(Slip::NotALength),
    }
}

/// Reads an offset: a length, or feet, inches and eighths of an inch with a hyphen between, as in `0-2-7`; a plus
/// behind is a sixteenth of an inch more, a minus one less.
///
/// Errors: the first [`Slip`] in the text.
pub fn offset(text: &str, unit: Unit, decimal: Decimal) -> Result<Length, Slip> {
    let bare = text.trim().replace(['‑', '−', '–'], "-");
    if is_date(&bare) {
        return Err(Slip::Date);
    }
    let (main, sixteenth) = match bare.strip_suffix('+') {
        Some(main) => (main, 1),
        None => bare
            .strip_suffix('-')
            .map_or((bare.as_str(), 0), |main| (main, -1)),
    };
    let parts: Vec<&str> = main.split('-').map(str::trim).collect();
    let [feet, inches, eighths] = parts[..] else {
        return length(text, unit, decimal);
    };
    let whole = |part: &str| match part.parse::<i64>() {
        Ok(number) if part.len() <= 3 && part.bytes().all(|b| b.is_ascii_digit()) => Ok(number),
        _ => Err(Slip::NotALength),
    };
    let (feet, inches, eighths) = (whole(feet)?, whole(inches)?, whole(eighths)?);
    if inches >= 12 {
        return Err(Slip::TooManyInches);
    }
    if eighths >= 8 {
        return Err(Slip::TooManyEighths);
    }
    let sixteenths = 16 * (12 * feet + inches) + 2 * eighths + sixteenth;
    Ok(Length::from_nm(sixteenths * Measure::Inch.nm() / 16))
}

/// Whether a spreadsheet made a date of it: 2000-02-07, 02/07/2000.
fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split(['-', '/', '.']).collect();
    let figures = |part: &&str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    parts.len() == 3 && parts.iter().all(figures) && parts.iter().any(|part| part.len() == 4)
}

/// Reads a plain number without a unit.
///
/// Errors: the first [`Slip`] in the text; infinities, exponents and words are not numbers here.
pub fn number(text: &str, decimal: Decimal) -> Result<f64, Slip> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(Slip::Empty);
    }
    let (sign, digits) = match trimmed.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest),
        None => (1.0, trimmed.strip_prefix('+').unwrap_or(trimmed)),
    };
    super::quantity::checked_digits(digits, decimal)?;
    let value: f64 = digits
        .replace(',', ".")
        .parse()
        .map_err(|_| Slip::NotANumber)?;
    if value.is_finite() {
        Ok(sign * value)
    } else {
        Err(Slip::TooLarge)
    }
}
