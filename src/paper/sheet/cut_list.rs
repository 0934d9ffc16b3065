//! The cut list: strip by strip, as they lie in the rack.

use super::pages::{Block, Frame, Section};
use super::strip_bar::{HIGH, strip_bar};
use crate::draw::scene::{Item, Line, Outline, Scene, Set, Shape, Text, Weight};
use crate::draw::typeface::{CAPITAL, measured, printable};
use crate::job::{Job, Page, Stage};
use crate::paper::facts;
use crate::paper::fitting::{Unfit, cut_off, lines, size_for};
use crate::paper::mark::{WIDE, mark};
use crate::paper::{About, BLACK, PALE, tick_box};
use crate::plan::{Piece, Plan};
use crate::stock::{Strip, StripId};
use crate::units::{Length, U};

const NOTE: &str = "Measured from the marked end, at the left. Saw on the waste side of each line. Tick what is cut, \
and tell it: log cut and the strip.";
/// The same in fewer words, with room for what is left of the wood between.
const START: &str = "From the marked end, at the left. Saw on the waste side.";
const END: &str = "Tick, and tell it: log cut and the strip.";
/// Room for the name of a strip.
const NAME: f64 = 62.0;
/// Room for "no spare" behind it.
const NO_SPARE: f64 = 17.0;
/// Heights. Unit: mm.
const TITLE: f64 = 7.4;
const ROW: f64 = 5.4;
const SMALL: f64 = 3.0;
/// Shorter ends than this are not told as left over. Unit: mm.
const SCRAP: f64 = 1.0;

/// The pages of the cut list.
///
/// Errors: names of strips that don't fit, each once.
pub fn cut_list(
    job: &Job,
    plan: &Plan,
    about: &About,
    page: Page,
) -> Result<Vec<Scene>, Vec<Unfit>> {
    let note = note(job);
    let frame = Frame {
        kind: "Cut list",
        note: &note,
        job,
        about,
        page,
    };
    let by_strip = plan.by_strip();
    let longest = by_strip.keys().map(|id| job.stock.strip(*id).length).max();
    let sheet = Sheet {
        job,
        about,
        wide: frame.wide(),
        per_mm: frame.wide() / longest.unwrap_or(Length::ZERO).mm().max(1.0),
    };
    let mut blocks = Vec::new();
    let mut unfit = Vec::new();
    for (id, pieces) in &by_strip {
        if about.to_do
            && pieces
                .iter()
                .all(|piece| job.stage(piece) != Stage::Planned)
        {
            continue;
        }
        match sheet.block(*id, pieces) {
            Ok(block) => blocks.push(block),
            Err(words) => unfit.push(words),
        }
    }
    if !unfit.is_empty() {
        return Err(unfit);
    }
    let head = Block::default();
    let unused = job
        .stock
        .strips()
        .filter(|(id, _)| !by_strip.contains_key(id));
    let whole = unused.filter(|(_, strip)| !strip.cull && strip.clear() > Length::ZERO);
    let whole: Vec<String> = whole.map(|(_, strip)| strip.name.clone()).collect();
    blocks.extend(sheet.left_whole(&whole));
    Ok(frame.pages(vec![Section { head, blocks }]))
}

/// What stands over the list.
fn note(job: &Job) -> String {
    let (unit, allow) = (job.unit, &job.rules.allow);
    let spared = [
        (allow.end_trim, "at ends"),
        (allow.defect, "beside defects"),
    ];
    let spared = spared.iter().filter(|(length, _)| *length > Length::ZERO);
    let spared: Vec<String> = spared
        .map(|(length, place)| format!("{} {place}", unit.shop(*length)))
        .collect();
    match spared.is_empty() {
        true => NOTE.into(),
        false => format!("{START} Dark is left: {}. {END}", spared.join(", ")),
    }
}

struct Sheet<'a> {
    job: &'a Job,
    about: &'a About,
    wide: f64,
    per_mm: f64,
}

