//! A sheet as it stands, cell by cell, for whoever edits it. What the cells mean is for the other readers to say.

use super::complaint::Complaint;
use super::files::all_named;
use super::found::Found;
use super::split::column_name;
use super::split::{OpenQuote, delimiter, records};
use super::text::decode;
use super::{boards, courses, forms, keys, measured, offsets, photos, spreadsheet, strips};
use std::path::Path;

/// The cells of a sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cells {
    /// What stands between two fields.
    pub delimiter: char,
    /// Rows that have anything in them, each with the line that it begins on; the header is the first.
    pub rows: Vec<(usize, Vec<String>)>,
}

/// The files of a job that are written by hand, as they are called where none is a spreadsheet: boat.toml, then the
/// sheets.
pub const BY_HAND: [&str; 8] = [
    keys::FILE,
    forms::FILE,
    offsets::FILE,
    courses::FILE,
    boards::FILE,
    strips::FILE,
    photos::FILE,
    measured::FILE,
];

/// The columns of a sheet; those of forms.csv that are not named by panels.
pub fn columns(file: &str) -> &'static [&'static str] {
    match file {
        forms::FILE => &forms::COLUMNS,
        offsets::FILE => offsets::SHEET.columns,
        courses::FILE => courses::FORM.columns,
        boards::FILE => boards::FORM.columns,
        strips::FILE => strips::FORM.columns,
        photos::FILE => photos::FORM.columns,
        measured::FILE => measured::FORM.columns,
        _ => &[],
    }
}

/// What a file of a job is called in a folder, or a spreadsheet in its place; several where there are both.
pub fn names_there(dir: &Path, file: &str) -> Vec<String> {
    all_named(dir, file)
}

/// Whether a name is that of a sheet, or of a spreadsheet in its place.
pub fn is_spreadsheet(name: &str) -> bool {
    let ending = Path::new(name)
        .extension()
        .and_then(|ending| ending.to_str());
    ending.is_some_and(|ending| spreadsheet::ENDINGS.contains(&ending))
}

/// The text of a file of a job that is called so.
///
/// Errors: it is no text.
pub fn text(name: &str, bytes: &[u8]) -> Result<String, Vec<Complaint>> {
    let mut found = Found::default();
    decode(name, bytes, &mut found).ok_or(found.complaints)
}

/// The cells of a sheet that is called so; `file` is what it is called where it is no spreadsheet.
///
/// Errors: it can't be split into cells.
pub fn cells(file: &str, name: &str, bytes: &[u8]) -> Result<Cells, Vec<Complaint>> {
    let read = match is_spreadsheet(name) {
        true => {
            let read = spreadsheet::read(name, bytes);
            read.map_err(|(wrong, mend)| vec![Complaint::of(name, wrong, mend)])?
                .0
        }
        false => bytes.to_vec(),
    };
    let text = text(name, &read)?;
    let known = columns(file);
    let is_known = |field: &str| {
        let field = column_name(field);
        known.iter().any(|known| column_name(known) == field)
    };
    let delimiter = delimiter(&text, is_known);
    let records = records(&text, delimiter).map_err(|OpenQuote { line }| {
        let wrong = "a quote is opened and never closed";
        let mend = "Take the quote away, or write another at the end of the field.";
        vec![Complaint::of(name, wrong, mend).at(line)]
    })?;
    Ok(Cells {
        delimiter: char::from(delimiter),
        rows: records
            .into_iter()
            .map(|record| (record.line, record.fields))
            .collect(),
    })
}

impl Cells {
    /// The place of a column, by its name in the header.
    pub fn column(&self, name: &str) -> Option<usize> {
        let (_, header) = self.rows.first()?;
        let name = column_name(name);
        header.iter().position(|field| column_name(field) == name)
    }
}
