//! The face of a label: what stands where.
//!
//! A label is stuck on the face that will be outside, close to the end, its bar toward the end of the strip. Read so, the bow is to the
//! left, and the arrow points to the edge that the next course is glued to: bar, arrow and words can all be right on one
//! face only.

use super::Label;
use crate::draw::scene::{Group, Item, Outline, Point, Rect, Set, Shape, Text, Weight};
use crate::draw::typeface::CAPITAL;
use crate::paper::facts::{BoatEnd, Way};
use crate::paper::fitting::{LEAST, Unfit, block, cut_off, size_for};
use crate::paper::mark::{WIDE, mark};
use crate::paper::{BLACK, WHITE, qr};

/// Between things on a label. Unit: mm.
const GAP: f64 = 1.0;
/// From here on a label has its lines under its name, and below it beside it. Unit: mm.
const TALL: f64 = 24.0;
/// Largest type of the small lines. Unit: mm.
const SMALL: f64 = 3.3;

/// Where a label may be printed.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Room {
    /// The label itself.
    pub label: Rect,
    /// The part of it that any printer reaches and that is not cut into.
    pub safe: Rect,
}

/// The face that is seen on the finished boat.
///
/// Errors: words that have no room.
pub fn front(label: &Label, room: Room) -> Result<Item, Unfit> {
    let left = label.end == BoatEnd::Bow;
    let (bar, rest) = with_bar(label, room.safe, left);
    let arrow_wide = (rest.h * 0.3).clamp(5.0, 8.5);
    let (arrow, rest) = split(rest, arrow_wide);
    let mut fixed = vec![bar];
    fixed.extend(next_arrow(label, arrow));
    let mut words = words(label, rest, Code::Printed);
    if words.is_err() {
        words = self::words(label, rest, Code::LeftOut);
    }
    fixed.extend(words?);
    Ok(group(label, "front", fixed))
}

/// The other face of a flag: which piece it is, and that this is the inside.
///
/// Errors: words that have no room.
pub fn back(label: &Label, room: Room) -> Result<Item, Unfit> {
    // Seen from inside, the bow is to the right.
    let left = label.end == BoatEnd::Stern;
    let (bar, rest) = with_bar(label, room.safe, left);
    let (name, note) = (top(rest, 0.72), bottom(rest, 0.28));
    let mut items = vec![bar];
    items.extend(heading(label, top(name, 0.55))?);
    items.extend(strip(label, bottom(name, 0.45))?);
    let inside = [format!("this face inside: {}", other_face(label))];
    let inside = block(&inside, note, SMALL).ok_or_else(|| unfit(label))?;
    items.extend(inside.into_iter().map(Item::from));
    Ok(group(label, "back", items))
}

fn other_face(label: &Label) -> &'static str {
    use crate::plan::Face;
    match label.face_out {
        Face::High => Face::Low.name(),
        Face::Low => Face::High.name(),
    }
}

fn group(label: &Label, kind: &'static str, items: Vec<Item>) -> Item {
    Item::Group(Group {
        kind: "label",
        facts: vec![
            ("face", kind.into()),
            ("strip", label.strip.clone()),
            ("side", label.side.name().into()),
            ("place", label.place.clone()),
            ("end", label.end.name().into()),
        ],
        told: None,
        items,
    })
}

fn unfit(label: &Label) -> Unfit {
    Unfit {
        words: label.strip.clone(),
        unprintable: None,
    }
}

fn top(area: Rect, part: f64) -> Rect {
    Rect {
        h: area.h * part,
        ..area
    }
}

fn bottom(area: Rect, part: f64) -> Rect {
    Rect {
        y: area.y + area.h * (1.0 - part),
        h: area.h * part,
        ..area
    }
}

/// A piece of the area at its left, and the rest beyond a gap.
fn split(area: Rect, wide: f64) -> (Rect, Rect) {
    let left = Rect { w: wide, ..area };
    let from = area.x + wide + GAP;
    (
        left,
        Rect::between(from, area.y, area.right(), area.bottom()),
    )
}

/// The bar at the end of the strip, with the end of the boat in it, and the rest of the area.
fn with_bar(label: &Label, area: Rect, left: bool) -> (Item, Rect) {
    let wide = (area.w * 0.085).clamp(3.6, 6.0);
    let (bar, rest) = if left {
        split(area, wide)
    } else {
        let rest = Rect {
            w: area.w - wide - GAP,
            ..area
        };
        let from = area.right() - wide;
        (
            Rect::between(from, area.y, area.right(), area.bottom()),
            rest,
        )
    };
    let words = label.end.name().to_uppercase();
    let size = size_for(&words, Weight::Bold, wide * 0.84, bar.h - 1.0).unwrap_or(LEAST);
    let middle = (bar.x + bar.w / 2.0, bar.y + bar.h / 2.0);
    let at = (middle.0 + size * CAPITAL / 2.0, middle.1);
    let words = Text::new(words, at, size, WHITE).set(Set::Middle).bold();
    let items = vec![Shape::filled(bar.outline(), BLACK), words.upward().into()];
    (Item::Group(Group::of("end", items)), rest)
}