impl Sheet<'_> {
    fn block(&self, id: StripId, pieces: &[&Piece]) -> Result<Block, Unfit> {
        let strip = self.job.stock.strip(id);
        let middle = TITLE / 2.0 + 0.6;
        let size = size_for(&strip.name, Weight::Bold, 5.0, NAME - 8.0);
        let size = size.ok_or_else(|| Unfit::Name(strip.name.clone()))?;
        let across = Outline::Straight((0.0, 0.0), (self.wide, 0.0));
        let at = (7.6, middle + size * CAPITAL / 2.0);
        let done = pieces
            .iter()
            .all(|piece| self.job.stage(piece) != Stage::Planned);
        let mut items = tick_box((0.4, middle - 2.5), 5.0, done);
        items.extend([
            Shape::drawn(across, Line::whole(BLACK, 0.2)),
            Text::new(&*strip.name, at, size, BLACK).bold().into(),
        ]);
        let mut behind = 7.6 + measured(&strip.name, size, Weight::Bold) + 4.0;
        if self.about.no_spare.contains(&id) {
            let words = Text::new("no spare", (behind, middle + 1.2), 3.4, BLACK);
            items.push(words.bold().into());
            behind += NO_SPARE;
        }
        let left = self.left(strip, pieces);
        let room = self.wide - behind - measured(&left, SMALL, Weight::Plain) - 4.0;
        let what = cut_off(&self.what(strip), SMALL, Weight::Plain, room);
        let said = |words: String, x: f64| Text::new(words, (x, middle + 1.1), SMALL, BLACK);
        items.push(said(what, behind).into());
        items.push(said(left, self.wide).set(Set::Right).into());
        let top = TITLE + 1.0;
        items.extend(strip_bar(self.job, strip, pieces, top, self.per_mm));
        let mut y = top + HIGH + 1.2;
        for piece in pieces {
            items.extend(self.row(piece, y));
            y += ROW;
        }
        Ok(Block {
            height: y + 1.4,
            items,
        })
    }

    fn what(&self, strip: &Strip) -> String {
        let from = match strip.origin {
            Some(origin) => {
                let board = &self.job.stock.boards[origin.board.0];
                format!("board {board}, slice {}", origin.seq)
            }
            None => "stray".into(),
        };
        let mut what = format!("{from}, {} long", self.job.unit.wood(strip.length));
        if strip.promised {
            what += "; not sawn yet";
        }
        if !strip.notes.is_empty() {
            what += &format!("; {}", printable(&strip.notes));
        }
        what
    }

    fn row(&self, piece: &Piece, y: f64) -> Vec<Item> {
        let middle = y + ROW / 2.0;
        let base = middle + 3.4 * CAPITAL / 2.0;
        let place = facts::course_and_piece(self.job, piece);
        let panel = &self.job.hull.panel_of(piece.course).name;
        let unit = self.job.unit;
        let x = 7.6 + 4.4 * WIDE + 1.0;
        let behind = x + measured(&place, 4.2, Weight::Bold) + 1.6;
        let cuts = [piece.cut_from, piece.cut_to].into_iter();
        let cuts = cuts.filter(|at| !facts::needs_no_cut(self.job, piece, *at));
        let cuts: Vec<String> = cuts.map(|at| unit.shop(at.from_origin())).collect();
        let cut = match cuts.as_slice() {
            [] => "no cut: the whole strip".into(),
            cuts => format!("cut at {}", cuts.join(" and ")),
        };
        let stage = self.job.stage(piece);
        let done = match stage {
            Stage::Planned => String::new(),
            stage => format!("is {} · ", stage.name()),
        };
        let length = format!("{done}{} long", unit.shop(facts::length(piece)));
        let panel = cut_off(panel, 3.4, Weight::Plain, NAME - behind - 1.0);
        let mut items = tick_box((1.2, middle - 1.7), 3.4, stage != Stage::Planned);
        items.extend([
            mark(piece.side, (7.6 + 2.2 * WIDE, middle), 4.4),
            Text::new(place, (x, middle + 4.2 * CAPITAL / 2.0), 4.2, BLACK)
                .bold()
                .into(),
            Text::new(panel, (behind, base), 3.4, BLACK).into(),
            Text::new(cut, (NAME, base), 3.4, BLACK).into(),
            Text::new(length, (self.wide, base), 3.4, BLACK)
                .set(Set::Right)
                .into(),
        ]);
        items
    }

    /// What is left of a strip when its pieces are cut.
    fn left(&self, strip: &Strip, pieces: &[&Piece]) -> String {
        let (saw, trim) = (self.job.rules.allow.saw, self.job.rules.allow.end_trim);
        let mut from = U::ORIGIN + trim;
        let mut left = Vec::new();
        let end = U::at(strip.length) - trim;
        let starts = pieces.iter().map(|piece| (piece.cut_from, piece.cut_to));
        for (n, (start, after)) in starts.chain([(end, end)]).enumerate() {
            // Each cut takes its width from the waste.
            let cuts = f64::from(u8::from(n > 0)) + f64::from(u8::from(start < end));
            let rest = start - from - saw * cuts;
            if rest.mm() > SCRAP {
                let unit = self.job.unit;
                let place = match (n, start < end) {
                    (0, _) => "at the marked end",
                    (_, false) => "at the plain end",
                    _ => "between",
                };
                left.push(format!("{} {place}", unit.shop(rest)));
            }
            from = after;
        }
        match left.is_empty() {
            true => "left: nothing".into(),
            false => format!("left: {}", left.join(", ")),
        }
    }

    fn left_whole(&self, names: &[String]) -> Vec<Block> {
        if names.is_empty() {
            return Vec::new();
        }
        let mut parts = names.to_vec();
        parts[0] = format!("Not needed by this plan, {}: {}", names.len(), names[0]);
        let set = lines(&parts, 3.4, self.wide);
        let across = Outline::Straight((0.0, 0.0), (self.wide, 0.0));
        let rule = Shape::drawn(across, Line::whole(PALE, 0.2));
        let texts = set.into_iter().enumerate().map(|(n, words)| {
            let mut items = vec![Text::new(words, (0.0, 4.4), 3.4, BLACK).into()];
            if n == 0 {
                items.push(rule.clone());
            }
            Block { height: 5.0, items }
        });
        texts.collect()
    }
}
