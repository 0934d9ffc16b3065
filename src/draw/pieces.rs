//! The pieces of each row: their outlines between course ends and scarfs, and the words on them.

use super::fit::{Fitted, Wording, width};
use super::scene::{
    Group, Ink, Item, Line, Outline, Point, Rect, Set, Shape, Stroke, Text, Weight,
};
use super::sheet::{Row, Sheet};
use super::zones::{Spans, Taken};
use super::{ink, words};
use crate::hull::{Course, CourseId, Side};
use crate::job::{Job, Stage};
use crate::plan::{BowEnd, Piece, Plan};
use crate::units::{S, X};

/// Room left beside words on a piece. Unit: millimetre of paper.
const BESIDE: f64 = 0.9;

/// A piece as it is drawn.
pub struct Drawn<'p> {
    /// The piece.
    pub piece: &'p Piece,
    /// Its outline.
    outline: Vec<Point>,
    /// The joint to the piece before it.
    scarf_before: Option<(Point, Point)>,
    /// Where it is as wide as its course: clear of the scarfs.
    straight: (f64, f64),
}

/// A row with its pieces, the foremost first. None: the course is open.
pub struct Filled<'p> {
    /// The row.
    pub row: Row,
    /// Its pieces.
    pub pieces: Vec<Drawn<'p>>,
}

impl Drawn<'_> {
    /// Its outline.
    pub fn outline(&self) -> Outline {
        Outline::Closed(self.outline.clone())
    }

    /// The joint to the piece before it, from its outer to its inner edge.
    pub fn scarf(&self) -> Option<(Point, Point)> {
        self.scarf_before
    }

    /// Where it is as wide as its course: clear of the scarfs.
    pub fn straight(&self) -> Tip {
        self.straight
    }
}

impl Filled<'_> {
    /// From where to where the scarfs of the row reach.
    pub fn joints(&self) -> Spans {
        let scarfs = self.pieces.iter().filter_map(|drawn| drawn.scarf_before);
        scarfs.map(|(fore, aft)| (fore.0, aft.0)).collect()
    }
}

/// One end of a piece on the paper: the scarf from its forward to its after edge, or a square end where both are the
/// same.
pub type Tip = (f64, f64);

/// All rows with their pieces.
pub fn filled<'p>(job: &Job, plan: &'p Plan, sheet: &Sheet) -> Vec<Filled<'p>> {
    let rows = sheet.rows.iter().map(|row| {
        let pieces = of_course(plan, row.course, row.side);
        let course = job.hull.course(row.course);
        let tips = tips(job, course, &pieces, |place| sheet.x(place));
        let drawn = pieces.iter().zip(tips.windows(2)).map(|(piece, tips)| {
            let (fore, aft) = (tips[0], tips[1]);
            let (outer, inner) = edges(row, sheet.pitch);
            let scarf = ((fore.0, outer), (fore.1, inner));
            Drawn {
                piece,
                outline: vec![scarf.0, (aft.0, outer), (aft.1, inner), scarf.1],
                scarf_before: (fore.0 < fore.1).then_some(scarf),
                straight: (fore.1, aft.0),
            }
        });
        Filled {
            row: *row,
            pieces: drawn.collect(),
        }
    });
    rows.collect()
}

/// The ends of the pieces of a course, the foremost first: its bow end, each joint, its stern end. `x` puts a place
/// on the boat on the paper.
pub fn tips(job: &Job, course: &Course, pieces: &[&Piece], x: impl Fn(X) -> f64) -> Vec<Tip> {
    let half = job.rules.half_scarf();
    let (bow, stern) = (x(course.from), x(course.to));
    let on_paper = |s: S| x(course.x_at(s)).clamp(bow, stern);
    let joints = pieces.windows(2).map(|two| {
        let joint = two[0].joint(two[1]);
        (on_paper(joint - half), on_paper(joint + half))
    });
    let mut tips = vec![(bow, bow)];
    tips.extend(joints);
    tips.push((stern, stern));
    tips
}

