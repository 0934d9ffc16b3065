//! boards.csv: what came off the saw, a row a board. What all slices of a board have in common is said once.

use super::cell::Cell;
use super::found::Found;
use super::rack::{Against, Rack, Stated, StripRow, falls_short};
use super::slices::Slices;
use super::strips::look_at_length;
use super::table::{Form, Row, Rows, each_row};
use super::{colours, defects};
use crate::mill::Board;
use crate::stock::{Defect, merged};
use crate::units::Length;
use std::collections::BTreeMap;

pub(super) const FILE: &str = "boards.csv";

pub(super) const FORM: Form = Form {
    file: FILE,
    columns: &[
        "board",
        "slices",
        "length",
        "width",
        "thickness",
        "colour",
        "wood",
        "grain",
        "lengths",
        "defects",
        "colours",
        "spoiled",
        "notes",
    ],
    required: &["board", "slices"],
    rows: Rows::MayBeNone,
};

/// No board gives more slices than this: a board a metre wide gives some 150 of 4 mm. Common practice, no source.
const MOST_SLICES: u32 = 500;

/// Reads boards.csv into the rack.
pub(super) fn read(bytes: &[u8], against: &Against, rack: &mut Rack, found: &mut Found) {
    each_row(&FORM, bytes, against.unit, found, |row, found| {
        if let Some(name) = name(row, &mut rack.boards, found) {
            board(row, name, against, rack, found);
        }
    });
}

/// The name of a board, where it is a new one and the row can be read on.
fn name<'r>(
    row: &Row<'r>,
    named: &mut BTreeMap<String, usize>,
    found: &mut Found,
) -> Option<&'r str> {
    let cell = row.cell("board");
    if cell.is_empty() {
        return cell.refuse(found, "is empty", "Give every board a name of its own.");
    }
    if let Some(first) = named.get(cell.text) {
        return cell.refuse(
            found,
            format!("is there twice: line {first} has a board of this name"),
            "Give every board a name of its own.",
        );
    }
    named.insert(cell.name(found).to_owned(), row.line);
    row.sound.then_some(cell.text)
}

fn board(row: &Row<'_>, name: &str, against: &Against, rack: &mut Rack, found: &mut Found) {
    let Some(count) = count(&row.cell("slices"), found) else {
        return;
    };
    let promised = match count {
        0 => promised(row, against),
        _ => None,
    };
    let sawn = (count > 0).then_some(count);
    let count = promised.unwrap_or(count);
    let slices = Slices { board: name, count };
    let wide = width(row, count, against, found);
    let width = thickness(&row.cell("thickness"), against, found);
    let spoiled = slices.list(&row.cell("spoiled"), found);
    let (common, lengths) = lengths(row, &slices, against, found);
    rack.told.push(Board {
        name: name.to_owned(),
        slices: sawn,
        spoiled: spoiled.clone(),
        length: common.known(),
        width: wide,
    });
    let colour = |cell: &Cell<'_>, found: &mut Found| Stated::of(colours::read(cell, found));
    let (all, example) = (("colour", "colours"), "3: 64.7 13.3 28.8; 5-6: #c4936a");
    let (_, colours) = each_slice(row, all, example, &slices, colour, found);
    let mut defects = all_defects(&row.cell("defects"), &slices, &lengths, found);
    for ((seq, length), colour) in (1..=count).zip(lengths).zip(colours) {
        let strip = format!("{name}{seq}");
        if let Some(other) = rack
            .slices
            .get(&strip)
            .and_then(|place| rack.rows.get(*place))
        {
            row.cell("board").complain(
                found,
                format!(
                    "makes a strip called {strip}, and so does the board in line {}",
                    other.line
                ),
                "Give one of the two boards another name.",
            );
            return;
        }
        if spoiled.contains(&seq) {
            rack.spoiled.insert(strip, row.line);
            continue;
        }
        rack.slices.insert(strip.clone(), rack.rows.len());
        rack.rows.push(StripRow {
            file: FILE,
            line: row.line,
            name: strip,
            origin: Some((name.to_owned(), seq)),
            origin_read: true,
            sister: String::new(),
            length,
            width,
            thickness: None,
            colour,
            wood: row.cell("wood").text.to_owned(),
            grain: row.cell("grain").text.to_owned(),
            defects: merged(defects.remove(&seq).unwrap_or_default()),
            notes: row.cell("notes").text.to_owned(),
            promised: promised.is_some(),
        });
    }
}

/// How many slices a board that is not sawn yet will give, where such are planned with and it says enough of itself.
fn promised(row: &Row<'_>, against: &Against) -> Option<u32> {
    // What is wrong with its width or its length is told where they are read.
    let told = |column| row.cell(column).positive_length(&mut Found::default());
    let (mill, size) = (against.promised?, against.size?);
    let (width, _) = (told("width")?, told("length")?);
    let slices = u32::try_from(mill.slices(width, size.thickness)).ok()?;
    (slices > 0).then_some(slices.min(MOST_SLICES))
}

