//! The keys of boat.toml, one table of it at a time, with the line of everything.

use super::complaint::{Complaint, Found};
use super::nearest::{advice, nearest};
use crate::units::parse::{self, Decimal};
use crate::units::{Length, Unit};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

pub(super) const FILE: &str = "boat.toml";

/// A value and where it stands.
pub(super) type Value<'t> = Spanned<DeValue<'t>>;

/// A table of boat.toml: `[strip]`, or one `[[panel]]`.
pub(super) struct Keys<'t> {
    text: &'t str,
    /// What the table is called in complaints; empty for the top of the file.
    title: &'static str,
    table: &'t DeTable<'t>,
    /// The line of its header.
    pub(super) line: usize,
    unit: Unit,
}

impl<'t> Keys<'t> {
    /// The top of the file.
    pub(super) fn top(text: &'t str, table: &'t DeTable<'t>, unit: Unit) -> Keys<'t> {
        Keys {
            text,
            title: "",
            table,
            line: 1,
            unit,
        }
    }

    /// The same table with the job's unit, now that it is known.
    pub(super) fn in_unit(self, unit: Unit) -> Keys<'t> {
        Keys { unit, ..self }
    }

    fn name(&self, key: &str) -> String {
        if self.title.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.title)
        }
    }

    fn line_at(&self, at: usize) -> usize {
        line_at(self.text, at)
    }

    fn written(&self, span: Range<usize>) -> &'t str {
        self.text.get(span).unwrap_or_default()
    }

    /// A complaint about a key, at the line of its value where it is there.
    pub(super) fn complaint(
        &self,
        key: &str,
        wrong: impl Into<String>,
        mend: impl Into<String>,
    ) -> Complaint {
        let value = self.get(key);
        Complaint {
            file: FILE.into(),
            line: Some(value.map_or(self.line, |v| self.line_at(v.span().start))),
            column: Some(self.name(key)),
            seen: value.map(|v| match v.get_ref() {
                DeValue::String(text) => text.to_string(),
                _ => self.written(v.span()).to_owned(),
            }),
            wrong: wrong.into(),
            mend: mend.into(),
        }
    }

    pub(super) fn get(&self, key: &str) -> Option<&'t Value<'t>> {
        self.table.get(key)
    }

    fn required(&self, key: &str, example: &str, found: &mut Found) -> Option<&'t Value<'t>> {
        let value = self.get(key);
        if value.is_none() {
            let wrong = "the key is missing";
            found
                .complaints
                .push(self.complaint(key, wrong, format!("Write {key} = {example}.")));
        }
        value
    }

    /// Warns of keys that mean nothing here.
    pub(super) fn warn_of_others(&self, known: &[&str], found: &mut Found) {
        for key in self
            .table
            .keys()
            .filter(|key| !known.contains(&key.get_ref().as_ref()))
        {
            let name = key.get_ref();
            let mend = match nearest(name, known.iter().copied()) {
                Some(like) => format!("Did you mean \"{like}\"?"),
                None => format!("Known here: {}.", known.join(", ")),
            };
            found.warnings.push(Complaint {
                file: FILE.into(),
                line: Some(self.line_at(key.span().start)),
                column: Some(self.name(name)),
                seen: None,
                wrong: "the key is not one that we read, and is passed over".into(),
                mend,
            });
        }
    }

    /// A table inside this one; a missing one is complained of only where it is required.
    pub(super) fn table(
        &self,
        title: &'static str,
        required: bool,
        found: &mut Found,
    ) -> Option<Keys<'t>> {
        let Some(value) = self.get(title) else {
            if required {
                let mut complaint = self.complaint(
                    title,
                    "the table is missing",
                    format!("Add [{title}], as docs/formats.md says."),
                );
                complaint.line = None;
                found.complaints.push(complaint);
            }
            return None;
        };
        match value.get_ref() {
            DeValue::Table(table) => Some(self.inner(title, table, value.span())),
            _ => {
                let mend = format!("Write [{title}] on a line of its own, and its keys under it.");
                found
                    .complaints
                    .push(self.complaint(title, "is not a table", mend));
                None
            }
        }
    }

    /// All tables of one name.
    pub(super) fn tables(&self, title: &'static str, found: &mut Found) -> Vec<Keys<'t>> {
        let Some(value) = self.get(title) else {
            return Vec::new();
        };
        let mut all = Vec::new();
        let mut others = !value.get_ref().is_array();
        for item in value.get_ref().as_array().into_iter().flatten() {
            match item.get_ref() {
                DeValue::Table(table) => all.push(self.inner(title, table, item.span())),
                _ => others = true,
            }
        }
        if others {
            let mend = format!(
                "Write [[{title}]] on a line of its own for each one, and its keys under it."
            );
            let mut complaint = self.complaint(title, "has the wrong shape", mend);
            complaint.seen = None;
            found.complaints.push(complaint);
        }
        all
    }

    fn inner(&self, title: &'static str, table: &'t DeTable<'t>, span: Range<usize>) -> Keys<'t> {
        Keys {
            text: self.text,
            title,
            table,
            line: self.line_at(span.start),
            unit: self.unit,
        }
    }

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
        let text = self.get(key)?.get_ref().as_str().map(str::trim);
        match text {
            Some(text) if !text.is_empty() => Some(text.to_owned()),
            Some(_) => {
                found.complaints.push(self.complaint(
                    key,
                    "is empty",
                    format!("Write {key} = {example}."),
                ));
                None
            }
            None => {
                found.complaints.push(self.complaint(
                    key,
                    "is not a text in quotes",
                    format!("Write {key} = {example}."),
                ));
                None
            }
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
        let value = words
            .iter()
            .find(|(word, _)| word.eq_ignore_ascii_case(&text));
        if value.is_none() {
            found.complaints.push(self.complaint(
                key,
                format!("is not a word that {key} can be"),
                advice(&text, &known),
            ));
        }
        value.map(|(_, value)| *value)
    }

    /// One of a few words, or the default where the key is left out.
    pub(super) fn word_or_default<T: Copy + Default>(
        &self,
        key: &str,
        words: &[(&str, T)],
        found: &mut Found,
    ) -> Option<T> {
        match self.get(key) {
            None => Some(T::default()),
            Some(_) => self.word(key, words, found),
        }
    }

    /// A length of any sign: a bare number, or a text with its unit.
    pub(super) fn length(&self, key: &str, found: &mut Found) -> Option<Length> {
        let example = match self.unit {
            Unit::Mm => "300",
            Unit::Inch => "12",
        };
        let value = self.required(key, example, found)?;
        let text = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            other => match plain_number(other) {
                Some(text) => text,
                None => {
                    let mend = format!("Write {key} = {example}, or {key} = \"300 mm\".");
                    found
                        .complaints
                        .push(self.complaint(key, "is not a length", mend));
                    return None;
                }
            },
        };
        match parse::length(&text, self.unit, Decimal::Point) {
            Ok(length) => Some(length),
            Err(slip) => {
                let mend = slip.mend_length(&text, self.unit);
                found
                    .complaints
                    .push(self.complaint(key, slip.to_string(), mend));
                None
            }
        }
    }

    /// A length that is not negative, or more than nothing.
    pub(super) fn length_from(&self, key: &str, least: Least, found: &mut Found) -> Option<Length> {
        let length = self.length(key, found)?;
        if least.allows(length.nm() as f64) {
            return Some(length);
        }
        found
            .complaints
            .push(self.complaint(key, least.wrong(length.nm() < 0), least.mend()));
        None
    }

    /// A plain finite number that is not negative, or more than nothing.
    pub(super) fn number(&self, key: &str, least: Least, found: &mut Found) -> Option<f64> {
        const MOST: f64 = 1e6;
        let value = self.required(key, "1.0", found)?;
        let number = plain_number(value.get_ref()).and_then(|text| text.parse::<f64>().ok());
        match number {
            Some(number) if number.is_finite() && number > MOST => {
                found.complaints.push(self.complaint(
                    key,
                    "is far too large",
                    "Write a number as 8 or 0.5.",
                ));
                None
            }
            Some(number) if number.is_finite() && least.allows(number) => Some(number),
            Some(number) if number.is_finite() => {
                found
                    .complaints
                    .push(self.complaint(key, least.wrong(number < 0.0), least.mend()));
                None
            }
            _ => {
                found.complaints.push(self.complaint(
                    key,
                    "is not a number",
                    "Write a number without quotes, as 8 or 0.5.",
                ));
                None
            }
        }
    }

    /// The same, or the default where the key is left out.
    pub(super) fn number_or(&self, key: &str, default: f64, found: &mut Found) -> Option<f64> {
        match self.get(key) {
            None => Some(default),
            Some(_) => self.number(key, Least::Zero, found),
        }
    }

    /// A whole number from 0 to a thousand.
    pub(super) fn count(&self, key: &str, found: &mut Found) -> Option<u32> {
        let value = self.required(key, "2", found)?;
        let count = whole(value);
        if count.is_none() {
            found.complaints.push(self.complaint(
                key,
                "is not a whole number from 0 to 1000",
                format!("Write {key} = 2."),
            ));
        }
        count
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
            _ => {
                found.complaints.push(self.complaint(
                    "courses",
                    "is not a first and a last course",
                    "Write courses = [1, 6], the lower number first, or leave it out for all.",
                ));
                None
            }
        }
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

/// The line, from 1, of a place in a text.
pub(super) fn line_at(text: &str, at: usize) -> usize {
    1 + text.bytes().take(at).filter(|b| *b == b'\n').count()
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

/// Complaints about what is not TOML at all.
pub(super) fn not_toml(text: &str, error: &toml::de::Error) -> Complaint {
    let span = error.span();
    let seen = span
        .clone()
        .and_then(|span| text.get(span))
        .map(|seen| seen.lines().next().unwrap_or_default().trim())
        .filter(|seen| !seen.is_empty());
    Complaint {
        file: FILE.into(),
        line: span.map(|span| line_at(text, span.start)),
        column: None,
        seen: seen.map(str::to_owned),
        wrong: match seen {
            Some(_) => format!("can't be read: {}", error.message()),
            None => error.message().to_owned(),
        },
        mend: "Write key = value, texts in quotes, and numbers with a decimal point.".into(),
    }
}
