//! The keys of boat.toml, one table of it at a time, with the line of everything.

use super::complaint::Complaint;
use super::found::Found;
use super::nearest::did_you_mean;
use crate::units::Unit;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

pub(super) const FILE: &str = "boat.toml";

/// Whether boat.toml can do without a table.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Need {
    Required,
    Optional,
}

/// A value and where it stands.
pub(super) type Value<'t> = Spanned<DeValue<'t>>;

/// A table of boat.toml: `[strip]`, or one `[[panel]]`.
pub(super) struct Keys<'t> {
    text: &'t str,
    /// What the table is called in complaints; empty for the top of the file.
    title: &'static str,
    table: &'t DeTable<'t>,
    /// The line of its header.
    line: usize,
    pub(super) unit: Unit,
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
            cell: None,
            column: Some(self.name(key)),
            seen: value.map(|v| match v.get_ref() {
                DeValue::String(text) => text.to_string(),
                _ => self.written(v.span()).to_owned(),
            }),
            wrong: wrong.into(),
            mend: mend.into(),
        }
    }

    /// Leaves a complaint about a key, of which nothing is known then.
    pub(super) fn refuse<T>(
        &self,
        found: &mut Found,
        key: &str,
        wrong: impl Into<String>,
        mend: impl Into<String>,
    ) -> Option<T> {
        found.complain(self.complaint(key, wrong, mend));
        None
    }

    /// What is read of a key that may be left out: `Some(None)` where it is, `None` where it can't be read.
    pub(super) fn if_there<T>(
        &self,
        key: &str,
        read: impl FnOnce() -> Option<T>,
    ) -> Option<Option<T>> {
        match self.get(key) {
            None => Some(None),
            Some(_) => read().map(Some),
        }
    }

    pub(super) fn get(&self, key: &str) -> Option<&'t Value<'t>> {
        self.table.get(key)
    }

    /// The value of a key, and a complaint with an example where it is not there.
    pub(super) fn required(
        &self,
        key: &str,
        example: &str,
        found: &mut Found,
    ) -> Option<&'t Value<'t>> {
        let value = self.get(key);
        if value.is_none() {
            let wrong = "the key is missing";
            found.complain(self.complaint(key, wrong, format!("Write {key} = {example}.")));
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
            let mend = did_you_mean(name, known.iter().copied())
                .unwrap_or_else(|| format!("Known here: {}.", known.join(", ")));
            let wrong = "the key is not one that we read, and is passed over";
            found.warn(
                Complaint::of(FILE, wrong, mend)
                    .at(self.line_at(key.span().start))
                    .under(self.name(name)),
            );
        }
    }

    /// A table inside this one; a missing one is complained of only where it is required.
    pub(super) fn table(
        &self,
        title: &'static str,
        need: Need,
        found: &mut Found,
    ) -> Option<Keys<'t>> {
        let Some(value) = self.get(title) else {
            if need == Need::Required {
                let mut complaint = self.complaint(
                    title,
                    "the table is missing",
                    format!("Add [{title}], as docs/formats.md says."),
                );
                complaint.line = None;
                found.complain(complaint);
            }
            return None;
        };
        match value.get_ref() {
            DeValue::Table(table) => Some(self.inner(title, table, value.span())),
            _ => {
                let mend = format!("Write [{title}] on a line of its own, and its keys under it.");
                self.refuse(found, title, "is not a table", mend)
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
            found.complain(complaint);
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
}

/// The line, from 1, of a place in a text.
pub(super) fn line_at(text: &str, at: usize) -> usize {
    1 + text.bytes().take(at).filter(|b| *b == b'\n').count()
}

/// The quotes that word processors put round a text, which TOML does not know: said once, at the first.
pub(super) fn curly_quotes(text: &str) -> Option<Complaint> {
    let quoted = |line: &str| {
        let value = line.split_once('=').map_or(line, |(_, value)| value);
        let value = value.trim_start();
        value
            .starts_with(['“', '”', '„', '‘', '’', '«'])
            .then(|| value.trim_end().to_owned())
    };
    let lines = text.lines().enumerate();
    let (line, seen) = lines
        .filter_map(|(i, line)| Some((i + 1, quoted(line)?)))
        .next()?;
    let wrong = "stands in curly quotes, as word processors write them";
    let mend = "Write straight quotes (\") in a plain text editor; so everywhere in this file.";
    Some(Complaint::of(FILE, wrong, mend).at(line).showing(seen))
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
        cell: None,
        column: None,
        seen: seen.map(str::to_owned),
        wrong: match seen {
            Some(_) => format!("can't be read: {}", error.message()),
            None => error.message().to_owned(),
        },
        mend: "Write key = value, texts in quotes, and numbers with a decimal point.".into(),
    }
}
