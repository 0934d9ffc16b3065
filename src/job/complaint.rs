//! What is wrong with a job's files: where, what we saw, why it won't do, and the mend.

use super::spreadsheet::Spreadsheet;
use crate::untrusted::clean;
use std::collections::BTreeMap;
use std::fmt;

/// One thing that is wrong with a file of a job.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Complaint {
    /// The file's name inside the job folder.
    pub file: String,
    /// The line, from 1.
    pub line: Option<usize>,
    /// The cell of a spreadsheet, as `D17`, or its row where it is about no one cell: `row 17`.
    pub cell: Option<String>,
    /// The column of a table, or the key of boat.toml.
    pub column: Option<String>,
    /// The text that we saw.
    pub seen: Option<String>,
    /// What is wrong; goes on from the quoted text where there is one.
    pub wrong: String,
    /// What would be right; whole sentences.
    pub mend: String,
}

impl Complaint {
    /// A complaint about a whole file: what is wrong, and the mend.
    pub fn of(
        file: impl Into<String>,
        wrong: impl Into<String>,
        mend: impl Into<String>,
    ) -> Complaint {
        Complaint {
            file: file.into(),
            line: None,
            cell: None,
            column: None,
            seen: None,
            wrong: wrong.into(),
            mend: mend.into(),
        }
    }

    /// The same at a line.
    pub(super) fn at(self, line: usize) -> Complaint {
        Complaint {
            line: Some(line),
            ..self
        }
    }

    /// The same in a column.
    pub(super) fn under(self, column: impl Into<String>) -> Complaint {
        Complaint {
            column: Some(column.into()),
            ..self
        }
    }

    /// The same about a text that we saw.
    pub(super) fn showing(self, seen: impl Into<String>) -> Complaint {
        Complaint {
            seen: Some(seen.into()),
            ..self
        }
    }
}

impl fmt::Display for Complaint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", clean(&self.file))?;
        match (&self.cell, self.line) {
            (Some(cell), _) => write!(f, ", {cell}")?,
            (None, Some(line)) => write!(f, ", line {line}")?,
            (None, None) => {}
        }
        if let Some(column) = &self.column {
            write!(f, ", {}", one_line(column))?;
        }
        write!(f, ": ")?;
        match self.seen.as_deref() {
            None => {}
            Some("") => write!(f, "the field ")?,
            Some(seen) => write!(f, "\"{}\" ", one_line(seen))?,
        }
        write!(f, "{}. {}", one_line(&self.wrong), one_line(&self.mend))
    }
}

/// A text on one line; what is too long is cut.
fn one_line(text: &str) -> String {
    const MOST: usize = 200;
    let mut line = clean(&text.chars().take(MOST).collect::<String>());
    if text.chars().nth(MOST).is_some() {
        line.push('…');
    }
    line
}

/// How often one kind of complaint is told before the rest is only counted.
const TOLD: usize = 5;

/// Complaints of all files as they are found.
#[derive(Default)]
pub(super) struct Found {
    /// The job can't be read with these.
    pub(super) complaints: Vec<Complaint>,
    /// The job can be read, but somebody should look.
    pub(super) warnings: Vec<Complaint>,
    /// The spreadsheets that stand in place of CSV files, by the name of the CSV file.
    pub(super) spreadsheets: BTreeMap<String, Spreadsheet>,
}

impl Found {
    /// Complaints and warnings as a person is told them: of the spreadsheet where there is one, and in order.
    pub(super) fn told(self) -> (Vec<Complaint>, Vec<Complaint>) {
        let of_spreadsheets = |all: Vec<Complaint>| {
            let told = all.into_iter().map(|complaint| {
                let sheets = &self.spreadsheets;
                sheets.iter().fold(complaint, |complaint, (csv, sheet)| {
                    sheet.told(csv, complaint)
                })
            });
            in_order(told.collect())
        };
        (
            of_spreadsheets(self.complaints),
            of_spreadsheets(self.warnings),
        )
    }
}

/// Sorts by file and line, and cuts long runs of one kind short: of more than a few, the last that is told says how
/// many more there are.
fn in_order(mut all: Vec<Complaint>) -> Vec<Complaint> {
    all.sort_by(|one, other| (&one.file, one.line).cmp(&(&other.file, other.line)));
    let mut counts: BTreeMap<Kind, usize> = BTreeMap::new();
    for complaint in &all {
        *counts.entry(kind(complaint)).or_default() += 1;
    }
    let mut told: BTreeMap<Kind, usize> = BTreeMap::new();
    all.retain_mut(|complaint| {
        let kind = kind(complaint);
        let of_kind = counts.get(&kind).copied().unwrap_or(1);
        let so_far = told.entry(kind).or_default();
        *so_far += 1;
        if *so_far == TOLD && of_kind > TOLD {
            complaint.mend = format!("{} And {} more like this.", complaint.mend, of_kind - TOLD);
        }
        *so_far <= TOLD
    });
    all
}

/// Complaints are of one kind where file and column are the same and the words are, but for quoted text and figures.
type Kind = (String, Option<String>, String);

fn kind(complaint: &Complaint) -> Kind {
    let mut quoted = false;
    let words = complaint.wrong.chars().filter(|c| {
        if *c == '"' {
            quoted = !quoted;
        }
        !quoted && !c.is_ascii_digit()
    });
    (
        complaint.file.clone(),
        complaint.column.clone(),
        words.collect(),
    )
}
