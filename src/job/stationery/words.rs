//! The words for what labels are printed on: the grid of a sheet, a tape, flags.

use super::{Grid, LabelStock, Page};
use crate::units::parse::{self, Decimal};
use crate::units::{Length, Unit};

/// What is wrong with the words for a page or for labels, and the mend.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NotPaper {
    /// Goes on from the quoted text.
    pub wrong: String,
    /// What would be right; whole sentences.
    pub mend: String,
}

/// A common grid: name, sheet, columns, rows, then label width and height, left and top margin, and the two pitches in
/// micrometres.
type Known = (&'static str, Page, [usize; 2], [i64; 6]);

/// Grids of label sheets that are sold everywhere. Makes differ by a few tenths of a millimetre.
///
/// Source: public pages of sheet layouts for A4 3x7 and Letter 3x10; the others are common practice, no source. Each
/// one closes: two margins, labels and gaps make a page.
const GRIDS: [Known; 7] = [
    (
        "A4 3x8",
        Page::A4,
        [3, 8],
        [70_000, 37_000, 0, 500, 70_000, 37_000],
    ),
    (
        "A4 3x7",
        Page::A4,
        [3, 7],
        [63_500, 38_100, 7_250, 15_150, 66_000, 38_100],
    ),
    (
        "A4 2x7",
        Page::A4,
        [2, 7],
        [99_100, 38_100, 4_650, 15_150, 101_600, 38_100],
    ),
    (
        "A4 5x13",
        Page::A4,
        [5, 13],
        [38_100, 21_200, 4_750, 10_700, 40_600, 21_200],
    ),
    (
        "Letter 3x10",
        Page::LETTER,
        [3, 10],
        [66_675, 25_400, 4_763, 12_700, 69_850, 25_400],
    ),
    (
        "Letter 2x10",
        Page::LETTER,
        [2, 10],
        [101_600, 25_400, 3_969, 12_700, 106_363, 25_400],
    ),
    (
        "Letter 4x20",
        Page::LETTER,
        [4, 20],
        [44_450, 12_700, 7_620, 12_700, 52_070, 12_700],
    ),
];

/// The sheet that is likely to lie beside a printer with A4.
pub(super) fn usual_a4() -> Grid {
    known(&GRIDS[1])
}

/// The same with Letter.
pub(super) fn usual_letter() -> Grid {
    known(&GRIDS[4])
}

fn known((_, page, [columns, rows], sizes): &Known) -> Grid {
    let [width, height, left, top, pitch_x, pitch_y] =
        sizes.map(|micrometres| Length::from_nm(micrometres * 1000));
    Grid {
        page: *page,
        columns: *columns,
        rows: *rows,
        width,
        height,
        left,
        top,
        pitch_x,
        pitch_y,
    }
}

/// How a grid is written where it is not one of the known ones.
const EXAMPLE: &str = "A4 3x7 label 63.5 mm x 38.1 mm from 7.25 mm, 15.15 mm pitch 66 mm x 38.1 mm";

/// Length of a label on tape where none is given. Unit: mm.
const TAPE_LENGTH: f64 = 70.0;

/// Reads what stands for the labels: a grid, `tape 24 mm`, `tape 24 mm x 70 mm`, or `flags`. Bare numbers are in
/// `unit`.
///
/// Errors: what is wrong with it, and the mend.
pub fn label_stock(text: &str, unit: Unit, page: Page) -> Result<LabelStock, NotPaper> {
    let text = text.trim();
    if text.eq_ignore_ascii_case("flags") {
        return Ok(LabelStock::Flags(page));
    }
    let tape_of = text
        .split_once(' ')
        .filter(|(word, _)| word.eq_ignore_ascii_case("tape"));
    match tape_of {
        Some((_, sizes)) => tape(sizes, unit),
        None => grid(text, unit).map(LabelStock::Sheet),
    }
}

/// Reads the width of a tape, and after an `x` the length of one label where it is given. Bare numbers are in `unit`.
///
/// Errors: what is wrong with it, and the mend.
pub fn tape(text: &str, unit: Unit) -> Result<LabelStock, NotPaper> {
    let (width, length) = match text.split_once(['x', '×']) {
        Some((width, length)) => (size(width, unit)?, size(length, unit)?),
        None => (size(text, unit)?, Length::from_mm(TAPE_LENGTH)),
    };
    Ok(LabelStock::Tape { width, length })
}

/// Reads the grid of a label sheet: the name of a common one, or its plain dimensions. Bare numbers are in `unit`.
///
/// Errors: what is wrong with it, and the mend.
pub fn grid(text: &str, unit: Unit) -> Result<Grid, NotPaper> {
    let Parts {
        head,
        label,
        from,
        pitch,
    } = Parts::of(text);
    let (page, many) = head.trim().split_once([' ', '-']).ok_or_else(not_a_grid)?;
    let page = page_named(page).ok_or_else(not_a_grid)?;
    let (columns, rows) = pair(many, |count| match count.trim().parse::<usize>() {
        Ok(count @ 1..=100) => Ok(count),
        _ => Err(not_a_grid()),
    })?;
    let same = |known: &&Known| known.1 == page && known.2 == [columns, rows];
    let mut grid = match (GRIDS.iter().find(same).map(known), &label, &from) {
        (Some(grid), _, _) => grid,
        (None, Some(_), Some(_)) => known(&("", page, [columns, rows], [0; 6])),
        (None, ..) => {
            return Err(NotPaper {
                wrong: "is not a grid that we know by name".into(),
                mend: format!("Known: {}. Or give its sizes: {EXAMPLE}.", names()),
            });
        }
    };
    if let Some(label) = &label {
        (grid.width, grid.height) = pair(label, |text| size(text, unit))?;
        (grid.pitch_x, grid.pitch_y) = (grid.width, grid.height);
    }
    if let Some(from) = &from {
        (grid.left, grid.top) = pair(from, |text| margin(text, unit))?;
    }
    if let Some(pitch) = &pitch {
        (grid.pitch_x, grid.pitch_y) = pair(pitch, |text| size(text, unit))?;
    }
    closes(&grid, unit)?;
    Ok(grid)
}

pub(super) const PAGES: [(&str, Page); 2] = [("A4", Page::A4), ("Letter", Page::LETTER)];

/// The page with this name.
fn page_named(name: &str) -> Option<Page> {
    PAGES
        .into_iter()
        .find(|(known, _)| known.eq_ignore_ascii_case(name))
        .map(|(_, page)| page)
}

/// The names of the known grids.
fn names() -> String {
    GRIDS.map(|(name, ..)| name).join(", ")
}

/// What stands before the words `label`, `from` and `pitch`, and behind each of them.
#[derive(Default)]
struct Parts {
    head: String,
    label: Option<String>,
    from: Option<String>,
    pitch: Option<String>,
}

impl Parts {
    fn of(text: &str) -> Parts {
        let mut parts = Parts::default();
        let mut open = &mut parts.head;
        for word in text.split_whitespace() {
            match word.to_lowercase().as_str() {
                "label" | "labels" => open = parts.label.insert(String::new()),
                "from" => open = parts.from.insert(String::new()),
                "pitch" => open = parts.pitch.insert(String::new()),
                _ => {
                    open.push(' ');
                    open.push_str(word);
                }
            }
        }
        parts
    }
}

fn pair<T>(text: &str, read: impl Fn(&str) -> Result<T, NotPaper>) -> Result<(T, T), NotPaper> {
    let (one, other) = text.split_once(['x', '×', ',']).ok_or_else(not_a_grid)?;
    Ok((read(one)?, read(other)?))
}

fn length(text: &str, unit: Unit) -> Result<Length, NotPaper> {
    parse::length(text, unit, Decimal::Point).map_err(|slip| NotPaper {
        wrong: format!("has a length in it, \"{}\", that {slip}", text.trim()),
        mend: slip.mend_length(text, unit),
    })
}

fn size(text: &str, unit: Unit) -> Result<Length, NotPaper> {
    sized(text, unit, |length| length > Length::ZERO)
}

fn margin(text: &str, unit: Unit) -> Result<Length, NotPaper> {
    sized(text, unit, |length| length >= Length::ZERO)
}

fn sized(text: &str, unit: Unit, good: impl Fn(Length) -> bool) -> Result<Length, NotPaper> {
    let length = length(text, unit)?;
    if good(length) && length <= LARGEST {
        return Ok(length);
    }
    Err(NotPaper {
        wrong: format!("has \"{}\" in it, which no label can have", text.trim()),
        mend: format!("Measure the sheet, and write for example {EXAMPLE}."),
    })
}

/// No sheet or tape for a desk printer is larger. Unit: nanometre; a metre.
const LARGEST: Length = Length::from_nm(1_000_000_000);

/// A label may reach this far over the edge of its sheet before we think that a figure is wrong. Unit: mm.
const OVER: f64 = 0.5;

fn closes(grid: &Grid, unit: Unit) -> Result<(), NotPaper> {
    let reach = |start: Length, many: usize, pitch: Length, label: Length| {
        start + pitch * (many.saturating_sub(1) as f64) + label
    };
    let (w, h) = (
        reach(grid.left, grid.columns, grid.pitch_x, grid.width),
        reach(grid.top, grid.rows, grid.pitch_y, grid.height),
    );
    let wrong = if w.mm() > grid.page.width.mm() + OVER {
        format!(
            "is {} wide on a page of {}",
            unit.rule(w),
            unit.rule(grid.page.width)
        )
    } else if h.mm() > grid.page.height.mm() + OVER {
        format!(
            "is {} high on a page of {}",
            unit.rule(h),
            unit.rule(grid.page.height)
        )
    } else if grid.pitch_x < grid.width || grid.pitch_y < grid.height {
        "has labels that lie over each other".into()
    } else {
        return Ok(());
    };
    Err(NotPaper {
        wrong,
        mend: "Measure label, margin and pitch once more.".into(),
    })
}

fn not_a_grid() -> NotPaper {
    NotPaper {
        wrong: "is not a sheet of labels".into(),
        mend: format!("Write one of {}; or give its sizes: {EXAMPLE}.", names()),
    }
}
