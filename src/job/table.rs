//! A sheet: a header that names the columns, and rows. Every cell knows its file, line and column, so that a complaint
//! about it can say so.

use super::cell::Cell;
use super::complaint::Complaint;
use super::found::Found;
use super::nearest::nearest;
use super::split::{OpenQuote, column_name, delimiter, records};
use super::text::decode;
use crate::units::Unit;
use crate::units::parse::Decimal;

/// Whether a sheet with nothing under its header makes sense.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Rows {
    AtLeastOne,
    MayBeNone,
}

/// What a sheet should look like.
pub(super) struct Form<'c> {
    pub(super) file: &'c str,
    /// Its columns, in the order of a fresh sheet.
    pub(super) columns: &'c [&'c str],
    /// Those of them that it can't do without.
    pub(super) required: &'c [&'c str],
    pub(super) rows: Rows,
}

/// A row, and whether it has as many fields as the header.
pub(super) struct Row<'f> {
    form: &'f Form<'f>,
    places: &'f [Option<usize>],
    fields: &'f [String],
    decimal: Decimal,
    unit: Unit,
    pub(super) line: usize,
    /// False where fields are missing or left over: no telling then which field is which.
    pub(super) sound: bool,
}

impl<'f> Row<'f> {
    /// The cell under a column of the form.
    pub(super) fn cell(&self, column: &'f str) -> Cell<'f> {
        let mut columns = self.form.columns.iter();
        let place = columns
            .position(|name| *name == column)
            .and_then(|i| self.places.get(i).copied().flatten());
        Cell {
            file: self.form.file,
            line: self.line,
            column,
            text: place
                .and_then(|p| self.fields.get(p))
                .map_or("", String::as_str),
            // A column missing from the header has its own complaint; its cells stay silent.
            silent: !self.sound || place.is_none(),
            decimal: self.decimal,
            unit: self.unit,
        }
    }
}

/// Reads a sheet and hands its rows over one by one; leaves complaints in `found` where there is no header to go by.
pub(super) fn each_row(
    form: &Form<'_>,
    bytes: &[u8],
    unit: Unit,
    found: &mut Found,
    mut take: impl FnMut(&Row<'_>, &mut Found),
) {
    let Some(text) = decode(form.file, bytes, found) else {
        return;
    };
    let known: Vec<String> = form.columns.iter().map(|name| column_name(name)).collect();
    let delimiter = delimiter(&text, |name| known.contains(&column_name(name)));
    let decimal = match delimiter {
        b';' => Decimal::PointOrComma,
        _ => Decimal::Point,
    };
    let records = match records(&text, delimiter) {
        Ok(records) => records,
        Err(OpenQuote { line }) => {
            found.complain(runaway_quote(form, line, "is never closed"));
            return;
        }
    };
    let Some((header, rows)) = records.split_first() else {
        let mend = format!("Begin it with {}.", form.columns.join(","));
        found.complain(Complaint::of(form.file, "the file has no header", mend));
        return;
    };
    let places = places(form, header.line, &header.fields, found);
    if rows.is_empty() && form.rows == Rows::AtLeastOne {
        let mend = "Write one row under it for each of the things it lists.";
        let complaint = Complaint::of(form.file, "the file has a header and no rows", mend);
        found.complain(complaint.at(header.line));
    }
    for record in rows {
        let mut fields = record.fields.as_slice();
        while fields.len() > header.fields.len() && fields.last().is_some_and(String::is_empty) {
            fields = &fields[..fields.len() - 1];
        }
        let mut sound = fields.len() == header.fields.len();
        if !sound {
            complain_of_count(form, record.line, fields, header.fields.len(), found);
        }
        for (column, place, wrong, mend) in odd_cells(form, record.line, &places, found) {
            sound = false;
            let seen = fields.get(place).map_or("", String::as_str);
            let complaint = Complaint::of(form.file, wrong, mend)
                .at(record.line)
                .under(column);
            found.complain(complaint.showing(seen));
        }
        let row = Row {
            form,
            places: &places,
            fields,
            decimal,
            unit,
            line: record.line,
            sound,
        };
        take(&row, found);
    }
}

/// Cells under the columns of the form that a spreadsheet changed: column, place in the row, what is wrong, and the
/// mend.
fn odd_cells<'c>(
    form: &Form<'c>,
    line: usize,
    places: &[Option<usize>],
    found: &Found,
) -> Vec<(&'c str, usize, &'static str, &'static str)> {
    let Some(sheet) = found.spreadsheets.get(form.file) else {
        return Vec::new();
    };
    let odd = form
        .columns
        .iter()
        .zip(places)
        .filter_map(|(column, place)| {
            let place = (*place)?;
            let (wrong, mend) = sheet.odd(line, place)?;
            Some((*column, place, wrong, mend))
        });
    odd.collect()
}

fn places(
    form: &Form<'_>,
    line: usize,
    header: &[String],
    found: &mut Found,
) -> Vec<Option<usize>> {
    let complaint = |column: &str, wrong: &str, mend: &str| {
        Complaint::of(form.file, wrong, mend).at(line).under(column)
    };
    let names: Vec<String> = header.iter().map(|name| column_name(name)).collect();
    let is_known = |name: &String| form.columns.iter().any(|known| column_name(known) == *name);
    let unknown = header.iter().zip(&names);
    let unknown = unknown.filter(|(_, name)| !name.is_empty() && !is_known(name));
    let unknown: Vec<&str> = unknown.map(|(written, _)| written.as_str()).collect();
    let mut places = Vec::new();
    let mut missing = Vec::new();
    for column in form.columns {
        let mut at = (0..names.len()).filter(|i| names[*i] == column_name(column));
        let mut place = at.next();
        let is_there = place.is_some();
        if at.next().is_some() {
            // No telling which of the two is meant: the cells stay silent.
            place = None;
            found.complain(complaint(
                column,
                "the header names this column twice",
                "Keep one of the two.",
            ));
        }
        if !is_there {
            missing.push(*column);
        }
        if !is_there && form.required.contains(column) {
            let mend = match nearest(column, unknown.iter().copied()) {
                Some(like) => format!("Rename the column \"{like}\" to \"{column}\"."),
                None => format!("Add it; the header is then {}.", form.columns.join(",")),
            };
            found.complain(complaint(column, "the column is missing", &mend));
        }
        places.push(place);
    }
    if !unknown.is_empty() {
        let hints: Vec<String> = unknown
            .iter()
            .filter_map(|name| Some((name, nearest(name, missing.iter().copied())?)))
            .map(|(name, like)| format!("Did you mean \"{like}\" by \"{name}\"?"))
            .collect();
        let wrong = match unknown.len() {
            1 => "is not a column that we read, and is passed over",
            _ => "are not columns that we read, and are passed over",
        };
        let mend = if hints.is_empty() {
            "Nothing to do, if that was meant.".into()
        } else {
            hints.join(" ")
        };
        let warning = Complaint::of(form.file, wrong, mend).at(line);
        found.warn(warning.showing(unknown.join(", ")));
    }
    places
}

fn complain_of_count(
    form: &Form<'_>,
    line: usize,
    fields: &[String],
    wanted: usize,
    found: &mut Found,
) {
    if fields.iter().any(|field| field.contains('\n')) {
        found.complain(runaway_quote(form, line, "closes only in a later row"));
        return;
    }
    let mend = if fields.len() > wanted {
        "Put a field that has the delimiter inside it in quotes; with decimal commas, use semicolons between the \
         fields."
    } else {
        "Give every row as many fields as the header, empty ones too; or take columns that you don't fill out of the \
         header."
    };
    let count = match fields.len() {
        1 => "1 field".into(),
        n => format!("{n} fields"),
    };
    let wrong = format!("begins a row of {count} where the header has {wanted}");
    let seen = fields.first().map_or("", String::as_str);
    let complaint = Complaint::of(form.file, wrong, mend);
    found.complain(complaint.at(line).showing(seen));
}

fn runaway_quote(form: &Form<'_>, line: usize, how: &str) -> Complaint {
    let wrong = format!("a field begins with a quote that {how}");
    let mend = "Close it, and write a quote inside a quoted field twice, as in \"16' 4 1/2\"\"\".";
    Complaint::of(form.file, wrong, mend).at(line)
}