/// How many slices came off; none where the board is not sawn yet.
fn count(cell: &Cell<'_>, found: &mut Found) -> Option<u32> {
    if cell.is_empty() {
        return Some(0);
    }
    let count = cell.counted(found)?;
    if count > MOST_SLICES {
        let wrong = format!("is more than {MOST_SLICES}, which no board gives");
        return cell.refuse(found, wrong, "Write how many slices came off this board.");
    }
    Some(count)
}

/// A board of so many slices can't be narrower than all of them together.
fn width(row: &Row<'_>, count: u32, against: &Against, found: &mut Found) -> Option<Length> {
    let cell = row.cell("width");
    if cell.is_empty() {
        return None;
    }
    let width = cell.positive_length(found)?;
    if let Some(size) = against
        .size
        .filter(|size| size.thickness * f64::from(count) > width)
    {
        let thick = cell.unit.shop(size.thickness);
        let wrong = format!("is too narrow for {count} slices of {thick}");
        cell.warn(found, wrong, "Look at the width and the number of slices.");
    }
    Some(width)
}

/// The board is as thick as its slices are wide.
fn thickness(cell: &Cell<'_>, against: &Against, found: &mut Found) -> Option<Length> {
    if cell.is_empty() {
        return None;
    }
    let measured = cell.positive_length(found)?;
    let wanted = against.size.map(|size| size.width);
    if let Some(wanted) = wanted.filter(|wanted| falls_short(measured, *wanted)) {
        let wide = cell.unit.shop(wanted);
        let wrong =
            format!("is less than the width of a strip, {wide}, so nothing is cut from its slices");
        cell.warn(
            found,
            wrong,
            "Measure again, or leave the board out of the rack.",
        );
    }
    Some(measured)
}

/// The length of each slice.
fn lengths(
    row: &Row<'_>,
    slices: &Slices<'_>,
    against: &Against,
    found: &mut Found,
) -> (Stated<Length>, Vec<Stated<Length>>) {
    let read = |cell: &Cell<'_>, found: &mut Found| {
        let length = cell.positive_length(found);
        if let Some(length) = length {
            look_at_length(cell, length, against, found);
        }
        Stated::of(length)
    };
    let example = "3: 4120; 5-6: 4980";
    each_slice(row, ("length", "lengths"), example, slices, read, found)
}

/// One column for all slices, and what it comes to for each where another overrules it for some.
fn each_slice<T: Copy>(
    row: &Row<'_>,
    (all, some): (&str, &str),
    example: &str,
    slices: &Slices<'_>,
    read: impl Fn(&Cell<'_>, &mut Found) -> Stated<T>,
    found: &mut Found,
) -> (Stated<T>, Vec<Stated<T>>) {
    let cell = row.cell(all);
    let common = match cell.is_empty() {
        true => Stated::Not,
        false => read(&cell, found),
    };
    let before = found.complaints.len();
    let exceptions = slices.exceptions(&row.cell(some), example, found);
    // Where it is not clear which slice is meant, none is missing.
    let rest = match (common, found.complaints.len() > before) {
        (Stated::Not, true) => Stated::Unread,
        (common, _) => common,
    };
    let mut values = vec![rest; slices.count as usize];
    for (which, value) in exceptions {
        let value = read(&value, found);
        for slice in which {
            if let Some(place) = values.get_mut(slice as usize - 1) {
                *place = value;
            }
        }
    }
    (common, values)
}

/// The defects of each slice. One that names no slice goes through the whole board, as far as each slice reaches.
fn all_defects(
    cell: &Cell<'_>,
    slices: &Slices<'_>,
    lengths: &[Stated<Length>],
    found: &mut Found,
) -> BTreeMap<u32, Vec<Defect>> {
    let mut all: BTreeMap<u32, Vec<Defect>> = BTreeMap::new();
    let known = |slice: &u32| {
        lengths
            .get(*slice as usize - 1)
            .and_then(|told| told.known())
    };
    for item in slices.items(cell, found) {
        // Of slices that are named, the shortest must have it; of a whole board, the longest.
        let (which, within): (Vec<u32>, _) = match item.slices {
            Some(named) => {
                let shortest = named.iter().filter_map(known).min();
                (named.into_iter().collect(), shortest)
            }
            None => {
                let all: Vec<u32> = (1..=slices.count).collect();
                let longest = all.iter().filter_map(known).max();
                (all, longest)
            }
        };
        let Some(defect) = defects::item(&item.value, within, found) else {
            continue;
        };
        for slice in which {
            let there = known(&slice).map_or(Some(defect), |length| defect.within(length));
            all.entry(slice).or_default().extend(there);
        }
    }
    all
}