/// The pieces of a course on one side, the foremost first.
pub fn of_course(plan: &Plan, course: CourseId, side: Side) -> Vec<&Piece> {
    let here = |piece: &&Piece| piece.course == course && piece.side == side;
    let mut pieces: Vec<&Piece> = plan.pieces.iter().filter(here).collect();
    pieces.sort_by_key(|piece| piece.number);
    pieces
}

/// The outer and the inner edge of a row. Scarfs lean from the one to the other, so that port and starboard mirror each
/// other: the forward end of each lies on the outer edge.
fn edges(row: &Row, pitch: f64) -> (f64, f64) {
    let (top, bottom) = (row.top, row.top + pitch);
    match row.side {
        Side::Starboard => (bottom, top),
        Side::Port | Side::Centre => (top, bottom),
    }
}

/// The piece itself, in its own colour, with what the pointer tells.
pub fn wood(job: &Job, order: usize, drawn: &Drawn<'_>) -> Item {
    let piece = drawn.piece;
    let strip = job.stock.strip(piece.strip);
    let panel = job.hull.panel_of(piece.course);
    let wood = ink::of_wood(strip.colour);
    let shape = Shape::outlined(drawn.outline(), wood, Line::whole(ink::SEAM, 0.12));
    let mut items = vec![shape];
    if let Some((from, to)) = drawn.scarf_before {
        // In whichever ink shows on this wood: two pieces of one dark board would hide a dark line.
        let line = Line::whole(ink::readable_on(wood), 0.2);
        items.push(Shape::drawn(Outline::Straight(from, to), line));
    }
    items.extend(done(
        job.stage(piece),
        &drawn.outline,
        ink::readable_on(wood),
    ));
    Item::Group(Group {
        kind: "piece",
        facts: vec![
            ("order", order.to_string()),
            ("panel", panel.name.clone()),
            ("course", job.hull.course(piece.course).name().to_string()),
            ("side", piece.side.name().into()),
            ("piece", piece.number.to_string()),
            ("strip", strip.name.clone()),
        ],
        told: Some(words::told(job, order, piece)),
        items,
    })
}

/// The line that shows that a piece is laid, or cut.
pub const fn stroke(stage: Stage) -> Option<Stroke> {
    match stage {
        Stage::Planned => None,
        Stage::Cut => Some(Stroke::Broken(1.6, 1.6)),
        Stage::Laid => Some(Stroke::Whole),
    }
}

/// What shows that a piece is laid, or cut: a line along its inner edge, whole or broken. `outline` is its four
/// corners.
pub fn done(stage: Stage, outline: &[Point], pen: Ink) -> Option<Item> {
    let stroke = stroke(stage)?;
    let [outer, _, aft, fore] = outline else {
        return None;
    };
    let inside = 0.55 * (outer.1 - fore.1).signum();
    let along = Outline::Straight(
        (fore.0 + 0.6, fore.1 + inside),
        (aft.0 - 0.6, aft.1 + inside),
    );
    let line = Line {
        ink: pen,
        width: 0.6,
        stroke,
    };
    Some(Shape::drawn(along, line))
}

