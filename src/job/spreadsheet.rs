//! A sheet that stands in a spreadsheet (.xlsx or .ods): turned into the text that the same sheet would be as CSV, line
//! for row, so that every sheet is read in one way. What only a spreadsheet can get wrong is kept beside it.

use super::complaint::Complaint;
use super::split::column_name;
use calamine::{Data, DataRef, Ods, Reader, Xlsx};
use quick_xml::events::{BytesStart, Event};
use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use std::ops::ControlFlow;
use std::path::Path;
use zip::ZipArchive;

/// What a spreadsheet may be called instead of `name.csv`.
pub(super) const ENDINGS: [&str; 2] = ["xlsx", "ods"];

/// The most that is unpacked of a file, and taken from a sheet; far beyond any rack. Units: byte, cells, bytes.
const MOST_UNPACKED: u64 = 48 << 20;
const MOST_CELLS: usize = 400_000;
const MOST_TEXT: usize = 8 << 20;

/// A spreadsheet that was read in place of a CSV file.
pub(super) struct Spreadsheet {
    /// Its file name.
    file: String,
    /// The name of the sheet, where the file has several.
    sheet: Option<String>,
    /// The letter of each column, by the name in its header.
    letters: BTreeMap<String, String>,
    /// Cells whose value is not what was typed, by line and place in the row.
    odd: BTreeMap<(usize, usize), Odd>,
}

/// What a spreadsheet did to a cell.
#[derive(Clone, Copy)]
enum Odd {
    Date,
    Failed,
    NeverReckoned,
}

impl Spreadsheet {
    /// What is wrong with a cell that a spreadsheet changed, and the mend.
    pub(super) fn odd(&self, line: usize, place: usize) -> Option<(&'static str, &'static str)> {
        Some(match self.odd.get(&(line, place))? {
            Odd::Date => (
                "has been turned into a date by the spreadsheet",
                "Format the cell as text and type it again.",
            ),
            Odd::Failed => (
                "is a formula that came to nothing",
                "Mend the formula, or type the value.",
            ),
            Odd::NeverReckoned => (
                "is a formula without a stored value",
                "Open the file in a spreadsheet program and save it, or type the value.",
            ),
        })
    }

    /// A complaint about the CSV file that this would be, told of the spreadsheet.
    pub(super) fn told(&self, csv: &str, mut complaint: Complaint) -> Complaint {
        if complaint.file == csv {
            complaint.file.clone_from(&self.file);
            if let Some(sheet) = &self.sheet {
                complaint.file += &format!(", sheet {sheet}");
            }
            let letter = complaint
                .column
                .as_deref()
                .and_then(|name| self.letters.get(&column_name(name)));
            complaint.cell = complaint.line.map(|line| match letter {
                Some(letter) => format!("{letter}{line}"),
                None => format!("row {line}"),
            });
            complaint.wrong = rows_for_lines(&complaint.wrong);
        }
        complaint.wrong = complaint.wrong.replace(csv, &self.file);
        complaint.mend = complaint.mend.replace(csv, &self.file);
        complaint
    }
}

/// "line 3" is "row 3" in a spreadsheet.
fn rows_for_lines(text: &str) -> String {
    let mut parts = text.split("line ");
    let mut all = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        all += if part.starts_with(|c: char| c.is_ascii_digit()) {
            "row "
        } else {
            "line "
        };
        all += part;
    }
    all
}

/// Why a spreadsheet can't be read, and the mend.
pub(super) type Refusal = (&'static str, &'static str);

const NOT_ONE: Refusal = (
    "the file is not a spreadsheet that can be read",
    "Save it again as .xlsx or .ods, without a password; or save the sheet as CSV UTF-8.",
);
const TOO_LARGE: Refusal = (
    "the file is far too large for a sheet of a job",
    "Keep one sheet in the file, with nothing but the rows of the job.",
);

