//! What differs between the slices of a board, as it stands in one cell: `3: 4120; 5-6: 4980`.

use super::cell::Cell;
use super::found::Found;
use std::collections::BTreeSet;

/// The slices of a board that a cell may speak of.
#[derive(Clone, Copy)]
pub(super) struct Slices<'t> {
    /// The board's name.
    pub(super) board: &'t str,
    /// How many came off it.
    pub(super) count: u32,
}

/// One item of a cell: for which slices, and the rest of it as a cell of its own.
pub(super) struct Item<'t> {
    /// `None` where no slice is named: all of them.
    pub(super) slices: Option<BTreeSet<u32>>,
    pub(super) value: Cell<'t>,
}

impl Slices<'_> {
    /// The items of a cell, with semicolons between them. Leaves complaints about those that name no slice of the
    /// board.
    pub(super) fn items<'t>(&self, cell: &Cell<'t>, found: &mut Found) -> Vec<Item<'t>> {
        let mut items = Vec::new();
        for text in parts(cell.text) {
            let whole = Cell { text, ..*cell };
            let Some((which, value)) = text.split_once(':') else {
                let (slices, value) = (None, whole);
                items.push(Item { slices, value });
                continue;
            };
            if let Some(slices) = self.named(&whole, which, found) {
                let value = Cell {
                    text: value.trim(),
                    ..*cell
                };
                items.push(Item {
                    slices: Some(slices),
                    value,
                });
            }
        }
        items
    }

    /// The same where every item needs its slices, and each slice may be named once.
    pub(super) fn exceptions<'t>(
        &self,
        cell: &Cell<'t>,
        example: &str,
        found: &mut Found,
    ) -> Vec<(BTreeSet<u32>, Cell<'t>)> {
        let mut told = BTreeSet::new();
        let mut all = Vec::new();
        for Item { slices, value } in self.items(cell, found) {
            let Some(slices) = slices else {
                let mend = format!(
                    "Write the slice, a colon and the value, and a semicolon between two: {example}."
                );
                value.complain(found, "does not say for which slice", mend);
                continue;
            };
            match slices.iter().find(|slice| told.contains(*slice)) {
                Some(twice) => cell.complain(
                    found,
                    format!("names slice {twice} twice"),
                    "Keep one value for each slice.",
                ),
                None => {
                    told.extend(slices.iter().copied());
                    all.push((slices, value));
                }
            }
        }
        all
    }

    /// A list of slices alone: `3; 5-7`.
    pub(super) fn list(&self, cell: &Cell<'_>, found: &mut Found) -> BTreeSet<u32> {
        let lists =
            parts(cell.text).filter_map(|text| self.named(&Cell { text, ..*cell }, text, found));
        lists.flatten().collect()
    }

    /// The slices in front of a colon: `3`, `5-6`, `2, 5-6`.
    fn named(&self, whole: &Cell<'_>, which: &str, found: &mut Found) -> Option<BTreeSet<u32>> {
        let mut all = BTreeSet::new();
        for part in which.split(',') {
            let Some((first, last)) = span(part) else {
                return whole.refuse(
                    found,
                    "does not begin with a slice's number",
                    "Write slices as 3, as 5-6, or as 3, 5-6.",
                );
            };
            if last > self.count {
                let Slices { board, count } = self;
                let gave = match count {
                    0 => format!("board \"{board}\" is not sawn yet"),
                    1 => format!("board \"{board}\" gave one slice"),
                    n => format!("board \"{board}\" gave {n} slices"),
                };
                return whole.refuse(
                    found,
                    format!("speaks of slice {last}, but {gave}"),
                    "Mend the number, or the count under slices.",
                );
            }
            all.extend(first..=last);
        }
        Some(all)
    }
}

fn parts(text: &str) -> impl Iterator<Item = &str> {
    text.split(';')
        .map(str::trim)
        .filter(|part| !part.is_empty())
}

/// `3` or `5-6`: first and last, from 1.
fn span(text: &str) -> Option<(u32, u32)> {
    let number = |text: &str| -> Option<u32> {
        let text = text.trim();
        let all_figures = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        text.parse().ok().filter(|n| all_figures && *n > 0)
    };
    match text.split_once(['-', '–', '—', '−']) {
        Some((first, last)) => {
            let (first, last) = (number(first)?, number(last)?);
            (first <= last).then_some((first, last))
        }
        None => number(text).map(|n| (n, n)),
    }
}
