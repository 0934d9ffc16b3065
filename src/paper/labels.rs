//! All labels of a plan, and their pages.

use super::About;
use super::facts::{self, BoatEnd};
use super::fitting::Unfit;
use super::label::{Label, Room, back, front};
use super::places::{Flag, on_sheet, on_tape};
use crate::draw::scene::{Ink, Item, Scene};
use crate::job::{Job, LabelStock};
use crate::plan::{Piece, Plan, Rules};

/// Pages of labels.
#[derive(Clone, PartialEq, Debug)]
pub struct Labels {
    /// The pages.
    pub pages: Vec<Scene>,
    /// How many labels have no room for the code.
    pub without_code: usize,
}

/// A label for each end of each piece, as the strips lie in the rack: by strip, and along each strip from its marked
/// end.
pub fn of_plan(job: &Job, plan: &Plan, about: &About) -> Vec<Label> {
    let mut pieces: Vec<&Piece> = plan.pieces.iter().collect();
    pieces.sort_by_key(|piece| (piece.strip, piece.cut_from));
    let both = |piece: &&Piece| {
        let mut ends = [BoatEnd::Bow, BoatEnd::Stern];
        ends.sort_by_key(|end| facts::cut_at(piece, *end));
        ends.map(|end| Label::of(job, plan, about, piece, end))
    };
    pieces.iter().flat_map(both).collect()
}

/// The labels on pages of this stock, the first `skip` places of the first page left free for those that are used up.
///
/// Errors: the names that don't fit their label, each once. Whether they can be printed at all is asked of
/// [`super::names_unprintable`].
pub fn labels(
    job: &Job,
    labels: &[Label],
    stock: &LabelStock,
    skip: usize,
) -> Result<Labels, Vec<Unfit>> {
    let mut pages = Vec::new();
    let without_code = each_page(job, labels, stock, skip, |page| pages.push(page))?;
    Ok(Labels {
        pages,
        without_code,
    })
}

/// The same page by page, for labels of which all pages together would take too much room. How many have no room for
/// the code.
///
/// Errors: as for [`labels`]; some pages may have been given by then.
pub fn each_page(
    job: &Job,
    labels: &[Label],
    stock: &LabelStock,
    skip: usize,
    give: impl FnMut(Scene),
) -> Result<usize, Vec<Unfit>> {
    let title = format!("Labels, {}", job.name);
    set(&title, &job.rules, labels, stock, skip, give)
}

/// What is printed on the places of a stock: labels of pieces, and tags of strips.
pub(super) trait OnStrip {
    /// The face that is read on the strip.
    fn front(&self, room: Room) -> Result<Item, Unfit>;
    /// The other face of a flag.
    fn back(&self, room: Room) -> Result<Item, Unfit>;
    /// Whether the end of the strip is at the left of the front.
    fn ends_left(&self) -> bool;
}

impl OnStrip for Label {
    fn front(&self, room: Room) -> Result<Item, Unfit> {
        front(self, room)
    }

    fn back(&self, room: Room) -> Result<Item, Unfit> {
        back(self, room)
    }

    fn ends_left(&self) -> bool {
        self.end == BoatEnd::Bow
    }
}

/// Labels or tags on pages. How many have no room for the code.
///
/// Errors: as for [`each_page`].
pub(super) fn set(
    title: &str,
    rules: &Rules,
    labels: &[impl OnStrip],
    stock: &LabelStock,
    skip: usize,
    mut give: impl FnMut(Scene),
) -> Result<usize, Vec<Unfit>> {
    let (width, height) = page(stock);
    let bare = Scene {
        title: title.to_owned(),
        width,
        height,
        paper: Ink([255; 3]),
        items: Vec::new(),
    };
    let (mut at, mut now, mut without_code) = (0, bare.clone(), 0);
    let mut unfit = Vec::new();
    for (n, label) in labels.iter().enumerate() {
        let placed = match place(rules, label, stock, skip + n) {
            Ok(placed) => placed,
            Err(error) => {
                unfit.push(error);
                continue;
            }
        };
        while at < placed.page {
            at += 1;
            give(std::mem::replace(&mut now, bare.clone()));
        }
        without_code += usize::from(!placed.code);
        now.items.extend(placed.items);
    }
    if !unfit.is_empty() {
        unfit.sort();
        unfit.dedup();
        return Err(unfit);
    }
    if !labels.is_empty() {
        give(now);
    }
    Ok(without_code)
}

/// How many labels a page of this stock has; `None` where each has a page of its own.
pub fn on_a_page(rules: &Rules, stock: &LabelStock) -> Option<usize> {
    match stock {
        LabelStock::Sheet(grid) => Some(grid.columns * grid.rows),
        LabelStock::Tape { .. } => None,
        LabelStock::Flags(page) => {
            let (columns, rows) = Flag::of(rules).many(*page);
            Some(columns * rows)
        }
    }
}

/// A label on its page.
struct Placed {
    page: usize,
    items: Vec<Item>,
    code: bool,
}

fn place(
    rules: &Rules,
    label: &impl OnStrip,
    stock: &LabelStock,
    n: usize,
) -> Result<Placed, Unfit> {
    match stock {
        LabelStock::Sheet(grid) => {
            let many = grid.columns * grid.rows;
            let item = label.front(on_sheet(grid, n % many))?;
            Ok(placed(n / many, vec![item]))
        }
        LabelStock::Tape { width, length } => {
            let item = label.front(on_tape(width.mm(), length.mm()))?;
            Ok(placed(n, vec![item]))
        }
        LabelStock::Flags(page) => {
            let flag = Flag::of(rules);
            let (columns, rows) = flag.many(*page);
            let area = flag.area(*page, n % (columns * rows));
            let [left, right] = flag.faces(area);
            // The bar is at the end of the strip, which is where the flag folds.
            let (outside, inside) = match label.ends_left() {
                true => (right, left),
                false => (left, right),
            };
            let mut items = flag.lines(area);
            items.push(label.front(outside)?);
            items.push(label.back(inside)?);
            Ok(placed(n / (columns * rows), items))
        }
    }
}

fn placed(page: usize, items: Vec<Item>) -> Placed {
    let code = items.iter().any(has_code);
    Placed { page, items, code }
}

fn has_code(item: &Item) -> bool {
    match item {
        Item::Group(group) => group.kind == "code" || group.items.iter().any(has_code),
        _ => false,
    }
}

fn page(stock: &LabelStock) -> (f64, f64) {
    match stock {
        LabelStock::Sheet(grid) => (grid.page.width.mm(), grid.page.height.mm()),
        LabelStock::Tape { width, length } => (length.mm(), width.mm()),
        LabelStock::Flags(page) => (page.width.mm(), page.height.mm()),
    }
}
