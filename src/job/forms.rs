//! forms.csv: where the forms stand, and the girth of every panel at each.

use super::complaint::Complaint;
use super::found::Found;
use super::split::column_name;
use super::table::{self, Row, Rows, each_row};
use crate::hull::{Form, FormId};
use crate::units::{Length, Unit, X};
use std::collections::BTreeMap;

pub(super) const FILE: &str = "forms.csv";

/// The columns before those of the panels.
pub(super) const COLUMNS: [&str; 2] = ["form", "from_bow"];

/// Forms farther from the bow than this are most likely a slip of units. Unit: metre. Common practice, no source:
/// strip-built boats are small.
const FAR_M: f64 = 30.0;

/// What forms.csv says.
#[derive(Default)]
pub(super) struct Forms {
    /// The forms from the bow aft.
    pub(super) forms: Vec<Form>,
    /// The line on which each stands.
    pub(super) lines: Vec<usize>,
    /// For each panel of boat.toml the girths that were taped, by form.
    pub(super) girths: Vec<BTreeMap<FormId, Length>>,
}

/// Reads forms.csv. Without `panels` (boat.toml could not be read) the girths are not looked at.
pub(super) fn read(
    bytes: &[u8],
    panels: Option<&[String]>,
    unit: Unit,
    found: &mut Found,
) -> Forms {
    let panels = panels.unwrap_or_default();
    let clash = clash(panels);
    if let Some(name) = clash {
        let wrong = format!("panel \"{name}\" can't be told from another column");
        let mend = "Give the panel another name in boat.toml.";
        found.complain(Complaint::of(FILE, wrong, mend));
        return Forms::default();
    }
    let mut columns = COLUMNS.to_vec();
    columns.extend(panels.iter().map(String::as_str));
    let sheet = table::Form {
        file: FILE,
        columns: &columns,
        required: &COLUMNS,
        rows: Rows::AtLeastOne,
    };
    let mut read = Forms {
        girths: vec![BTreeMap::new(); panels.len()],
        ..Forms::default()
    };
    each_row(&sheet, bytes, unit, found, |row, found| {
        let at = place(row, &read, found);
        let name = name(row, &read, found);
        let id = FormId(read.forms.len());
        for (panel, girths) in panels.iter().zip(&mut read.girths) {
            let cell = row.cell(panel);
            if !cell.is_empty()
                && let Some(girth) = cell.length(found)
            {
                if girth < Length::ZERO {
                    cell.complain(found, "is negative", "Write 0 or more, or leave it empty.");
                } else {
                    girths.insert(id, girth);
                }
            }
        }
        // A form that can't be read still takes its place, so that the girths after it are not taken for its own.
        read.forms.push(Form {
            name: name.unwrap_or_default(),
            at: at.unwrap_or(X::ORIGIN),
        });
        read.lines.push(row.line);
    });
    read
}

/// A panel whose column would be another's as well.
fn clash(panels: &[String]) -> Option<&str> {
    let mut names = COLUMNS.map(column_name).to_vec();
    for panel in panels {
        let name = column_name(panel);
        if names.contains(&name) {
            return Some(panel);
        }
        names.push(name);
    }
    None
}

fn name(row: &Row<'_>, read: &Forms, found: &mut Found) -> Option<String> {
    let cell = row.cell("form");
    if cell.is_empty() {
        return cell.refuse(found, "is empty", "Write the form's name or number.");
    }
    if let Some(i) = read.forms.iter().position(|form| form.name == cell.text) {
        return cell.refuse(
            found,
            format!("is there twice: line {} has the same form", read.lines[i]),
            "Give each form its own name.",
        );
    }
    Some(cell.name(found).to_owned())
}

fn place(row: &Row<'_>, read: &Forms, found: &mut Found) -> Option<X> {
    let cell = row.cell("from_bow");
    let at = cell.length(found).map(X::at)?;
    if let (Some(last), Some(line)) = (read.forms.last(), read.lines.last()) {
        let wrong = if at == last.at {
            format!(
                "is where form \"{}\" on line {line} stands already",
                last.name
            )
        } else if at < last.at {
            format!("is forward of form \"{}\" on line {line}", last.name)
        } else {
            String::new()
        };
        if !wrong.is_empty() {
            cell.complain(
                found,
                wrong,
                "Write the forms from the bow aft, each farther from the bow than the one before.",
            );
        }
    }
    let is_far = |at: X| at.from_origin().metres() > FAR_M;
    // The first that is too far says it for all.
    if is_far(at) && !read.forms.last().is_some_and(|last| is_far(last.at)) {
        cell.warn(
            found,
            format!(
                "is {} from the bow, most likely a slip of units",
                cell.unit.far(at.from_origin())
            ),
            format!(
                "Bare numbers are in {}; write the unit behind a number in another.",
                cell.unit.spoken()
            ),
        );
    }
    Some(at)
}
