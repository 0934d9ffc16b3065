//! photos.csv: which photograph shows which slices, and where along them the card lay.

use super::cell::Cell;
use super::complaint::Complaint;
use super::files::{input, is_a_folder, others_named};
use super::found::Found;
use super::rack::{Against, Rack, StripRow, StripSize};
use super::slices::Slices;
use super::table::{Form, Row, Rows, each_row};
use super::{boat, keys, measured, rack};
use crate::units::{Length, Unit};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path};

pub(super) const FILE: &str = "photos.csv";

pub(super) const FORM: Form = Form {
    file: FILE,
    columns: &[
        "photo",
        "board",
        "slices",
        "at",
        "turned",
        "grey_card",
        "notes",
    ],
    required: &["photo", "board", "at"],
    rows: Rows::AtLeastOne,
};

/// More slices than this have no room in a photograph that shows them well. Common practice, no source.
const MOST_SLICES: usize = 60;

/// A photograph, as photos.csv has it.
#[derive(Clone, PartialEq, Debug)]
pub struct Photo {
    /// Its path in the folder of the job.
    pub file: String,
    /// The strips it shows, from the top, with their lengths where they are known.
    pub strips: Vec<(String, Option<Length>)>,
    /// From the marked ends to the left edge of the card.
    pub at: Length,
    /// Whether the picture is upside down, and the card is not.
    pub turned: bool,
    /// How much of the light the bought grey card gives back. Unit: a part.
    pub grey_card: Option<f64>,
}

/// The photographs of a job.
#[derive(Clone, PartialEq, Debug)]
pub struct Photos {
    /// What bare numbers mean, and what lengths are written in.
    pub unit: Unit,
    /// The width of a strip, which is how wide a slice lies.
    pub width: Length,
    /// All of them, in the order of the sheet.
    pub photos: Vec<Photo>,
    /// What is odd but can be read, sorted by file and line.
    pub warnings: Vec<Complaint>,
}

/// Reads photos.csv and what it speaks of: boat.toml for the width of a strip, and the rack, whose lengths and
/// colours may be missing still.
///
/// Errors: everything that is wrong with those files, sorted by file and line.
pub fn read_photos(dir: &Path) -> Result<Photos, Vec<Complaint>> {
    is_a_folder(dir)?;
    let mut found = Found::default();
    let photos = read(dir, &mut found);
    let (photos, warnings) = found.whole(photos)?;
    Ok(Photos { warnings, ..photos })
}

fn read(dir: &Path, found: &mut Found) -> Option<Photos> {
    // The colours that there are now are about to be measured anew.
    for name in others_named(dir, measured::FILE) {
        let wrong = "is a spreadsheet, and colours are written as CSV";
        let mend = "Take it out of the folder; it is measured anew as colours.csv.";
        found.complain(Complaint::of(name, wrong, mend));
    }
    let boat =
        input(dir, keys::FILE, &mut Vec::new(), found).and_then(|bytes| boat::read(&bytes, found));
    let unit = boat.as_ref().and_then(|boat| boat.unit);
    let rules = boat.and_then(|boat| boat.rules);
    let against = Against {
        unit: unit.unwrap_or_default(),
        size: rules.as_ref().map(StripSize::of),
        longest: None,
        promised: None,
    };
    let rack = rack::rows(dir, &against, &mut Vec::new(), found);
    let bytes = input(dir, FILE, &mut Vec::new(), found)?;
    let rack = rack?;
    let mut photos = Vec::new();
    let mut named = BTreeMap::new();
    each_row(&FORM, &bytes, against.unit, found, |row, found| {
        photos.extend(photo(row, &rack, &mut named, found));
    });
    Some(Photos {
        unit: unit?,
        width: rules?.width,
        photos,
        warnings: Vec::new(),
    })
}

fn photo(
    row: &Row<'_>,
    rack: &Rack,
    named: &mut BTreeMap<String, usize>,
    found: &mut Found,
) -> Option<Photo> {
    let file = file(&row.cell("photo"), named, found);
    let strips = strips(row, rack, found);
    let at = row.cell("at").length(found);
    let turned = turned(&row.cell("turned"), found);
    let grey_card = grey_card(&row.cell("grey_card"), found);
    row.sound.then_some(Photo {
        file: file?,
        strips: strips?,
        at: at?,
        turned: turned?,
        grey_card: grey_card?,
    })
}

/// A file in the folder of the job, or in a folder in it: no row leads anywhere else.
fn file(cell: &Cell<'_>, named: &mut BTreeMap<String, usize>, found: &mut Found) -> Option<String> {
    if cell.is_empty() {
        return cell.refuse(
            found,
            "is empty",
            "Write the name of the photograph's file.",
        );
    }
    let name = cell.name(found);
    let inside = Path::new(name)
        .components()
        .all(|part| matches!(part, Component::Normal(_)));
    if !inside || name.contains('\\') {
        let mend = "Put the photograph into the folder of the job, or a folder in it, and write its name: \
            IMG_2041.jpg, photos/IMG_2041.jpg.";
        return cell.refuse(found, "leads out of the folder of the job", mend);
    }
    if let Some(first) = named.insert(name.to_owned(), cell.line) {
        let wrong = format!("is there twice: line {first} has this photograph");
        return cell.refuse(found, wrong, "Keep one row for each photograph.");
    }
    Some(name.to_owned())
}

