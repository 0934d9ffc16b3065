//! The sheet of the rack: what lies where, with a swatch of each strip; and the stack from which a plan is laid.

use super::pages::{Block, Frame, Section};
use crate::draw::scene::{
    Ink, Item, Line, Outline, Photograph, Rect, Scene, Set, Shape, Text, Weight,
};
use crate::draw::typeface::printable;
use crate::job::{Job, Page};
use crate::paper::facts::course_and_piece;
use crate::paper::fitting::{LEAST, cut_off, size_for};
use crate::paper::mark::{WIDE, mark};
use crate::paper::{About, BLACK, PALE};
use crate::plan::Plan;
use crate::sorting::{Layer, Sorted, clear, ids};
use crate::stock::{Strip, StripId};
use std::collections::BTreeMap;

const RACK: &str = "Each rack from the lightest to the darkest; pairs stay together. Swatches show the marked end \
    at the left.";
const STACK: &str = "Stack from the last row up: what is laid first lies on top.";
/// A swatch. Unit: mm.
const SWATCH: (f64, f64) = (64.0, 3.4);
const ROW: f64 = 8.6;
const HEAD: f64 = 9.0;
const NAMES: f64 = 34.0;

/// Pictures of strips, each a JPEG with the marked end at the left.
pub type Swatches = BTreeMap<StripId, Vec<u8>>;

/// The pages of the sheet for the rack; `why` says of a cull why it is one, and what would rescue it.
pub fn rack_sheet(
    job: &Job,
    sorted: &Sorted,
    swatches: &Swatches,
    why: &dyn Fn(StripId) -> String,
    page: Page,
) -> Vec<Scene> {
    let about = About::default();
    let frame = Frame {
        kind: "Rack",
        note: RACK,
        job,
        about: &about,
        page,
    };
    let sheet = Sheet {
        job,
        swatches,
        wide: frame.wide(),
    };
    let mut sections: Vec<Section> = sorted
        .groups
        .iter()
        .map(|group| {
            let wood = if group.wood.is_empty() {
                "wood not told".to_owned()
            } else {
                printable(&group.wood)
            };
            let strips = group.places.iter().flat_map(|place| ids(*place)).count();
            let head = format!(
                "{wood}, clear up to {}: {strips}",
                job.unit.shop(group.class)
            );
            let blocks = group.places.iter().map(|place| {
                let strips: Vec<StripId> = ids(*place).collect();
                sheet.row(&strips, &sheet.long(&strips))
            });
            Section {
                head: sheet.head(&head),
                blocks: blocks.collect(),
            }
        })
        .collect();
    if !sorted.culls.is_empty() {
        let head = sheet.head(&format!("Of no use to this boat: {}", sorted.culls.len()));
        let blocks = sorted
            .culls
            .iter()
            .map(|cull| sheet.row(&[cull.strip], &why(cull.strip)));
        sections.push(Section {
            head,
            blocks: blocks.collect(),
        });
    }
    frame.pages(sections)
}

/// The pages of the sheet for the stack, from the top down.
pub fn stack_sheet(
    job: &Job,
    plan: &Plan,
    layers: &[Layer],
    swatches: &Swatches,
    about: &About,
    page: Page,
) -> Vec<Scene> {
    let frame = Frame {
        kind: "Stack",
        note: STACK,
        job,
        about,
        page,
    };
    let sheet = Sheet {
        job,
        swatches,
        wide: frame.wide(),
    };
    let blocks = layers.iter().rev().zip(1..).map(|(layer, number)| {
        let mut block = sheet.row(&[layer.strip], "");
        let number = Text::new(format!("{number}"), (sheet.wide, 5.4), 3.4, BLACK);
        block.items.push(number.set(Set::Right).into());
        let mut x = SWATCH.0 + 4.0 + NAMES;
        for n in &layer.pieces {
            let Some(piece) = plan.pieces.get(*n).filter(|_| x < sheet.wide - 30.0) else {
                break;
            };
            block
                .items
                .push(mark(piece.side, (x + 1.7 * WIDE, 4.2), 3.4));
            let place = format!(
                "{} {}",
                job.hull.panel_of(piece.course).name,
                course_and_piece(job, piece)
            );
            let place = cut_off(&printable(&place), 3.4, Weight::Plain, 28.0);
            block
                .items
                .push(Text::new(place, (x + 3.4 * WIDE + 1.0, 5.4), 3.4, BLACK).into());
            x += 38.0;
        }
        block
    });
    let head = sheet.head("From the top of the stack down");
    frame.pages(vec![Section {
        head,
        blocks: blocks.collect(),
    }])
}

