//! What a job is printed on: the page, and the labels. The table `[paper]` of boat.toml, and the same words typed
//! behind a command.

mod words;

pub use words::{NotPaper, grid, label_stock, tape};

use super::boat;
use super::complaint::Complaint;
use super::files::{input, is_a_folder};
use super::found::Found;
use super::keys::{self, Keys};
use crate::units::{Length, Unit};
use std::path::Path;
use words::PAGES;

/// A sheet of paper.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Page {
    /// Its width, upright.
    pub width: Length,
    /// Its height.
    pub height: Length,
}

impl Page {
    /// Source: ISO 216.
    pub const A4: Page = Page::mm(210_000_000, 297_000_000);
    /// Source: ANSI/ASME Y14.1, size A: 8.5 x 11 in.
    pub const LETTER: Page = Page::mm(215_900_000, 279_400_000);

    const fn mm(width: i64, height: i64) -> Page {
        Page {
            width: Length::from_nm(width),
            height: Length::from_nm(height),
        }
    }
}

/// A sheet of labels.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Grid {
    /// The sheet.
    pub page: Page,
    /// Labels side by side.
    pub columns: usize,
    /// Labels one under another.
    pub rows: usize,
    /// Width of a label.
    pub width: Length,
    /// Height of a label.
    pub height: Length,
    /// From the left edge of the sheet to the first label.
    pub left: Length,
    /// From the upper edge of the sheet to the first label.
    pub top: Length,
    /// From one label to the next beside it.
    pub pitch_x: Length,
    /// From one label to the next under it.
    pub pitch_y: Length,
}

/// What labels are printed on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LabelStock {
    /// Sheets of labels.
    Sheet(Grid),
    /// Continuous tape: a page for each label.
    Tape {
        /// Across the tape.
        width: Length,
        /// Along it, for one label.
        length: Length,
    },
    /// Plain paper, cut into flags that fold round the end of a strip.
    Flags(Page),
}

/// What a job is printed on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stationery {
    /// For the laying sheet and the cut list.
    pub page: Page,
    /// For the labels.
    pub labels: LabelStock,
}

impl Stationery {
    /// What is likely to lie beside the printer: A4 where bare numbers are millimetres, Letter where they are inches.
    pub fn usual(unit: Unit) -> Stationery {
        let (page, grid) = match unit {
            Unit::Mm => (Page::A4, words::usual_a4()),
            Unit::Inch => (Page::LETTER, words::usual_letter()),
        };
        Stationery {
            page,
            labels: LabelStock::Sheet(grid),
        }
    }
}

/// What a job is printed on, before anything else of it can be read.
///
/// Errors: everything that is wrong with boat.toml.
pub fn read_stationery(dir: &Path) -> Result<Stationery, Vec<Complaint>> {
    is_a_folder(dir)?;
    let mut found = Found::default();
    let boat = input(dir, keys::FILE, &mut Vec::new(), &mut found)
        .and_then(|bytes| boat::read(&bytes, &mut found));
    let (stationery, _) = found.whole(boat.and_then(|boat| boat.stationery))?;
    Ok(stationery)
}

/// Reads the table `[paper]`; without it, and for each key left out, the usual.
pub(super) fn stationery(top: &Keys<'_>, found: &mut Found) -> Option<Stationery> {
    let usual = Stationery::usual(top.unit);
    let Some(keys) = top.table("paper", keys::Need::Optional, found) else {
        return Some(usual);
    };
    keys.warn_of_others(&["page", "labels"], found);
    let page = match keys.get("page") {
        None => Some(usual.page),
        Some(_) => keys.word("page", &PAGES, found),
    };
    let labels = match keys.get("labels") {
        None => Some(usual.labels),
        Some(_) => keys
            .text_if_there("labels", "\"A4 3x7\"", found)
            .and_then(|text| {
                let stock = label_stock(&text, top.unit, page.unwrap_or(usual.page));
                stock
                    .map_err(|slip| {
                        let complaint = keys.complaint("labels", slip.wrong, slip.mend);
                        found.complain(complaint);
                    })
                    .ok()
            }),
    };
    Some(Stationery {
        page: page?,
        labels: labels?,
    })
}
