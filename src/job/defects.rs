//! Defects of a strip: `1200-1260; 2210`.

use super::cell::Cell;
use super::found::Found;
use crate::stock::{Defect, merged};
use crate::units::parse::{Decimal, Measure, measured};
use crate::units::{Length, U, Unit};

/// The defects of a strip, in order and with those that overlap or touch made one. `none` where a board's are not this
/// strip's.
pub(super) fn read(cell: &Cell<'_>, strip: Option<Length>, found: &mut Found) -> Vec<Defect> {
    if cell.text.eq_ignore_ascii_case("none") {
        return Vec::new();
    }
    let items = cell
        .text
        .split(';')
        .map(str::trim)
        .filter(|item| !item.is_empty());
    let read = items.filter_map(|text| item(&Cell { text, ..*cell }, strip, found));
    merged(read.collect())
}

/// One defect: a stretch or a place, that lies on a strip of this length.
pub(super) fn item(cell: &Cell<'_>, strip: Option<Length>, found: &mut Found) -> Option<Defect> {
    let Some((from, to)) = stretch(cell.text, cell.unit, cell.decimal) else {
        return cell.refuse(
            found,
            "can't be read",
            "Write a stretch as 1200-1260, a break as 2210, and a semicolon between two.",
        );
    };
    if from > to {
        return cell.refuse(
            found,
            "ends before it begins",
            "Write the end nearer the marked end first.",
        );
    }
    if from < Length::ZERO || strip.is_some_and(|length| to > length) {
        let long = strip.map(|length| format!(", which is {} long", cell.unit.shop(length)));
        let wrong = format!("lies outside the strip{}", long.unwrap_or_default());
        return cell.refuse(found, wrong, "Measure from the marked end.");
    }
    let (from, to) = (U::at(from), U::at(to));
    Some(Defect { from, to })
}

/// A place or a stretch of a strip as it is typed: `2210`, `1200-1260`, `47-50 in`. `None` where it is neither.
pub fn place_or_stretch(text: &str, unit: Unit) -> Option<Defect> {
    let (from, to) = stretch(text.trim(), unit, Decimal::Point)?;
    (from <= to).then_some(Defect {
        from: U::at(from),
        to: U::at(to),
    })
}

/// One stretch or one place. A hyphen may stand between two lengths or inside one (`4-1/2in`): the text is a single
/// length where it reads as one, else the first hyphen that leaves two lengths parts them.
fn stretch(item: &str, unit: Unit, decimal: Decimal) -> Option<(Length, Length)> {
    if let Ok((place, _)) = measured(item, unit.into(), decimal) {
        return Some((place, place));
    }
    let mut backwards = None;
    for (at, hyphen) in item
        .char_indices()
        .filter(|(_, c)| matches!(c, '-' | '–' | '—' | '−'))
    {
        let (first, second) = (&item[..at], &item[at + hyphen.len_utf8()..]);
        let Ok((to, own)) = measured(second, unit.into(), decimal) else {
            continue;
        };
        // "47-50 in": the unit at the end holds for both.
        let Ok((from, _)) = measured(first, own.unwrap_or(Measure::from(unit)), decimal) else {
            continue;
        };
        if from <= to {
            return Some((from, to));
        }
        backwards = backwards.or(Some((from, to)));
    }
    backwards
}
