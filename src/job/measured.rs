//! colours.csv: colours as they were measured in photographs, a row a stretch of a strip.

use super::cell::Cell;
use super::colours;
use super::complaint::Complaint;
use super::found::Found;
use super::rack::{Against, Rack};
use super::table::{Form, Row, Rows, each_row};
use crate::units::{Colour, Length};
use std::collections::BTreeMap;

/// The sheet of measured colours.
pub const FILE: &str = "colours.csv";

pub(super) const FORM: Form = Form {
    file: FILE,
    columns: &[
        "photo", "strip", "from", "to", "colour", "spread", "change", "clear", "quality", "picture",
    ],
    required: &["strip", "from", "to", "colour"],
    rows: Rows::MayBeNone,
};

/// What stands under quality where nothing is doubtful.
pub const GOOD: &str = "good";

/// A stretch of a strip whose picture is kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Pictured {
    /// The strip.
    pub strip: String,
    /// From its marked end.
    pub from: Length,
    /// Where the picture ends.
    pub to: Length,
    /// The picture's path in the folder of the job.
    pub file: String,
}

/// Colours added up by the length that has them.
#[derive(Clone, Copy, Default)]
struct Sum {
    long: f64,
    colour: [f64; 3],
}

impl Sum {
    fn add(&mut self, long: f64, colour: Colour) {
        self.long += long;
        let of = [colour.l, colour.a, colour.b];
        self.colour
            .iter_mut()
            .zip(of)
            .for_each(|(sum, value)| *sum += long * value);
    }

    /// To the hundredth: nothing finer was measured.
    fn mean(&self) -> Option<Colour> {
        let [l, a, b] = self
            .colour
            .map(|sum| (sum / self.long * 100.0).round() / 100.0);
        (self.long > 0.0).then_some(Colour::lab(l, a, b))
    }
}

/// Reads colours.csv: the colour of each strip, the mean of its stretches. Doubtful ones count where there is
/// nothing else.
pub(super) fn read(bytes: &[u8], against: &Against, rack: &mut Rack, found: &mut Found) {
    let mut all: BTreeMap<String, (Sum, Sum, usize)> = BTreeMap::new();
    each_row(&FORM, bytes, against.unit, found, |row, found| {
        let Some((strip, from, to, colour)) = stretch(row, found) else {
            return;
        };
        let (good, doubtful, _) =
            all.entry(strip.clone())
                .or_insert((Sum::default(), Sum::default(), row.line));
        let quality = row.cell("quality").text;
        let sum = if quality.is_empty() || quality == GOOD {
            good
        } else {
            doubtful
        };
        sum.add((to - from).mm(), colour);
        let file = row.cell("picture");
        if !file.is_empty() {
            let file = file.name(found).to_owned();
            rack.pictured.push(Pictured {
                strip,
                from,
                to,
                file,
            });
        }
    });
    for (strip, (good, doubtful, line)) in all {
        if let Some(colour) = good.mean().or_else(|| doubtful.mean()) {
            rack.measured.insert(strip, (colour, line));
        }
    }
}

fn stretch(row: &Row<'_>, found: &mut Found) -> Option<(String, Length, Length, Colour)> {
    let strip = row.cell("strip");
    if strip.is_empty() {
        strip.complain(
            found,
            "is empty",
            "Write the name of the strip, or measure anew: twinstrake colours.",
        );
    }
    let read = |cell: Cell<'_>, found: &mut Found| cell.length(found);
    let (from, to) = (read(row.cell("from"), found), read(row.cell("to"), found));
    let colour = colours::read(&row.cell("colour"), found);
    let name = strip.name(found).to_owned();
    let (from, to) = (from?, to?);
    if from >= to {
        return row.cell("to").refuse(
            found,
            "is not beyond from",
            "Write where the stretch ends, from the marked end.",
        );
    }
    (row.sound && !name.is_empty()).then_some((name, from, to, colour?))
}

/// Colours of strips that are not in the rack are most likely of an earlier rack.
pub(super) fn warn_of_others(rack: &Rack, found: &mut Found) {
    let there = |name: &str| {
        rack.rows.iter().any(|row| row.name == name) || rack.spoiled.contains_key(name)
    };
    let mut others = rack
        .measured
        .iter()
        .filter(|(name, _)| !there(name))
        .peekable();
    let Some((_, (_, line))) = others.peek() else {
        return;
    };
    let line = *line;
    let names: Vec<&str> = others.map(|(name, _)| name.as_str()).collect();
    let (wrong, mend) = match names.as_slice() {
        [_] => (
            "is not in the rack, and its colour is passed over",
            "Look at its name; or measure anew: twinstrake colours.",
        ),
        _ => (
            "are not in the rack, and their colours are passed over",
            "Look at their names; or measure anew: twinstrake colours.",
        ),
    };
    let warning = Complaint::of(FILE, wrong, mend).at(line).under("strip");
    found.warn(warning.showing(names.join(", ")));
}
