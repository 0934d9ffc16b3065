//! The words that a length is made of, and one number of it with its unit.

use super::parse::{Decimal, Measure};
use super::slip::Slip;

/// A word of a length.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Token<'t> {
    /// Figures, perhaps with decimal marks.
    Number(&'t str),
    /// One of the ready-made fractions, ½ and so on: top and under.
    Vulgar(i64, i64),
    Slash,
    Hyphen,
    Plus,
    Unit(Measure),
}

/// The longest length that is read at all. Unit: nanometre; a kilometre. Why: sums of millions of lengths still fit.
const LONGEST: i128 = 1_000 * 1_000_000_000;

/// Most figures before the decimal mark, and the figures after it that are looked at. Why: the integer arithmetic
/// below stays within 128 bits, and 15 decimals of a metre are far finer than a nanometre.
const WHOLE_FIGURES: usize = 12;
const DECIMAL_FIGURES: usize = 15;

/// Splits a length into its words.
///
/// Errors: letters that are no unit, or a sign that has no place in a length.
pub(super) fn tokens(text: &str) -> Result<Vec<Token<'_>>, Slip> {
    let mut all = Vec::new();
    let mut rest = text.trim();
    while let Some(c) = rest.chars().next() {
        let (token, after) = if c.is_ascii_digit() || c == '.' || c == ',' {
            let end = end_of(rest, |c| c.is_ascii_digit() || c == '.' || c == ',');
            (Token::Number(&rest[..end]), &rest[end..])
        } else if c.is_alphabetic() {
            let end = end_of(rest, char::is_alphabetic);
            let (word, after) = (&rest[..end], &rest[end..]);
            (Token::Unit(unit_word(word)?), full_stop(after))
        } else {
            let after = &rest[c.len_utf8()..];
            match c {
                '\'' | '′' | '’' => match after.strip_prefix(['\'', '′', '’']) {
                    Some(after) => (Token::Unit(Measure::Inch), after),
                    None => (Token::Unit(Measure::Foot), after),
                },
                '"' | '″' | '”' | '“' => (Token::Unit(Measure::Inch), after),
                '/' | '⁄' => (Token::Slash, after),
                '-' | '−' | '‑' => (Token::Hyphen, after),
                '+' => (Token::Plus, after),
                _ => {
                    let (top, under) = vulgar(c).ok_or(Slip::NotALength)?;
                    (Token::Vulgar(top, under), after)
                }
            }
        };
        all.push(token);
        rest = after.trim_start();
    }
    Ok(all)
}

fn end_of(text: &str, part: impl Fn(char) -> bool) -> usize {
    text.find(|c| !part(c)).unwrap_or(text.len())
}

/// `16 ft. 4 in.` is written too: the full stop behind a unit says nothing.
fn full_stop(after: &str) -> &str {
    match after.strip_prefix('.') {
        Some(behind) if !behind.starts_with(|c: char| c.is_ascii_digit()) => behind,
        _ => after,
    }
}

fn unit_word(word: &str) -> Result<Measure, Slip> {
    match word.to_lowercase().as_str() {
        "mm" => Ok(Measure::Mm),
        "cm" => Ok(Measure::Cm),
        "m" => Ok(Measure::M),
        "in" | "inch" | "inches" => Ok(Measure::Inch),
        "ft" | "foot" | "feet" => Ok(Measure::Foot),
        "nan" | "inf" | "infinity" => Err(Slip::NotALength),
        _ => Err(Slip::UnknownUnit(word.to_owned())),
    }
}

const fn vulgar(c: char) -> Option<(i64, i64)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        _ => return None,
    })
}

/// One number of a length: top over under, never negative.
pub(super) struct Quantity {
    top: i128,
    under: i128,
    /// Whether it was written with a fraction.
    pub(super) is_fraction: bool,
}