/// The strips that are seen, from the top.
fn strips(row: &Row<'_>, rack: &Rack, found: &mut Found) -> Option<Vec<(String, Option<Length>)>> {
    let (board, slices) = (row.cell("board"), row.cell("slices"));
    let strips = match board.is_empty() {
        true => by_name(&slices, rack, found)?,
        false => of_board(&board, &slices, rack, found)?,
    };
    if strips.len() > MOST_SLICES {
        let wrong = format!("comes to {} slices, more than {MOST_SLICES}", strips.len());
        return slices.refuse(
            found,
            wrong,
            "Lay fewer side by side, and take more photographs.",
        );
    }
    Some(strips)
}

fn by_name(
    cell: &Cell<'_>,
    rack: &Rack,
    found: &mut Found,
) -> Option<Vec<(String, Option<Length>)>> {
    let names: Vec<&str> = cell
        .text
        .split(';')
        .map(str::trim)
        .filter(|name| !name.is_empty())
        .collect();
    if names.is_empty() {
        return cell.refuse(
            found,
            "is empty, and so is board",
            "Write the board; or, of strays, their names: S1; S2.",
        );
    }
    let mut strips = Vec::new();
    let mut seen = BTreeSet::new();
    for name in names {
        let Some(row) = rack.rows.iter().find(|row| row.name == name) else {
            let wrong = format!("names {name}, which is not in the rack");
            return cell.refuse(
                found,
                wrong,
                "Write the board, or names of strips with semicolons: S1; S2.",
            );
        };
        if !seen.insert(name) {
            return cell.refuse(
                found,
                format!("names {name} twice"),
                "Write each strip once, from the top.",
            );
        }
        strips.push(strip(row));
    }
    Some(strips)
}

fn strip(row: &StripRow) -> (String, Option<Length>) {
    (row.name.clone(), row.length.known())
}

fn of_board(
    board: &Cell<'_>,
    cell: &Cell<'_>,
    rack: &Rack,
    found: &mut Found,
) -> Option<Vec<(String, Option<Length>)>> {
    let of_board = |row: &&StripRow| {
        row.origin
            .as_ref()
            .is_some_and(|(name, _)| name == board.text)
    };
    let there: BTreeMap<u32, &StripRow> = rack
        .rows
        .iter()
        .filter(of_board)
        .filter_map(|row| Some((row.origin.as_ref()?.1, row)))
        .collect();
    let told = rack.told.iter().find(|other| other.name == board.text);
    if there.is_empty() && told.is_none() {
        return board.refuse(
            found,
            "is not a board of the rack",
            "Write it as boards.csv or strips.csv has it; or leave it empty and name the strips.",
        );
    }
    let last = there.keys().next_back().copied().unwrap_or(0);
    let slices = Slices {
        board: board.text,
        count: told.and_then(|board| board.slices).unwrap_or(0).max(last),
    };
    if cell.is_empty() && there.is_empty() {
        return board.refuse(
            found,
            "has no slices yet",
            "Write under slices in boards.csv how many came off.",
        );
    }
    if cell.is_empty() {
        return Some(there.values().map(|row| strip(row)).collect());
    }
    let before = found.complaints.len();
    let wanted = slices.list(
        &Cell {
            text: &cell.text.replace(',', ";"),
            ..*cell
        },
        found,
    );
    if found.complaints.len() > before || wanted.is_empty() {
        return None;
    }
    let mut strips = Vec::new();
    for seq in wanted {
        let Some(row) = there.get(&seq) else {
            let wrong = format!("names slice {seq}, which is spoiled or not in the rack");
            return cell.refuse(
                found,
                wrong,
                "Photograph slices that are used, and write just those.",
            );
        };
        strips.push(strip(row));
    }
    Some(strips)
}

fn turned(cell: &Cell<'_>, found: &mut Found) -> Option<bool> {
    match cell.text.to_lowercase().as_str() {
        "" | "no" => Some(false),
        "yes" | "x" => Some(true),
        _ => cell.refuse(
            found,
            "is neither yes nor no",
            "Write yes where the picture is upside down and the card \
                is not; else leave it empty.",
        ),
    }
}

/// `18` or `18 %`; the outer `None` where that can't be read.
fn grey_card(cell: &Cell<'_>, found: &mut Found) -> Option<Option<f64>> {
    if cell.is_empty() {
        return Some(None);
    }
    let number = cell.text.trim_end_matches('%').trim_end();
    match crate::units::parse::number(number, cell.decimal) {
        Ok(percent) if (1.0..=100.0).contains(&percent) => Some(Some(percent / 100.0)),
        _ => cell.refuse(
            found,
            "is not from 1 to 100 percent",
            "Write how much of the light the bought card gives \
                back, as 18; where none lay there, leave it empty.",
        ),
    }
}
