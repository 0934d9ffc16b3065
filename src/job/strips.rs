//! strips.csv: what is in the rack.

use super::cell::Cell;
use super::found::Found;
use super::rack::{Against, CULL_MM, Rack, Stated, StripRow, StripSize, falls_short};
use super::table::{Form, Row, Rows, each_row};
use super::{colours, defects};
use crate::stock::Defect;
use crate::units::{Length, Unit};

pub(super) const FILE: &str = "strips.csv";

pub(super) const FORM: Form = Form {
    file: FILE,
    columns: &[
        "strip",
        "board",
        "seq",
        "length",
        "width",
        "thickness",
        "colour",
        "wood",
        "grain",
        "sister",
        "defects",
        "notes",
    ],
    required: &["strip", "board", "seq", "length", "colour"],
    rows: Rows::AtLeastOne,
};

/// A strip longer than this, or than so many of the longest course, is most likely a slip of units; a shorter one than
/// the last too. Units: metre, times, metre. Common practice, no source: no saw mill sells longer boards.
const LONG_M: f64 = 15.0;
const LONG_TIMES: f64 = 4.0;
const SHORT_M: f64 = 0.1;

/// Reads strips.csv into the rack. Beside boards.csv a row may be about one of its slices: what is written there counts
/// instead of what the board says, field by field.
pub(super) fn read(
    bytes: &[u8],
    beside_boards: bool,
    against: &Against,
    rack: &mut Rack,
    found: &mut Found,
) {
    // What the board or a photograph says need not be said again.
    let said = |column| {
        (beside_boards && column != "strip") || (column == "colour" && !rack.measured.is_empty())
    };
    let required = FORM.required.iter().copied();
    let required: Vec<&str> = required.filter(|column| !said(*column)).collect();
    let form = Form {
        required: &required,
        rows: match beside_boards {
            true => Rows::MayBeNone,
            false => FORM.rows,
        },
        ..FORM
    };
    each_row(&form, bytes, against.unit, found, |row, found| {
        if let Some(name) = name(row, rack, found) {
            strip(row, name, beside_boards, against, rack, found);
        }
    });
}

/// The name of a strip, where it is a new one and the row can be read on.
fn name<'r>(row: &Row<'r>, rack: &mut Rack, found: &mut Found) -> Option<&'r str> {
    let cell = row.cell("strip");
    if cell.is_empty() {
        cell.complain(found, "is empty", "Give every strip a name of its own.");
        rack.nameless = true;
    } else if let Some(first) = rack.named.get(cell.text) {
        return cell.refuse(
            found,
            format!("is there twice: line {first} has a strip of this name"),
            "Give every strip a name of its own.",
        );
    } else {
        rack.named.insert(cell.name(found).to_owned(), row.line);
    }
    if let Some(line) = rack.spoiled.get(cell.text) {
        return cell.refuse(
            found,
            format!("is spoiled, as boards.csv says in line {line}"),
            "Take it out of spoiled there, or out of this file.",
        );
    }
    row.sound.then_some(cell.text)
}

fn strip(
    row: &Row<'_>,
    name: &str,
    beside_boards: bool,
    against: &Against,
    rack: &mut Rack,
    found: &mut Found,
) {
    let slice = rack
        .slices
        .get(name)
        .and_then(|place| rack.rows.get_mut(*place));
    let measured = rack.measured.get(name).map(|(colour, _)| *colour);
    let some_measured = !rack.measured.is_empty();
    let written = |column| {
        let cell = row.cell(column);
        // The column may be missing as a whole, which nobody has complained of.
        let silent = cell.silent && !beside_boards && !(column == "colour" && some_measured);
        let needed = slice.is_none() && !(column == "colour" && measured.is_some());
        (!cell.is_empty() || needed).then_some(Cell { silent, ..cell })
    };
    let length = written("length").map(|cell| {
        let length = cell.positive_length(found);
        if let Some(length) = length {
            look_at_length(&cell, length, against, found);
        }
        length
    });
    let colour = written("colour").map(|cell| colours::read(&cell, found));
    let wanted = |side: fn(StripSize) -> Length| against.size.map(side);
    let width = across(&row.cell("width"), wanted(|size| size.width), found);
    let thickness = across(&row.cell("thickness"), wanted(|size| size.thickness), found);
    let texts = ["sister", "wood", "grain", "notes"].map(|column| row.cell(column).text);
    let Some(slice) = slice else {
        let (origin, origin_read) = origin(row, found);
        let length = length.flatten();
        let [sister, wood, grain, notes] = texts.map(str::to_owned);
        rack.rows.push(StripRow {
            file: FILE,
            line: row.line,
            name: name.to_owned(),
            origin,
            origin_read,
            sister,
            length: Stated::of(length),
            width,
            thickness,
            colour: match (colour, measured) {
                (None, Some(measured)) => Stated::Is(measured),
                (colour, _) => Stated::of(colour.flatten()),
            },
            wood,
            grain,
            defects: defects::read(&row.cell("defects"), length, found),
            notes,
            promised: false,
        });
        return;
    };
    complain_of_other_board(row, slice, found);
    if let Some(length) = length {
        slice.length = Stated::of(length);
    }
    if let Some(colour) = colour {
        slice.colour = Stated::of(colour);
    }
    slice.width = width.or(slice.width);
    slice.thickness = thickness.or(slice.thickness);
    for (text, own) in texts.into_iter().zip([
        &mut slice.sister,
        &mut slice.wood,
        &mut slice.grain,
        &mut slice.notes,
    ]) {
        if !text.is_empty() {
            *own = text.to_owned();
        }
    }
    // Whoever measures a slice has sawn it.
    slice.promised &= length.is_none();
    let length = slice.length.known();
    let cell = row.cell("defects");
    if cell.is_empty() {
        // The board's, as far as this slice reaches.
        let within = |defect: Defect| length.map_or(Some(defect), |length| defect.within(length));
        slice.defects = slice.defects.drain(..).filter_map(within).collect();
    } else {
        slice.defects = defects::read(&cell, length, found);
    }
    if !slice.sister.is_empty() {
        (slice.file, slice.line) = (FILE, row.line);
    }
}