/// The sheet as CSV, and what only the spreadsheet knows. Of several sheets the one called like the file, else the
/// first.
pub(super) fn read(file: &str, bytes: &[u8]) -> Result<(Vec<u8>, Spreadsheet), Refusal> {
    let stem = Path::new(file)
        .file_stem()
        .and_then(|stem| stem.to_str())
        .unwrap_or_default();
    let content = unpacked(bytes)?;
    let mut cells = Cells::default();
    let sheets = match file.ends_with("ods") {
        true => ods(bytes, &content, stem, &mut cells)?,
        false => xlsx(bytes, stem, &mut cells)?,
    };
    let Cells { texts, odd, .. } = cells;
    let columns = texts
        .keys()
        .map(|(_, column)| column + 1)
        .max()
        .unwrap_or(0);
    let lines = texts.keys().map(|(row, _)| row + 1).max().unwrap_or(0);
    if columns.saturating_mul(lines) > MOST_CELLS {
        return Err(TOO_LARGE);
    }
    let mut csv = String::new();
    for line in 0..lines {
        for column in 0..columns {
            if column > 0 {
                csv.push(';');
            }
            if let Some(text) = texts.get(&(line, column)) {
                // A row must stay one line, or lines would not be rows.
                let text = text
                    .replace(|c: char| c.is_control(), " ")
                    .replace('"', "\"\"");
                csv += &format!("\"{text}\"");
            }
        }
        csv.push('\n');
    }
    let header = texts.keys().next().map(|(row, _)| *row);
    let letters = texts
        .iter()
        .filter(|((row, _), _)| Some(*row) == header)
        .map(|((_, column), text)| (column_name(text), letter(*column)))
        .collect();
    let spreadsheet = Spreadsheet {
        file: file.to_owned(),
        sheet: (sheets.1 > 1).then_some(sheets.0),
        letters,
        odd: odd
            .into_iter()
            .map(|((row, column), odd)| ((row + 1, column), odd))
            .collect(),
    };
    Ok((csv.into_bytes(), spreadsheet))
}

/// The letters of a column counted from 0: A, B … Z, AA …
fn letter(column: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = column + 1;
    while rest > 0 {
        rest -= 1;
        letters.insert(0, char::from(b'A' + (rest % 26) as u8));
        rest /= 26;
    }
    letters.into_iter().collect()
}

/// Unpacks all that a spreadsheet's reader would, to see that it is no more than can be held; gives content.xml, the
/// sheets of an .ods.
fn unpacked(bytes: &[u8]) -> Result<Vec<u8>, Refusal> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| NOT_ONE)?;
    let (mut left, mut content) = (MOST_UNPACKED, Vec::new());
    for place in 0..archive.len() {
        let entry = archive.by_index(place).map_err(|_| NOT_ONE)?;
        let name = entry.name().map_err(|_| NOT_ONE)?.into_owned();
        if !name.ends_with(".xml") && !name.ends_with(".rels") {
            continue;
        }
        let is_content = name == "content.xml";
        let mut part = Vec::new();
        entry
            .take(left + 1)
            .read_to_end(&mut part)
            .map_err(|_| NOT_ONE)?;
        left = left.checked_sub(part.len() as u64).ok_or(TOO_LARGE)?;
        if is_content {
            content = part;
        }
    }
    Ok(content)
}

/// The cells of a sheet that hold something, by row and column from 0.
#[derive(Default)]
struct Cells {
    texts: BTreeMap<(usize, usize), String>,
    odd: BTreeMap<(usize, usize), Odd>,
    text: usize,
}

impl Cells {
    fn add(
        &mut self,
        (row, column): (u32, u32),
        value: &Data,
        is_formula: bool,
    ) -> Result<(), Refusal> {
        let (text, odd) = match value {
            Data::Empty if is_formula => (String::new(), Some(Odd::NeverReckoned)),
            Data::Empty => return Ok(()),
            Data::String(text) => (text.trim().to_owned(), None),
            Data::Int(number) => (number.to_string(), None),
            Data::Float(number) => (plain(*number), None),
            Data::Bool(yes) => (yes.to_string(), None),
            Data::DateTime(date) => (plain(date.as_f64()), Some(Odd::Date)),
            Data::DateTimeIso(text) | Data::DurationIso(text) => (text.clone(), Some(Odd::Date)),
            Data::Error(error) => (error.to_string(), Some(Odd::Failed)),
        };
        if text.is_empty() && odd.is_none() {
            return Ok(());
        }
        self.text += text.len();
        if self.text > MOST_TEXT || self.texts.len() >= MOST_CELLS {
            return Err(TOO_LARGE);
        }
        let place = (row as usize, column as usize);
        self.texts.insert(place, text);
        self.odd.extend(odd.map(|odd| (place, odd)));
        Ok(())
    }
}

/// A number as a spreadsheet shows it: fifteen figures that count, no exponent.
fn plain(number: f64) -> String {
    let rounded = format!("{number:.14e}").parse::<f64>().unwrap_or(number);
    rounded.to_string()
}

/// Which of the sheets, and how many there are.
fn pick(names: &[String], stem: &str) -> Result<(String, usize), Refusal> {
    let own = names.iter().find(|name| name.eq_ignore_ascii_case(stem));
    let name = own.or(names.first()).ok_or(NOT_ONE)?;
    Ok((name.clone(), names.len()))
}

fn xlsx(bytes: &[u8], stem: &str, cells: &mut Cells) -> Result<(String, usize), Refusal> {
    let mut book = Xlsx::new(Cursor::new(bytes)).map_err(|_| NOT_ONE)?;
    let picked = pick(&book.sheet_names(), stem)?;
    // Cell by cell: a sheet as a whole would be as large as its farthest cell says.
    let mut reader = book
        .worksheet_cells_reader(&picked.0)
        .map_err(|_| NOT_ONE)?;
    while let Some(cell) = reader.next_cell_with_formula().map_err(|_| NOT_ONE)? {
        let value = match cell.value {
            DataRef::SharedString(text) => Data::String(text.to_owned()),
            other => other.into(),
        };
        cells.add(cell.pos, &value, cell.formula.is_some())?;
    }
    Ok(picked)
}

