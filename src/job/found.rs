//! What is found wrong with all files of a job, put in order for whoever reads it.

use super::complaint::Complaint;
use super::spreadsheet::Spreadsheet;
use std::collections::BTreeMap;

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
    /// Keeps a complaint.
    pub(super) fn complain(&mut self, complaint: Complaint) {
        self.complaints.push(complaint);
    }

    /// Keeps a warning.
    pub(super) fn warn(&mut self, warning: Complaint) {
        self.warnings.push(warning);
    }

    /// What was read, and the warnings.
    ///
    /// Errors: all complaints, where there are any.
    pub(super) fn whole<T>(self, read: Option<T>) -> Result<(T, Vec<Complaint>), Vec<Complaint>> {
        let (complaints, warnings) = self.told();
        match read {
            Some(read) if complaints.is_empty() => Ok((read, warnings)),
            _ => Err(complaints),
        }
    }

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
