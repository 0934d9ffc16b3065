//! The laying sheet: each course a line for each side, in the order of laying, with a box to tick.

use super::cautions::cautions;
use super::pages::{Block, Frame, Section};
use super::under::{SMALL, Under};
use crate::draw::scene::{Item, Line, Outline, Point, Scene, Set, Shape, Text, Weight};
use crate::draw::typeface::CAPITAL;
use crate::hull::{CourseId, LayOrder, PanelId, Side, Toward};
use crate::job::{Job, Page, Stage};
use crate::paper::facts;
use crate::paper::fitting::{Unfit, cut_off, size_for};
use crate::paper::mark::{WIDE, mark};
use crate::paper::{About, BLACK, GREY, PALE, tick_box};
use crate::plan::{Piece, Plan};

/// Where the columns begin: box, mark, strips, and what is said of each. Unit: mm.
const BOX: f64 = 5.0;
const MARK: f64 = 8.0;
pub(super) const STRIP: f64 = 32.0;
const SAID: f64 = 76.0;
/// Height of the line of a piece, and of a line of small type under it.
const PIECE: f64 = 6.4;
const UNDER: f64 = 4.2;

const NOTE: &str = "Tick a line when its strip is glued, and tell it: log laid next. Lengths include allowances and \
half of each scarf.";

/// The pages of the laying sheet.
///
/// Errors: names of strips that don't fit their column, each once.
pub fn laying_sheet(
    job: &Job,
    plan: &Plan,
    about: &About,
    page: Page,
) -> Result<Vec<Scene>, Vec<Unfit>> {
    let frame = Frame {
        kind: "Laying sheet",
        note: NOTE,
        job,
        about,
        page,
    };
    let sheet = Sheet {
        job,
        plan,
        about,
        wide: frame.wide(),
    };
    let mut unfit = Vec::new();
    let mut sections: Vec<(PanelId, Section)> = Vec::new();
    let mut last: Option<CourseId> = None;
    let laid = |line: &CourseLine<'_>| {
        !line.pieces.is_empty()
            && line
                .pieces
                .iter()
                .all(|piece| job.stage(piece) == Stage::Laid)
    };
    for line in in_order(job, plan) {
        if about.to_do && laid(&line) {
            continue;
        }
        let panel = job.hull.course(line.course).panel;
        if sections.last().is_none_or(|(last, _)| *last != panel) {
            sections.push((panel, sheet.section(panel)));
        }
        let rule = match last.replace(line.course) == Some(line.course) {
            true => Line::whole(PALE, 0.15),
            false => Line::whole(BLACK, 0.3),
        };
        match (sheet.block(&line, rule), sections.last_mut()) {
            (Ok(block), Some((_, section))) => section.blocks.push(block),
            (Err(words), _) => unfit.push(words),
            _ => {}
        }
    }
    if !unfit.is_empty() {
        unfit.sort();
        unfit.dedup();
        return Err(unfit);
    }
    let mut sections: Vec<Section> = sections.into_iter().map(|(_, section)| section).collect();
    sections.push(cautions(frame.wide()));
    Ok(frame.pages(sections))
}

/// A course on one side, and its pieces from the bow; none where it is open.
struct CourseLine<'p> {
    course: CourseId,
    side: Side,
    pieces: Vec<&'p Piece>,
}

/// All lines in the order of laying; an open course stands where it would have been laid.
fn in_order<'p>(job: &Job, plan: &'p Plan) -> Vec<CourseLine<'p>> {
    let mut all: Vec<CourseLine<'p>> = Vec::new();
    for piece in &plan.pieces {
        match all.last_mut() {
            Some(line) if (line.course, line.side) == (piece.course, piece.side) => {
                line.pieces.push(piece);
            }
            _ => all.push(CourseLine {
                course: piece.course,
                side: piece.side,
                pieces: vec![piece],
            }),
        }
    }
    for id in &plan.uncovered {
        let after = all.iter().position(|line| line.course > *id);
        let at = after.unwrap_or(all.len());
        let side = job.hull.course(*id).sides()[0];
        let open = CourseLine {
            course: *id,
            side,
            pieces: Vec::new(),
        };
        all.insert(at, open);
    }
    all
}

struct Sheet<'a> {
    job: &'a Job,
    plan: &'a Plan,
    about: &'a About,
    wide: f64,
}