fn ods(
    bytes: &[u8],
    content: &[u8],
    stem: &str,
    cells: &mut Cells,
) -> Result<(String, usize), Refusal> {
    if unrolled(content)? > MOST_CELLS {
        return Err(TOO_LARGE);
    }
    let mut book = Ods::new(Cursor::new(bytes)).map_err(|_| NOT_ONE)?;
    let picked = pick(&book.sheet_names(), stem)?;
    let values = book.worksheet_range(&picked.0).map_err(|_| NOT_ONE)?;
    let formulas = book.worksheet_formula(&picked.0).map_err(|_| NOT_ONE)?;
    for (row, column, value) in every(&values) {
        let formula = formulas.get_value((row, column));
        cells.add(
            (row, column),
            value,
            formula.is_some_and(|formula| !formula.is_empty()),
        )?;
    }
    // Where a formula has no value at all, the sheet of values may end before it.
    for (row, column, formula) in every(&formulas) {
        let value = values.get_value((row, column)).unwrap_or(&Data::Empty);
        cells.add((row, column), value, !formula.is_empty())?;
    }
    Ok(picked)
}

/// The cells of a range at their places in the sheet.
fn every<T: calamine::CellType>(
    range: &calamine::Range<T>,
) -> impl Iterator<Item = (u32, u32, &T)> {
    let (top, left) = range.start().unwrap_or_default();
    range
        .cells()
        .map(move |(row, column, value)| (top + row as u32, left + column as u32, value))
}

/// How many cells the sheets of an .ods come to, once cells and rows that are written once and repeated are unrolled.
fn unrolled(content: &[u8]) -> Result<usize, Refusal> {
    let mut reader = quick_xml::Reader::from_reader(content);
    let (mut total, mut sheet) = (0_usize, Sheet::default());
    loop {
        let step = match reader.read_event().map_err(|_| NOT_ONE)? {
            Event::Start(tag) => sheet.open(&tag, false),
            Event::Empty(tag) => sheet.open(&tag, true),
            Event::End(tag) if tag.name().as_ref() == "table:table-row" => {
                sheet.end_row();
                ControlFlow::Continue(())
            }
            Event::End(tag) if tag.name().as_ref() == "table:table" => {
                total = total.saturating_add(sheet.rows.saturating_mul(sheet.width));
                sheet = Sheet::default();
                ControlFlow::Continue(())
            }
            Event::Eof => return Ok(total),
            _ => ControlFlow::Continue(()),
        };
        if step.is_break() {
            return Err(NOT_ONE);
        }
    }
}

/// How far a sheet of an .ods reaches, up to its last cell with something in it.
#[derive(Default)]
struct Sheet {
    rows: usize,
    blank_rows: usize,
    width: usize,
    /// Of the row that is being read: how often it is there, its cells so far, and up to the last that is not blank.
    times: usize,
    cells: usize,
    filled: usize,
}

impl Sheet {
    fn open(&mut self, tag: &BytesStart<'_>, is_empty: bool) -> ControlFlow<()> {
        let repeated = |name: &str| -> Option<usize> {
            match tag.try_get_attribute(name) {
                Ok(Some(value)) => value.value.parse().ok(),
                Ok(None) => Some(1),
                Err(_) => None,
            }
        };
        match tag.name().as_ref() {
            "table:table-row" => match repeated("table:number-rows-repeated") {
                Some(times) => {
                    (self.times, self.cells, self.filled) = (times, 0, 0);
                    if is_empty {
                        self.end_row();
                    }
                    ControlFlow::Continue(())
                }
                None => ControlFlow::Break(()),
            },
            "table:table-cell" | "table:covered-table-cell" => {
                let Some(times) = repeated("table:number-columns-repeated") else {
                    return ControlFlow::Break(());
                };
                self.cells = self.cells.saturating_add(times);
                let says_something = tag.attributes().flatten().any(|attribute| {
                    let name = attribute.key;
                    name.as_ref().starts_with("office:") || name.as_ref() == "table:formula"
                });
                if says_something || !is_empty {
                    self.filled = self.cells;
                }
                ControlFlow::Continue(())
            }
            _ => ControlFlow::Continue(()),
        }
    }

    fn end_row(&mut self) {
        if self.filled == 0 {
            self.blank_rows = self.blank_rows.saturating_add(self.times);
        } else {
            self.rows = self
                .rows
                .saturating_add(self.blank_rows)
                .saturating_add(self.times);
            self.blank_rows = 0;
            self.width = self.width.max(self.filled);
        }
    }
}
