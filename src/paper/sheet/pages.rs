//! Pages: blocks of a height one under another, a heading over each section, and a foot that tells which page of
//! which plan it is.

use crate::draw::scene::{Ink, Item, Line, Outline, Scene, Set, Shape, Text, Weight};
use crate::draw::typeface::printable;
use crate::job::{Job, Page};
use crate::paper::fitting::cut_off;
use crate::paper::{About, BLACK, GREY};

/// Blank edge of a sheet. Unit: mm. Why 12: holes for the nail or the binder.
pub const MARGIN: f64 = 12.0;
/// Room for the head of the first page, and of the others.
const HEAD: (f64, f64) = (17.0, 9.0);
/// Room for the foot.
const FOOT: f64 = 8.0;

/// Something that stays together on one page, drawn with its upper left corner at 0, 0.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Block {
    /// Its height.
    pub height: f64,
    /// What is on it.
    pub items: Vec<Item>,
}

/// Blocks under one heading, which is there again on every page that they go on to.
#[derive(Clone, PartialEq, Debug)]
pub struct Section {
    /// Its heading.
    pub head: Block,
    /// What is under it.
    pub blocks: Vec<Block>,
}

/// What is on every page.
#[derive(Clone, Copy, Debug)]
pub struct Frame<'a> {
    /// What kind of sheet it is.
    pub kind: &'a str,
    /// A line under the title of the first page.
    pub note: &'a str,
    pub job: &'a Job,
    pub about: &'a About,
    pub page: Page,
}

impl Frame<'_> {
    /// Room across, between the margins.
    pub fn wide(&self) -> f64 {
        self.page.width.mm() - 2.0 * MARGIN
    }

    fn lowest(&self) -> f64 {
        self.page.height.mm() - MARGIN - FOOT
    }

    /// The sections on as many pages as they need.
    pub fn pages(&self, sections: Vec<Section>) -> Vec<Scene> {
        let mut pages: Vec<Vec<Item>> = vec![Vec::new()];
        let mut y = MARGIN + HEAD.0;
        for section in sections {
            let mut headed = false;
            for block in section.blocks {
                let needed = match headed {
                    true => block.height,
                    false => section.head.height + block.height,
                };
                if y + needed > self.lowest() && y > MARGIN + HEAD.0 {
                    pages.push(Vec::new());
                    y = MARGIN + HEAD.1;
                    headed = false;
                }
                if !headed {
                    self.put(&mut pages, &mut y, section.head.clone());
                    headed = true;
                }
                self.put(&mut pages, &mut y, block);
            }
        }
        let many = pages.len();
        let framed = pages.into_iter().enumerate().map(|(n, mut items)| {
            items.extend(self.head(n));
            items.extend(self.foot(n + 1, many));
            Scene {
                title: format!("{}, {}", self.kind, self.job.name),
                width: self.page.width.mm(),
                height: self.page.height.mm(),
                paper: Ink([255; 3]),
                items,
            }
        });
        framed.collect()
    }

    fn put(&self, pages: &mut [Vec<Item>], y: &mut f64, block: Block) {
        let at = (MARGIN, *y);
        if let Some(page) = pages.last_mut() {
            page.extend(block.items.into_iter().map(|item| item.moved(at)));
        }
        *y += block.height;
    }

    fn head(&self, n: usize) -> Vec<Item> {
        let (left, wide) = (MARGIN, self.wide());
        let name = |size, room| cut_off(&self.job.name, size, Weight::Bold, room);
        let right = |words: String, base, size| -> Item {
            let at = (left + wide, base);
            Text::new(words, at, size, BLACK).set(Set::Right).into()
        };
        if n > 0 {
            let base = MARGIN + 4.5;
            let name = Text::new(name(3.6, wide * 0.7), (left, base), 3.6, BLACK);
            return vec![name.bold().into(), right(self.kind.into(), base, 3.6)];
        }
        let name = Text::new(name(6.4, wide * 0.68), (left, MARGIN + 5.6), 6.4, BLACK);
        let note = Text::new(self.note, (left, MARGIN + 11.2), 2.9, GREY);
        vec![
            name.bold().into(),
            right(self.kind.into(), MARGIN + 5.6, 4.6),
            note.into(),
        ]
    }

    fn foot(&self, page: usize, many: usize) -> Vec<Item> {
        let (left, right) = (MARGIN, MARGIN + self.wide());
        let base = self.page.height.mm() - MARGIN;
        let size = 3.0;
        let printed = match &self.about.date {
            Some(date) => format!(
                "printed {}",
                cut_off(&printable(date), size, Weight::Plain, 40.0)
            ),
            None => "printed ______________".into(),
        };
        // The sheet of the rack is there before any plan.
        let plan = match self.about.digest.as_str() {
            "" => String::new(),
            digest => format!("plan {digest}"),
        };
        let middle = (left + right) / 2.0;
        let words = |words: String, x: f64, set: Set| -> Item {
            Text::new(words, (x, base), size, BLACK).set(set).into()
        };
        let rule = Outline::Straight((left, base - 4.6), (right, base - 4.6));
        vec![
            Shape::drawn(rule, Line::whole(BLACK, 0.2)),
            words(plan, left, Set::Left),
            words(printed, middle, Set::Middle),
            words(format!("page {page} of {many}"), right, Set::Right),
        ]
    }
}