impl Sheet<'_> {
    fn section(&self, panel: PanelId) -> Section {
        let panel = self.job.hull.panel(panel);
        let toward = match panel.toward {
            Toward::Keel => "toward the keel",
            Toward::Deck => "toward the centreline of the deck",
        };
        let order = match panel.lay {
            LayOrder::Alternate => {
                "both sides course by course, first port, then starboard first, and so on"
            }
            LayOrder::PortFirst => "all of port, then all of starboard",
            LayOrder::StarboardFirst => "all of starboard, then all of port",
        };
        let name = cut_off(&panel.name, 5.0, Weight::Bold, self.wide * 0.35);
        let behind = crate::draw::typeface::measured(&name, 5.0, Weight::Bold) + 3.0;
        let how = cut_off(
            &format!("{toward}; {order}"),
            SMALL,
            Weight::Plain,
            self.wide - behind,
        );
        Section {
            head: Block {
                height: 9.0,
                items: vec![
                    Text::new(name, (0.0, 6.4), 5.0, BLACK).bold().into(),
                    Text::new(how, (behind, 6.4), SMALL, GREY).into(),
                ],
            },
            blocks: Vec::new(),
        }
    }

    fn block(&self, line: &CourseLine<'_>, rule: Line) -> Result<Block, Unfit> {
        let course = self.job.hull.course(line.course);
        let under = Under {
            job: self.job,
            plan: self.plan,
            bench: &self.about.bench,
            to_do: self.about.to_do,
            wide: self.wide,
        }
        .lines(line.course, &line.pieces);
        let pieces = line.pieces.len().max(1) as f64;
        let height = 1.2 + pieces * PIECE + under.len() as f64 * UNDER + 1.2;
        let across = Outline::Straight((0.0, 0.0), (self.wide, 0.0));
        let middle = 1.2 + PIECE / 2.0;
        let number = course.name().to_string();
        let room = STRIP - MARK - PIECE * WIDE - 2.0;
        let size = size_for(&number, Weight::Bold, 6.2, room).ok_or_else(|| unfit(&number))?;
        let at = (MARK + PIECE * WIDE + 1.0, middle + size * CAPITAL / 2.0);
        let mut items = vec![
            Shape::drawn(across, rule),
            mark(line.side, (MARK + PIECE * WIDE / 2.0, middle), PIECE * 0.92),
            Text::new(number, at, size, BLACK).bold().into(),
        ];
        if line.pieces.is_empty() {
            let at = (STRIP, middle + 1.2);
            let open = "open: nothing in the rack covers it";
            items.push(Text::new(open, at, 3.4, BLACK).into());
        } else {
            let top = middle - BOX / 2.0;
            let stages = line.pieces.iter().map(|piece| self.job.stage(piece));
            let laid = stages.filter(|stage| *stage == Stage::Laid).count();
            items.extend(tick_box((0.4, top), BOX, laid == line.pieces.len()));
        }
        for (n, piece) in line.pieces.iter().enumerate() {
            items.extend(self.piece(piece, line, middle + n as f64 * PIECE)?);
        }
        let first = 1.2 + pieces * PIECE;
        for (n, (from, size, words)) in under.into_iter().enumerate() {
            let base = first + n as f64 * UNDER + 2.9;
            items.push(Text::new(words, (from, base), size, BLACK).into());
        }
        Ok(Block { height, items })
    }

    fn piece(&self, piece: &Piece, line: &CourseLine<'_>, middle: f64) -> Result<Vec<Item>, Unfit> {
        let strip = &self.job.stock.strip(piece.strip).name;
        let size = size_for(strip, Weight::Bold, 4.8, SAID - STRIP - 2.0);
        let size = size.ok_or_else(|| unfit(strip))?;
        let base = |size: f64| middle + size * CAPITAL / 2.0;
        let text = |words: String, x: f64| -> Text { Text::new(words, (x, base(3.4)), 3.4, BLACK) };
        let mut how = format!(
            "{} to bow, {}, {} out",
            piece.bow_end.name(),
            facts::next_edge(self.job, piece),
            piece.face_out.name()
        );
        if line.pieces.len() > 1 {
            how = format!("{}: {how}", piece.number);
        }
        match self.job.stage(piece) {
            Stage::Planned => {}
            stage => how += &format!(" · {}", stage.name()),
        }
        let length = self.job.unit.shop(facts::length(piece));
        let at: Point = (STRIP, base(size));
        let mut items = vec![
            Text::new(strip, at, size, BLACK).bold().into(),
            text(how, SAID).into(),
            text(length, self.wide).set(Set::Right).into(),
        ];
        if self.about.no_spare.contains(&piece.strip) {
            let words = text("no spare".into(), self.wide - 22.0);
            items.push(words.set(Set::Right).bold().into());
        }
        Ok(items)
    }
}

fn unfit(words: &str) -> Unfit {
    Unfit::Name(words.into())
}