/// A slice of boards.csv is of that board; a row for it may say so or leave it empty.
fn complain_of_other_board(row: &Row<'_>, slice: &StripRow, found: &mut Found) {
    let Some((board, seq)) = &slice.origin else {
        return;
    };
    for (column, own) in [("board", board.clone()), ("seq", seq.to_string())] {
        let cell = row.cell(column);
        if !cell.is_empty() && cell.text != own {
            cell.complain(
                found,
                format!("is not what boards.csv makes of {}: there it is slice {seq} of board \"{board}\"", slice.name),
                "Leave board and seq empty, or give the strip another name.",
            );
        }
    }
}

/// Board and seq, and whether they could be read.
fn origin(row: &Row<'_>, found: &mut Found) -> (Option<(String, u32)>, bool) {
    let (board, seq) = (row.cell("board"), row.cell("seq"));
    match (board.is_empty(), seq.is_empty()) {
        (true, true) => (None, !board.silent && !seq.silent),
        (true, false) => {
            board.complain(
                found,
                format!("is empty, but seq is \"{}\"", seq.text),
                "Write the board, or empty both for a stray.",
            );
            (None, false)
        }
        (false, true) => {
            seq.complain(
                found,
                format!("is empty, but board is \"{}\"", board.text),
                "Write the strip's place in the board, 1, 2, 3 and so on, or empty both for a stray.",
            );
            (None, false)
        }
        (false, false) => match seq.counted(found) {
            Some(number) => (Some((board.name(found).to_owned(), number)), true),
            None => (None, false),
        },
    }
}

pub(super) fn look_at_length(
    cell: &Cell<'_>,
    length: Length,
    against: &Against,
    found: &mut Found,
) {
    let unit = cell.unit;
    let mend = format!(
        "Bare numbers are in {}; write the unit behind a number in another.",
        unit.spoken()
    );
    if length.metres() > LONG_M {
        let wrong = format!("is {}, most likely a slip of units", unit.far(length));
        cell.warn(found, wrong, mend);
    } else if let Some(longest) = against.longest.filter(|l| length > *l * LONG_TIMES) {
        let wrong = format!(
            "is {}, more than {LONG_TIMES} times the longest course, {}: most likely a slip of units",
            unit.far(length),
            unit.far(longest)
        );
        cell.warn(found, wrong, mend);
    } else if length.metres() < SHORT_M {
        let wrong = format!("is only {}, most likely a slip of units", unit.rule(length));
        cell.warn(found, wrong, mend);
    }
}

/// A measured width or thickness, with a warning where it falls short.
fn across(cell: &Cell<'_>, wanted: Option<Length>, found: &mut Found) -> Option<Length> {
    if cell.is_empty() {
        return None;
    }
    let measured = cell.positive_length(found)?;
    if let Some(wanted) = wanted.filter(|wanted| falls_short(measured, *wanted)) {
        cell.warn(
            found,
            format!(
                "is more than {} less than the {} of boat.toml, so nothing is cut from this strip",
                cell.unit.rule(Length::from_mm(CULL_MM)),
                match cell.unit {
                    Unit::Mm => format!("{} mm", wanted.mm()),
                    Unit::Inch => cell.unit.rule(wanted),
                }
            ),
            "Measure again, or leave it out of the rack.",
        );
    }
    Some(measured)
}