struct Sheet<'a> {
    job: &'a Job,
    swatches: &'a Swatches,
    wide: f64,
}

impl Sheet<'_> {
    fn head(&self, words: &str) -> Block {
        let words = cut_off(words, 4.2, Weight::Bold, self.wide);
        Block {
            height: HEAD,
            items: vec![Text::new(words, (0.0, 6.6), 4.2, BLACK).bold().into()],
        }
    }

    /// Swatches of a strip or a pair one under the other, the names, and what is said of them.
    fn row(&self, strips: &[StripId], said: &str) -> Block {
        let across = Outline::Straight((0.0, ROW), (self.wide, ROW));
        let mut items = vec![Shape::drawn(across, Line::whole(PALE, 0.15))];
        for (n, id) in (0..).zip(strips) {
            let high = if strips.len() > 1 {
                SWATCH.1
            } else {
                2.0 * SWATCH.1
            };
            let area = Rect {
                x: 0.0,
                y: 0.9 + SWATCH.1 * f64::from(n),
                w: SWATCH.0,
                h: high,
            };
            items.push(self.swatch(*id, area));
        }
        let names: Vec<&str> = strips
            .iter()
            .map(|id| self.strip(*id).name.as_str())
            .collect();
        let names = names.join(" + ");
        let size = size_for(&names, Weight::Bold, 4.2, NAMES).unwrap_or(LEAST);
        items.push(
            Text::new(names, (SWATCH.0 + 3.0, 5.6), size, BLACK)
                .bold()
                .into(),
        );
        let room = self.wide - SWATCH.0 - NAMES - 5.0;
        // A reason and a rescue may take two lines.
        let whole = cut_off(said, 2.9, Weight::Plain, room);
        let (first, second) = match said.split_once(". ").filter(|_| whole != said) {
            Some((first, second)) => (format!("{first}."), second.to_owned()),
            None => (said.to_owned(), String::new()),
        };
        for (words, base) in [
            (first, if second.is_empty() { 5.4 } else { 3.9 }),
            (second, 7.4),
        ] {
            let words = cut_off(&words, 2.9, Weight::Plain, room);
            items.push(Text::new(words, (SWATCH.0 + NAMES + 5.0, base), 2.9, BLACK).into());
        }
        Block { height: ROW, items }
    }

    fn swatch(&self, id: StripId, area: Rect) -> Item {
        match self.swatches.get(&id) {
            Some(jpeg) => Item::Photograph(Photograph {
                area,
                jpeg: jpeg.clone(),
                inside: Vec::new(),
            }),
            None => Shape::filled(area.outline(), Ink(self.strip(id).colour.to_srgb())),
        }
    }

    fn long(&self, strips: &[StripId]) -> String {
        let all: Vec<&Strip> = strips.iter().map(|id| self.strip(*id)).collect();
        let lengths: Vec<String> = all
            .iter()
            .map(|strip| self.job.unit.shop(strip.length))
            .collect();
        let shade = all.iter().map(|strip| strip.colour.l).sum::<f64>() / all.len().max(1) as f64;
        format!(
            "{} long, {} clear, L {shade:.0}",
            lengths.join(" and "),
            self.job.unit.shop(clear(&all))
        )
    }

    fn strip(&self, id: StripId) -> &Strip {
        self.job.stock.strip(id)
    }
}
