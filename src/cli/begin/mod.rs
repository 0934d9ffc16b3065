//! `begin`: a fresh job folder, ready to be filled.

use super::args::Begin;
use super::planned::NotMade;
use super::say;
use super::status::Ended;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, XlsxError};
use std::fmt::Display;
use std::path::Path;
use toml_edit::{DocumentMut, TomlError, value};
use twinstrake::job;
use twinstrake::out::{Fault, begin};

/// Values that differ between a job in mm and one in inches stand as `{19|0.75}`.
const BOAT: &str = include_str!("boat.toml");
/// The panels of that boat, whose girths are columns of the sheet of forms.
const PANELS: [&str; 2] = ["topside", "bottom"];

pub fn run(typed: &Begin) -> Ended {
    let names = fresh(&typed.dir, typed.inches, typed.spreadsheets, None);
    let names = names.map_err(|not| not.said(""))?;
    Ok(say::told(&say::begun(&typed.dir, &names)))
}

/// Begins a job in a folder, with a name of its own where there is one; the files that it has then.
///
/// Errors: why none was begun.
pub fn fresh(
    dir: &Path,
    inches: bool,
    spreadsheets: bool,
    name: Option<&str>,
) -> Result<Vec<String>, NotMade> {
    let there = job::files_there(dir);
    if !there.is_empty() {
        return Err(NotMade::NotSo(say::job_is_there(dir, &there)));
    }
    let mut text = boat(inches);
    if let Some(name) = name {
        let mut boat: DocumentMut = text.parse().map_err(|slip: TomlError| bug(&slip))?;
        boat["name"] = value(name);
        text = boat.to_string();
    }
    let mut files = vec![("boat.toml".to_owned(), text.into_bytes())];
    for (stem, columns) in job::fresh_sheets(&PANELS) {
        files.push(match spreadsheets {
            true => {
                let bytes = spreadsheet(stem, &columns);
                let bytes = bytes.map_err(|slip| bug(&slip))?;
                (format!("{stem}.xlsx"), bytes)
            }
            false => (
                format!("{stem}.csv"),
                format!("{}\n", columns.join(",")).into_bytes(),
            ),
        });
    }
    let named: Vec<(&str, Vec<u8>)> = files
        .iter()
        .map(|(name, bytes)| (name.as_str(), bytes.clone()))
        .collect();
    begin(dir, &named)?;
    Ok(files.into_iter().map(|(name, _)| name).collect())
}

fn bug(slip: &dyn Display) -> Fault {
    Fault::Format {
        file: "a fresh job",
        why: slip.to_string(),
    }
}

fn boat(inches: bool) -> String {
    let mut parts = BOAT.split('{');
    let mut text = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (both, rest) = part.split_once('}').unwrap_or((part, ""));
        let (mm, inch) = both.split_once('|').unwrap_or((both, both));
        text += if inches { inch } else { mm };
        text += rest;
    }
    text
}

/// A sheet with its header and nothing else. Its cells are text, so that no spreadsheet makes a date of `3/4`.
fn spreadsheet(name: &str, columns: &[&str]) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    // Nothing that is written comes from the clock.
    let day = ExcelDateTime::from_ymd(2026, 1, 1)?;
    book.set_properties(&DocProperties::new().set_creation_datetime(&day));
    let (text, head) = (
        Format::new().set_num_format("@"),
        Format::new().set_num_format("@").set_bold(),
    );
    let sheet = book.add_worksheet().set_name(name)?;
    sheet.set_freeze_panes(1, 0)?;
    for (place, column) in (0_u16..).zip(columns) {
        sheet.set_column_format(place, &text)?;
        sheet.set_column_width(
            place,
            if matches!(*column, "colours" | "defects" | "lengths" | "notes") {
                28
            } else {
                12
            },
        )?;
        sheet.write_string_with_format(0, place, *column, &head)?;
    }
    book.save_to_buffer()
}
