//! The values of boat.toml: words, lengths, numbers, counts, each with the complaint it earns.

use super::found::Found;
use super::keys::{Keys, Value};
use super::nearest::advice;
use crate::units::parse::{self, Decimal};
use crate::units::{Length, Unit};
use crate::untrusted::slip_in_name;
use toml::de::DeValue;

impl Keys<'_> {
    /// A text of at least one letter.
    pub(super) fn text(&self, key: &str, example: &str, found: &mut Found) -> Option<String> {
        self.required(key, example, found)?;
        self.text_if_there(key, example, found)
    }

    /// The same where the key may be left out.
    pub(super) fn text_if_there(
        &self,
        key: &str,
        example: &str,
        found: &mut Found,
    ) -> Option<String> {
        let mend = format!("Write {key} = {example}.");
        match self.get(key)?.get_ref().as_str().map(str::trim) {
            Some(text) if !text.is_empty() => {
                if let Some((wrong, mend)) = slip_in_name(text) {
                    found.complain(self.complaint(key, wrong, mend));
                }
                Some(text.to_owned())
            }
            Some(_) => self.refuse(found, key, "is empty", mend),
            None => self.refuse(found, key, "is not a text in quotes", mend),
        }
    }

    /// One of a few words.
    pub(super) fn word<T: Copy>(
        &self,
        key: &str,
        words: &[(&str, T)],
        found: &mut Found,
    ) -> Option<T> {
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let example = format!("\"{}\"", known.join("\" or \""));
        self.required(key, &example, found)?;
        let text = self.text_if_there(key, &example, found)?;
        let mut words = words.iter();
        match words.find(|(word, _)| word.eq_ignore_ascii_case(&text)) {
            Some((_, value)) => Some(*value),
            None => {
                let wrong = format!("is not a word that {key} can be");
                self.refuse(found, key, wrong, advice(&text, &known))
            }
        }
    }

    /// One of a few words, or the default where the key is left out.
    pub(super) fn word_or_default<T: Copy + Default>(
        &self,
        key: &str,
        words: &[(&str, T)],
        found: &mut Found,
    ) -> Option<T> {
        let word = self.if_there(key, || self.word(key, words, found));
        word.map(Option::unwrap_or_default)
    }

    /// A length of any sign: a bare number, or a text with its unit.
    pub(super) fn length(&self, key: &str, found: &mut Found) -> Option<Length> {
        let example = example(key, self.unit);
        let value = self.required(key, example, found)?;
        let text = match value.get_ref() {
            DeValue::String(text) => Some(text.to_string()),
            other => plain_number(other),
        };
        let Some(text) = text else {
            let mend = format!("Write {key} = {example}, or {key} = \"3/4 in\".");
            return self.refuse(found, key, "is not a length", mend);
        };
        let length = parse::length(&text, self.unit, Decimal::Point);
        length.map_or_else(
            |slip| {
                let mend = slip.mend_length(&text, self.unit);
                self.refuse(found, key, slip.to_string(), mend)
            },
            Some,
        )
    }

    /// A length that is not negative, or more than nothing.
    pub(super) fn length_from(&self, key: &str, least: Least, found: &mut Found) -> Option<Length> {
        let length = self.length(key, found)?;
        if least.allows(length.nm() as f64) {
            return Some(length);
        }
        self.refuse(found, key, least.wrong(length.nm() < 0), least.mend())
    }

    /// A length of 0 or more, or the default where the key is left out.
    pub(super) fn length_or(
        &self,
        key: &str,
        default: Length,
        found: &mut Found,
    ) -> Option<Length> {
        let length = self.if_there(key, || self.length_from(key, Least::Zero, found));
        length.map(|length| length.unwrap_or(default))
    }

    /// A plain finite number that is not negative, or more than nothing.
    pub(super) fn number(&self, key: &str, least: Least, found: &mut Found) -> Option<f64> {
        const MOST: f64 = 1e6;
        let value = self.required(key, example(key, self.unit), found)?;
        let number = plain_number(value.get_ref()).and_then(|text| text.parse::<f64>().ok());
        let (wrong, mend) = match number.filter(|number| number.is_finite()) {
            Some(number) if number > MOST => ("is far too large", "Write a number as 8 or 0.5."),
            Some(number) if least.allows(number) => return Some(number),
            Some(number) => (least.wrong(number < 0.0), least.mend()),
            None => (
                "is not a number",
                "Write a number without quotes, as 8 or 0.5.",
            ),
        };
        self.refuse(found, key, wrong, mend)
    }

    /// The same, or the default where the key is left out.
    pub(super) fn number_or(&self, key: &str, default: f64, found: &mut Found) -> Option<f64> {
        let number = self.if_there(key, || self.number(key, Least::Zero, found));
        number.map(|number| number.unwrap_or(default))
    }

    /// `true` or `false`, or the default where the key is left out.
    pub(super) fn yes_or_no(&self, key: &str, default: bool, found: &mut Found) -> Option<bool> {
        let Some(value) = self.get(key) else {
            return Some(default);
        };
        value.get_ref().as_bool().or_else(|| {
            let mend = format!("Write {key} = true or {key} = false, without quotes.");
            self.refuse(found, key, "is neither true nor false", mend)
        })
    }

    /// Names in quotes, one or a list of them; none where the key is left out.
    pub(super) fn names(&self, key: &str, example: &str, found: &mut Found) -> Option<Vec<String>> {
        let Some(value) = self.get(key) else {
            return Some(Vec::new());
        };
        let name = |value: &DeValue<'_>| {
            let text = value.as_str()?.trim();
            (!text.is_empty()).then(|| text.to_owned())
        };
        let names: Option<Vec<String>> = match value.get_ref() {
            DeValue::Array(items) => items.iter().map(|item| name(item.get_ref())).collect(),
            one => name(one).map(|name| vec![name]),
        };
        names.filter(|names| !names.is_empty()).or_else(|| {
            let mend = format!("Write {key} = {example}.");
            self.refuse(found, key, "is not a list of names in quotes", mend)
        })
    }

    /// A whole number from 0 to a thousand.
    pub(super) fn count(&self, key: &str, found: &mut Found) -> Option<u32> {
        let value = self.required(key, "2", found)?;
        whole(value).or_else(|| {
            let wrong = "is not a whole number from 0 to 1000";
            self.refuse(found, key, wrong, format!("Write {key} = 2."))
        })
    }

    /// The first and last course of a zone; `Some(None)` where the key is left out.
    pub(super) fn courses(&self, found: &mut Found) -> Option<Option<(u32, u32)>> {
        let Some(value) = self.get("courses") else {
            return Some(None);
        };
        let ends: Option<Vec<u32>> = value
            .get_ref()
            .as_array()
            .and_then(|items| items.iter().map(whole).collect());
        match ends.as_deref() {
            Some([first, last]) if 1 <= *first && first <= last => Some(Some((*first, *last))),
            _ => self.refuse(
                found,
                "courses",
                "is not a first and a last course",
                "Write courses = [1, 6], the lower number first, or leave it out for all.",
            ),
        }
    }
}

