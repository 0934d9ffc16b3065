//! All labels of a plan, and their pages.

use super::About;
use super::facts::{self, BoatEnd};
use super::fitting::Unfit;
use super::label::{Label, back, front};
use super::places::{Flag, on_sheet, on_tape};
use crate::draw::scene::{Ink, Item, Scene};
use crate::job::{Job, LabelStock};
use crate::plan::{Piece, Plan};

/// Pages of labels.
#[derive(Clone, PartialEq, Debug)]
pub struct Labels {
    /// The pages.
    pub pages: Vec<Scene>,
    /// How many labels have no room for the code.
    pub without_code: usize,
}

/// A label for each end of each piece, as the strips lie in the rack: by strip, and along each strip from its marked end.
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
    let mut set = Vec::new();
    let mut unfit = Vec::new();
    for (n, label) in labels.iter().enumerate() {
        match place(job, label, stock, skip + n) {
            Ok(item) => set.push(item),
            Err(error) => unfit.push(error),
        }
    }
    if !unfit.is_empty() {
        unfit.sort();
        unfit.dedup();
        return Err(unfit);
    }
    let without_code = set.iter().filter(|placed| !placed.code).count();
    let (width, height) = page(stock);
    let mut pages: Vec<Scene> = Vec::new();
    for placed in set {
        while pages.len() <= placed.page {
            pages.push(Scene {
                title: format!("Labels, {}", job.name),
                width,
                height,
                paper: Ink([255; 3]),
                items: Vec::new(),
            });
        }
        pages[placed.page].items.extend(placed.items);
    }
    Ok(Labels {
        pages,
        without_code,
    })
}

/// How many labels a page of this stock has; `None` where each has a page of its own.
pub fn on_a_page(job: &Job, stock: &LabelStock) -> Option<usize> {
    match stock {
        LabelStock::Sheet(grid) => Some(grid.columns * grid.rows),
        LabelStock::Tape { .. } => None,
        LabelStock::Flags(page) => {
            let (columns, rows) = Flag::of(&job.rules).many(*page);
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

fn place(job: &Job, label: &Label, stock: &LabelStock, n: usize) -> Result<Placed, Unfit> {
    match stock {
        LabelStock::Sheet(grid) => {
            let many = grid.columns * grid.rows;
            let item = front(label, on_sheet(grid, n % many))?;
            Ok(placed(n / many, vec![item]))
        }
        LabelStock::Tape { width, length } => {
            let item = front(label, on_tape(width.mm(), length.mm()))?;
            Ok(placed(n, vec![item]))
        }
        LabelStock::Flags(page) => {
            let flag = Flag::of(&job.rules);
            let (columns, rows) = flag.many(*page);
            let area = flag.area(*page, n % (columns * rows));
            let [left, right] = flag.faces(area);
            // The bar is at the end of the strip, which is where the flag folds.
            let (outside, inside) = match label.end {
                BoatEnd::Bow => (right, left),
                BoatEnd::Stern => (left, right),
            };
            let mut items = flag.lines(area);
            items.push(front(label, outside)?);
            items.push(back(label, inside)?);
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
