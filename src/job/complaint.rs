//! What is wrong with a job's files: where, what we saw, why it won't do, and the mend.

use crate::untrusted::clean;
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