impl Quantity {
    /// Reads a number and the unit behind it, and gives what is left.
    pub(super) fn read<'a, 't>(
        tokens: &'a [Token<'t>],
        decimal: Decimal,
    ) -> Result<(Quantity, Option<Measure>, &'a [Token<'t>]), Slip> {
        let (quantity, rest) = match tokens {
            [
                Token::Number(top),
                Token::Slash,
                Token::Number(under),
                rest @ ..,
            ] => (Quantity::mixed("0", whole(top)?, whole(under)?)?, rest),
            [
                Token::Number(main),
                Token::Number(top),
                Token::Slash,
                Token::Number(under),
                rest @ ..,
            ] => (Quantity::mixed(main, whole(top)?, whole(under)?)?, rest),
            [
                Token::Number(main),
                Token::Hyphen,
                Token::Number(top),
                Token::Slash,
                Token::Number(under),
                rest @ ..,
            ] => {
                if whole(main)? == 0 {
                    return Err(Slip::NotALength);
                }
                (Quantity::mixed(main, whole(top)?, whole(under)?)?, rest)
            }
            [Token::Number(main), Token::Vulgar(top, under), rest @ ..]
            | [
                Token::Number(main),
                Token::Hyphen,
                Token::Vulgar(top, under),
                rest @ ..,
            ] => (
                Quantity::mixed(main, i128::from(*top), i128::from(*under))?,
                rest,
            ),
            [Token::Vulgar(top, under), rest @ ..] => (
                Quantity::mixed("0", i128::from(*top), i128::from(*under))?,
                rest,
            ),
            [Token::Number(figures), rest @ ..] => (Quantity::decimal(figures, decimal)?, rest),
            _ => return Err(Slip::NotALength),
        };
        match rest {
            [Token::Unit(unit), rest @ ..] => Ok((quantity, Some(*unit), rest)),
            _ => Ok((quantity, None, rest)),
        }
    }

    fn mixed(main: &str, top: i128, under: i128) -> Result<Quantity, Slip> {
        if under == 0 {
            return Err(Slip::ZeroDivisor);
        }
        let top = whole(main)? * under + top;
        Ok(Quantity {
            top,
            under,
            is_fraction: true,
        })
    }

    fn decimal(figures: &str, decimal: Decimal) -> Result<Quantity, Slip> {
        let (main, part) = checked_digits(figures, decimal)?;
        let part = &part[..part.len().min(DECIMAL_FIGURES)];
        let under = 10_i128.pow(part.len() as u32);
        Ok(Quantity {
            top: whole(main)? * under + value(part),
            under,
            is_fraction: false,
        })
    }

    /// In nanometres, halves rounded up.
    pub(super) fn nm(&self, unit: Measure) -> Result<i64, Slip> {
        let scaled = self.top * i128::from(unit.nm());
        let nm = (2 * scaled + self.under) / (2 * self.under);
        match i64::try_from(nm) {
            Ok(fits) if nm <= LONGEST => Ok(fits),
            _ => Err(Slip::TooLarge),
        }
    }
}

/// The figures before and after the decimal mark.
pub(super) fn checked_digits(figures: &str, decimal: Decimal) -> Result<(&str, &str), Slip> {
    let is_mark = |c: char| c == '.' || c == ',';
    if figures.contains(',') && decimal == Decimal::Point {
        return Err(Slip::Comma);
    }
    let (main, part) = figures.split_once(is_mark).unwrap_or((figures, ""));
    if part.contains(is_mark) {
        return Err(Slip::TwoPoints);
    }
    let all_figures = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    if (main.is_empty() && part.is_empty()) || !all_figures(main) || !all_figures(part) {
        return Err(Slip::NotANumber);
    }
    Ok((main, part))
}

fn whole(figures: &str) -> Result<i128, Slip> {
    if figures.bytes().any(|b| !b.is_ascii_digit()) {
        return Err(Slip::TwoNumbers);
    }
    let figures = figures.trim_start_matches('0');
    if figures.len() > WHOLE_FIGURES {
        return Err(Slip::TooLarge);
    }
    Ok(value(figures))
}

fn value(figures: &str) -> i128 {
    figures
        .bytes()
        .fold(0, |sum, b| sum * 10 + i128::from(b - b'0'))
}