/// The words on a piece and the dot toward its marked end, clear of what is taken on the row.
pub fn lettering(job: &Job, pitch: f64, row: &Row, drawn: &Drawn<'_>, taken: &Taken) -> Vec<Item> {
    let piece = drawn.piece;
    let strip = job.stock.strip(piece.strip);
    let ground = ink::of_wood(strip.colour);
    let pen = ink::readable_on(ground);
    let middle = row.top + pitch / 2.0;
    let radius = (pitch * 0.15).min(0.6);
    let (mut left, mut right) = (drawn.straight.0 + BESIDE, drawn.straight.1 - BESIDE);
    if right - left < 4.0 * radius {
        return Vec::new();
    }
    let dot = match piece.bow_end {
        BowEnd::Mark => left + radius,
        BowEnd::Plain => right - radius,
    };
    let mut items = vec![Shape::filled(Outline::Circle((dot, middle), radius), pen)];
    left += 2.0 * radius + BESIDE;
    right -= 2.0 * radius + BESIDE;
    let wished = (pitch * 0.62).min(2.8);
    let wordings = words::on_piece(job, piece);
    let clear = [taken.names.as_slice(), taken.hatches.as_slice()].concat();
    let place = |taken: &[Tip]| place(&wordings, (left, right), taken, wished);
    let on_plate = || place(&taken.names).map(|(at, fitted)| (at, fitted, true));
    let placed = place(&clear).map(|(at, fitted)| (at, fitted, false));
    if let Some((at, fitted, plated)) = placed.or_else(on_plate) {
        if plated {
            let tall = fitted.size * 0.6;
            let plate = Rect::between(at, middle - tall, at + fitted.width, middle + tall);
            items.push(Shape::filled(plate.outline(), ground));
        }
        items.extend(fitted.set(at, middle, pen));
    }
    vec![Item::Group(Group {
        kind: "lettering",
        facts: vec![("strip", strip.name.clone())],
        told: None,
        items,
    })]
}

/// The foremost free stretch of the piece that has room for more than the strip's name, with the fullest wording that
/// fits there; else the foremost with room for the name; else the name made smaller in the longest.
fn place(wordings: &[Wording], whole: Tip, taken: &[Tip], wished: f64) -> Option<(f64, Fitted)> {
    let free = free(whole, taken);
    let (name, fuller) = wordings.split_last()?;
    let first_with = |wordings: &[Wording]| {
        free.iter().find_map(|(left, right)| {
            let mut fitted = wordings.iter().map(|wording| wording.at(wished));
            let fitted = fitted.find(|fitted| fitted.width <= right - left)?;
            Some((*left, fitted))
        })
    };
    let smaller = || {
        let longest = free
            .iter()
            .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
        Some((longest.0, name.shrunk(wished, longest.1 - longest.0)?))
    };
    first_with(fuller)
        .or_else(|| first_with(std::slice::from_ref(name)))
        .or_else(smaller)
}

/// What is left of a stretch, from the bow.
fn free(whole: Tip, taken: &[Tip]) -> Vec<Tip> {
    let mut taken: Vec<Tip> = taken.to_vec();
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut left = whole.0;
    let mut free = Vec::new();
    for (from, to) in taken {
        if from > left {
            free.push((left, (from - BESIDE).min(whole.1)));
        }
        left = left.max(to + BESIDE);
    }
    free.push((left, whole.1));
    free.retain(|(from, to)| to > from);
    free
}

/// A course without wood: an empty outline marked "open".
pub fn open(job: &Job, sheet: &Sheet, row: &Row) -> Item {
    let course = job.hull.course(row.course);
    let (left, right) = (sheet.x(course.from), sheet.x(course.to));
    let inset = 0.25;
    let area = Rect::between(left, row.top + inset, right, row.top + sheet.pitch - inset);
    let line = Line {
        ink: ink::SOFT,
        width: 0.25,
        stroke: Stroke::Broken(2.2, 1.4),
    };
    let size = (sheet.pitch * 0.62).min(2.8);
    let base = row.top + sheet.pitch / 2.0 + size * 0.36;
    let mut items = vec![Shape::outlined(area.outline(), ink::CHALK, line)];
    if width("open", size, Weight::Plain) <= right - left - 2.0 * BESIDE {
        let at = ((left + right) / 2.0, base);
        let text = Text::new("open", at, size, ink::PENCIL).set(Set::Middle);
        items.push(text.into());
    }
    Item::Group(Group {
        kind: "open",
        facts: vec![
            ("panel", job.hull.panel(course.panel).name.clone()),
            ("course", course.name().to_string()),
            ("side", row.side.name().into()),
        ],
        told: Some(words::told_open(job, course, row.side)),
        items,
    })
}