/// The arrow to the next edge, with its letter in the shaft.
fn next_arrow(label: &Label, area: Rect) -> Vec<Item> {
    let (x, half) = (area.x + area.w / 2.0, area.w / 2.0);
    let head = (half * 1.1).min(area.h * 0.4);
    let shaft = half * 0.62;
    let (tip, neck, tail) = match label.next {
        Way::Up => (area.y, area.y + head, area.bottom()),
        Way::Down => (area.bottom(), area.bottom() - head, area.y),
    };
    let outline: Vec<Point> = vec![
        (x, tip),
        (x + half, neck),
        (x + shaft, neck),
        (x + shaft, tail),
        (x - shaft, tail),
        (x - shaft, neck),
        (x - half, neck),
    ];
    let size = (shaft * 2.3).min((tail - neck).abs() * 0.5);
    let letter_y = neck + (tail - neck) * 0.3 + size * CAPITAL / 2.0;
    let letter = Text::new(label.next_edge.name(), (x, letter_y), size, WHITE);
    let mut items = vec![
        Shape::filled(Outline::Closed(outline), BLACK),
        letter.set(Set::Middle).bold().into(),
    ];
    let next = (shaft * 1.5).max(LEAST);
    let room = (tail - letter_y).abs() - size;
    if crate::draw::typeface::measured("next", next, Weight::Bold) < room {
        let away = match label.next {
            Way::Up => area.bottom() - 0.8,
            Way::Down => area.y + room - 0.2,
        };
        let at = (x + next * 0.27, away);
        let words = Text::new("next", at, next, WHITE).bold().upward();
        items.push(match label.next {
            Way::Up => words.into(),
            Way::Down => words.set(Set::Left).into(),
        });
    }
    items
}

/// Whether the code is on the label.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Code {
    Printed,
    LeftOut,
}

fn words(label: &Label, area: Rect, code: Code) -> Result<Vec<Item>, Unfit> {
    let mut items = Vec::new();
    let tall = area.h >= TALL;
    let mut left = area;
    let mut head = area.h * 0.4;
    if code == Code::Printed {
        let side = match tall {
            true => (area.w * 0.36).min(area.h * 0.46),
            false => area.h.min(area.w * 0.3),
        };
        let corner = (area.right() - side, area.y);
        let cells = qr::cells(&label.strip, corner, side).ok_or_else(|| unfit(label))?;
        items.push(Item::Group(Group::of(
            "code",
            vec![Shape::filled(Outline::Cells(cells), BLACK)],
        )));
        left.w -= side;
        head = side;
    }
    if tall {
        let heading_area = Rect {
            h: head - GAP / 2.0,
            ..left
        };
        items.extend(heading(label, heading_area)?);
        let name = Rect {
            y: area.y + head,
            h: area.h * 0.19,
            ..area
        };
        items.extend(strip(label, name)?);
        let lines = Rect::between(
            area.x,
            name.bottom() + GAP / 2.0,
            area.right(),
            area.bottom(),
        );
        items.extend(small(label, lines)?);
    } else {
        let (name, lines) = split(left, left.w * 0.46);
        items.extend(heading(label, top(name, 0.56))?);
        items.extend(strip(label, bottom(name, 0.42))?);
        items.extend(small(label, lines)?);
    }
    Ok(items)
}

/// The side mark, course and piece, and the panel under or behind them.
fn heading(label: &Label, area: Rect) -> Result<Vec<Item>, Unfit> {
    let panel_under = area.h >= 9.0;
    let high = if panel_under { area.h * 0.68 } else { area.h };
    let wide = high * WIDE;
    let middle = area.y + high / 2.0;
    let mut items = vec![mark(label.side, (area.x + wide / 2.0, middle), high * 0.94)];
    let from = area.x + wide + GAP;
    let room = area.right() - from;
    let size =
        size_for(&label.place, Weight::Bold, high * 1.1, room).ok_or_else(|| unfit(label))?;
    let at = (from, middle + size * CAPITAL / 2.0);
    items.push(Text::new(&*label.place, at, size, BLACK).bold().into());
    let (panel, size, at) = if panel_under {
        let size = ((area.h - high) * 0.8).min(SMALL);
        let base = area.bottom() - size * 0.28;
        (
            cut_off(&label.panel, size, Weight::Plain, area.w),
            size,
            (area.x, base),
        )
    } else {
        let behind = from + crate::draw::typeface::measured(&label.place, size, Weight::Bold) + GAP;
        let small = (high * 0.5).clamp(LEAST, 2.6);
        let room = area.right() - behind;
        (
            cut_off(&label.panel, small, Weight::Plain, room),
            small,
            (behind, at.1),
        )
    };
    items.push(Text::new(panel, at, size, BLACK).into());
    Ok(items)
}

/// The strip's name, as large as it fits.
fn strip(label: &Label, area: Rect) -> Result<Vec<Item>, Unfit> {
    let size = size_for(&label.strip, Weight::Bold, area.h * 1.05, area.w);
    let size = size.ok_or_else(|| unfit(label))?;
    let base = area.y + (area.h + size * CAPITAL) / 2.0;
    let name = Text::new(&*label.strip, (area.x, base), size, BLACK).bold();
    Ok(vec![Item::Group(Group::of("strip", vec![name.into()]))])
}

fn small(label: &Label, area: Rect) -> Result<Vec<Item>, Unfit> {
    let mut parts = label.parts.clone();
    if label.no_spare {
        parts.insert(1, "NO SPARE".into());
    }
    let lines = block(&parts, area, SMALL).ok_or_else(|| unfit(label))?;
    Ok(lines.into_iter().map(Item::from).collect())
}
