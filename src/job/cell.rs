//! One cell of a sheet, and the ways to read it.

use super::complaint::Complaint;
use super::found::Found;
use super::nearest::{NO_SUCH_PANEL, advice};
use crate::hull::{CourseName, Stretch};
use crate::units::parse::{self, Decimal};
use crate::units::{Length, Slip, Unit};
use crate::untrusted::slip_in_name;

/// A cell: its place, for complaints, and its text.
#[derive(Clone, Copy)]
pub(super) struct Cell<'t> {
    pub(super) file: &'t str,
    pub(super) line: usize,
    pub(super) column: &'t str,
    /// Without blanks at either end.
    pub(super) text: &'t str,
    /// Whether something else has been complained about already, so that this cell says nothing more.
    pub(super) silent: bool,
    pub(super) decimal: Decimal,
    pub(super) unit: Unit,
}

impl<'t> Cell<'t> {
    /// Whether nothing is written.
    pub(super) fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// A complaint about this cell.
    pub(super) fn complaint(&self, wrong: impl Into<String>, mend: impl Into<String>) -> Complaint {
        Complaint::of(self.file, wrong, mend)
            .at(self.line)
            .under(self.column)
            .showing(self.text)
    }

    /// Leaves a complaint about this cell.
    pub(super) fn complain(
        &self,
        found: &mut Found,
        wrong: impl Into<String>,
        mend: impl Into<String>,
    ) {
        if !self.silent {
            found.complain(self.complaint(wrong, mend));
        }
    }

    /// Leaves a complaint about this cell, of which nothing is known then.
    pub(super) fn refuse<T>(
        &self,
        found: &mut Found,
        wrong: impl Into<String>,
        mend: impl Into<String>,
    ) -> Option<T> {
        self.complain(found, wrong, mend);
        None
    }

    /// Leaves a warning about this cell.
    pub(super) fn warn(
        &self,
        found: &mut Found,
        wrong: impl Into<String>,
        mend: impl Into<String>,
    ) {
        if !self.silent {
            found.warn(self.complaint(wrong, mend));
        }
    }

    /// Complains where what is written can't be a name; an empty cell is not complained of here.
    pub(super) fn name(&self, found: &mut Found) -> &'t str {
        if let Some((wrong, mend)) = slip_in_name(self.text) {
            self.complain(found, wrong, mend);
        }
        self.text
    }

    /// A length of any sign.
    pub(super) fn length(&self, found: &mut Found) -> Option<Length> {
        self.read(parse::length, found)
    }

    /// An offset: a length, or feet, inches and eighths as they are printed.
    pub(super) fn offset(&self, found: &mut Found) -> Option<Length> {
        self.read(parse::offset, found)
    }

    fn read(
        &self,
        read: fn(&str, Unit, Decimal) -> Result<Length, Slip>,
        found: &mut Found,
    ) -> Option<Length> {
        let read = read(self.text, self.unit, self.decimal);
        read.map_or_else(
            |slip| {
                let mend = slip.mend_length(self.text, self.unit);
                self.refuse(found, slip.to_string(), mend)
            },
            Some,
        )
    }

    /// A length of more than nothing.
    pub(super) fn positive_length(&self, found: &mut Found) -> Option<Length> {
        let length = self.length(found)?;
        if length > Length::ZERO {
            return Some(length);
        }
        let wrong = if length < Length::ZERO {
            "is negative"
        } else {
            "is nothing"
        };
        self.refuse(
            found,
            wrong,
            format!("Write a {} of more than 0.", self.column),
        )
    }

    /// A whole number from 1.
    pub(super) fn counted(&self, found: &mut Found) -> Option<u32> {
        const MOST: u32 = 1_000_000;
        let all_figures = !self.is_empty() && self.text.bytes().all(|b| b.is_ascii_digit());
        let whole = "Write a whole number: 1, 2, 3 and so on.";
        let (wrong, mend) = match self.text.parse::<u32>() {
            Ok(number @ 1..=MOST) if all_figures => return Some(number),
            _ if self.is_empty() => ("is empty", whole),
            Ok(0) => ("is not counted from 1", "Write 1 for the first."),
            _ if all_figures => ("is far too large a number", whole),
            _ => ("is not a whole number", whole),
        };
        self.refuse(found, wrong, mend)
    }

    /// The name of a course: a whole number from 1, and perhaps the letter of a stretch.
    pub(super) fn course(&self, found: &mut Found) -> Option<CourseName> {
        match self.text.parse::<CourseName>() {
            Ok(name) if name.stretch != Stretch::Whole && name.number > 0 => Some(name),
            // Plain numbers earn the complaints of numbers.
            _ => self.counted(found).map(|number| CourseName {
                number,
                stretch: Stretch::Whole,
            }),
        }
    }

    /// The place of the panel of this name among those of boat.toml.
    pub(super) fn panel(&self, panels: &[String], found: &mut Found) -> Option<usize> {
        let place = panels.iter().position(|name| name == self.text);
        place.or_else(|| {
            let known: Vec<&str> = panels.iter().map(String::as_str).collect();
            let mend = advice(self.text, &known);
            self.refuse(found, NO_SUCH_PANEL, mend)
        })
    }

    /// One of a few words, in any case.
    pub(super) fn word<T: Copy>(
        &self,
        words: &[(&'static str, T)],
        found: &mut Found,
    ) -> Option<T> {
        let lower = self.text.to_lowercase();
        if let Some((_, value)) = words.iter().find(|(word, _)| word.to_lowercase() == lower) {
            return Some(*value);
        }
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        if self.is_empty() {
            self.complain(
                found,
                "is empty",
                format!("Write {}.", super::nearest::one_of(&known)),
            );
        } else {
            let article = match self.column.starts_with(['a', 'e', 'i', 'o', 'u']) {
                true => "an",
                false => "a",
            };
            let what = format!("is not {article} {} that we know", self.column);
            self.complain(found, what, advice(self.text, &known));
        }
        None
    }

    /// One of a few words, or nothing at all, which means the default.
    pub(super) fn word_or_default<T: Copy + Default>(
        &self,
        words: &[(&'static str, T)],
        found: &mut Found,
    ) -> Option<T> {
        if self.is_empty() {
            Some(T::default())
        } else {
            self.word(words, found)
        }
    }
}