/// A value that would be right under a key, for the mend.
fn example(key: &str, unit: Unit) -> &'static str {
    let (mm, inch) = match key {
        "slope" => ("8", "8"),
        "width" => ("19", "0.75"),
        "thickness" => ("6", "0.25"),
        "gape" => ("0.5", "0.02"),
        "clear" => ("300", "12"),
        "shortest_piece" => ("600", "24"),
        "fitted_end" => ("25", "1"),
        "free_end" => ("50", "2"),
        "saw" => ("3", "0.125"),
        "kerf" => ("3.2", "0.125"),
        "planing" => ("0.5", "0.02"),
        "from" | "bow_end_to" => ("1500", "60"),
        "to" | "stern_end_from" => ("3600", "140"),
        "start_length" | "stop_length" => ("5120", "201.5"),
        _ => ("1.0", "1.0"),
    };
    match unit {
        Unit::Mm => mm,
        Unit::Inch => inch,
    }
}

/// The least that a number may be.
#[derive(Clone, Copy)]
pub(super) enum Least {
    Zero,
    MoreThanZero,
}

impl Least {
    fn allows(self, number: f64) -> bool {
        match self {
            Least::Zero => number >= 0.0,
            Least::MoreThanZero => number > 0.0,
        }
    }

    const fn wrong(self, negative: bool) -> &'static str {
        if negative {
            "is negative"
        } else {
            "is nothing"
        }
    }

    const fn mend(self) -> &'static str {
        match self {
            Least::Zero => "Write 0 or more.",
            Least::MoreThanZero => "Write more than 0.",
        }
    }
}

fn whole(value: &Value<'_>) -> Option<u32> {
    const MOST: u32 = 1000;
    let integer = value.get_ref().as_integer()?;
    let number = u32::from_str_radix(integer.as_str(), integer.radix()).ok()?;
    (number <= MOST).then_some(number)
}

/// A number as plain figures, exactly as written where it has no exponent: a length keeps its last digit so.
fn plain_number(value: &DeValue<'_>) -> Option<String> {
    match value {
        DeValue::Integer(integer) if integer.radix() == 10 => Some(integer.as_str().to_owned()),
        DeValue::Integer(integer) => i64::from_str_radix(integer.as_str(), integer.radix())
            .ok()
            .map(|number| number.to_string()),
        DeValue::Float(float) => {
            let text = float.as_str();
            if text.contains(['e', 'E']) {
                // A float prints without an exponent.
                text.parse::<f64>().ok().map(|number| number.to_string())
            } else {
                Some(text.to_owned())
            }
        }
        _ => None,
    }
}
