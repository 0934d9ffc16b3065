//! The face of a label: what stands where.
//!
//! A label is stuck on the face that will be outside, close to the end, its bar toward the end of the strip. Read so,
//! the bow is to the left, and the arrow points to the edge that the next course is glued to: bar, arrow and words
//! can all be right on one face only. Where no course is next, a bar lies along that edge in place of the arrow.

use super::Label;
use super::arrangement::{Arrangement, Code, GAP, arrangements, lower, split, upper};
use crate::draw::scene::{Group, Item, Outline, Point, Rect, Set, Shape, Text, Weight};
use crate::draw::typeface::{CAPITAL, measured};
use crate::paper::facts::{BoatEnd, Way};
use crate::paper::fitting::{LEAST, Phrase, Unfit, block, size_for};
use crate::paper::mark::{WIDE, mark};
use crate::paper::{BLACK, WHITE, qr};
use crate::plan::Edge;

/// Largest type of the small lines. Unit: mm.
pub(super) const SMALL: f64 = 3.4;
/// Names in type of this size, and small lines in half of it, are large enough. Unit: mm.
const ENOUGH: f64 = 4.4;

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
    let (bar, rest) = with_bar(label.end.name(), room.safe, left);
    let (arrow, rest) = split(rest, arrow_wide(rest));
    let mut fixed = vec![bar];
    fixed.extend(match label.has_next {
        true => arrow_to(label.next, label.next_edge, "next", arrow),
        false => free_edge(label.next, label.next_edge, arrow),
    });
    let words = |label: &Label| words(label, rest);
    fixed.extend(words(label).ok_or_else(|| unfit(label, |short| words(short).is_some()))?);
    Ok(group(label, "front", fixed))
}

/// The other face of a flag: which piece it is, and that this is the inside.
///
/// Errors: words that have no room.
pub fn back(label: &Label, room: Room) -> Result<Item, Unfit> {
    // Seen from inside, the bow is to the right.
    let left = label.end == BoatEnd::Stern;
    let (bar, rest) = with_bar(label.end.name(), room.safe, left);
    let (name, note) = (upper(rest, 0.72), lower(rest, 0.28));
    let inside = [Phrase::bold(format!(
        "this face inside: {}",
        other_face(label)
    ))];
    let words = |label: &Label| {
        let (_, head) = heading(label, upper(name, 0.56))?;
        let (_, strip) = strip(&label.strip, lower(name, 0.42))?;
        let (_, note) = block(&inside, &[], note, SMALL)?;
        Some([head, strip, note].concat())
    };
    let mut items = vec![bar];
    items.extend(words(label).ok_or_else(|| unfit(label, |short| words(short).is_some()))?);
    Ok(group(label, "back", items))
}

fn other_face(label: &Label) -> &'static str {
    use crate::plan::Face;
    match label.face_out {
        Face::High => Face::Low.name(),
        Face::Low => Face::High.name(),
    }
}

/// Whether it is the name that does not fit: with a name of two letters all else would.
fn unfit(label: &Label, fits: impl Fn(&Label) -> bool) -> Unfit {
    let short = Label {
        strip: "A1".into(),
        ..label.clone()
    };
    match fits(&short) {
        true => Unfit::Name(label.strip.clone()),
        false => Unfit::Label,
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

/// The bar at the end of the strip, with the name of that end in it, and the rest of the area.
pub(super) fn with_bar(end: &str, area: Rect, left: bool) -> (Item, Rect) {
    let wide = (area.w * 0.085).clamp(3.2, 6.0);
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
    let words = end.to_uppercase();
    let size = size_for(&words, Weight::Bold, wide * 0.84, bar.h - 1.0).unwrap_or(LEAST);
    let middle = (bar.x + bar.w / 2.0, bar.y + bar.h / 2.0);
    let at = (middle.0 + size * CAPITAL / 2.0, middle.1);
    let words = Text::new(words, at, size, WHITE).set(Set::Middle).bold();
    let items = vec![Shape::filled(bar.outline(), BLACK), words.upward().into()];
    (Item::Group(Group::of("end", items)), rest)
}

/// Room for an arrow at the side of an area.
pub(super) fn arrow_wide(area: Rect) -> f64 {
    (area.h * 0.3).clamp(4.2, 8.5)
}

/// The arrow to an edge, with its letter in the shaft and a word beside it.
pub(super) fn arrow_to(way: Way, edge: Edge, word: &str, area: Rect) -> Vec<Item> {
    let (x, half) = (area.x + area.w / 2.0, area.w / 2.0);
    let head = (half * 1.1).min(area.h * 0.4);
    let shaft = half * 0.62;
    let (tip, neck, tail) = match way {
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
    let letter = Text::new(edge.name(), (x, letter_y), size, WHITE);
    let mut items = vec![
        Shape::filled(Outline::Closed(outline), BLACK),
        letter.set(Set::Middle).bold().into(),
    ];
    let next = Text::new(word, (x, letter_y), (shaft * 1.5).max(LEAST), WHITE);
    items.extend(behind(way, size, next, area));
    items
}

/// A word that reads upwards, in the middle of what the letter of an edge leaves free; none where that is tight. `word`
/// stands where the letter does, which is of that size.
fn behind(way: Way, letter: f64, mut word: Text, area: Rect) -> Option<Item> {
    let (x, y) = word.at;
    let (upper, lower) = match way {
        Way::Up => (y, area.bottom()),
        Way::Down => (area.y, y - letter * CAPITAL),
    };
    let spare = lower - upper - measured(&word.words, word.size, Weight::Bold);
    word.at = (x + word.size * 0.27, lower - spare / 2.0);
    (spare > 1.2).then(|| word.bold().upward().into())
}

/// Where an arrow would point to nothing: a bar along the edge, with its letter and a word below it.
fn free_edge(way: Way, edge: Edge, area: Rect) -> Vec<Item> {
    let thick = (area.w * 0.2).max(0.8);
    let size = (area.w * 0.75).min(area.h * 0.3);
    let (bar, letter_y) = match way {
        Way::Up => (area.y, area.y + thick + GAP + size * CAPITAL),
        Way::Down => (area.bottom() - thick, area.bottom() - thick - GAP),
    };
    let x = area.x + area.w / 2.0;
    let letter = Text::new(edge.name(), (x, letter_y), size, BLACK);
    let along = Rect::between(area.x, bar, area.right(), bar + thick);
    let mut items = vec![
        Shape::filled(along.outline(), BLACK),
        letter.set(Set::Middle).bold().into(),
    ];
    let free = Text::new("free", (x, letter_y), (size * 0.7).max(LEAST), BLACK);
    items.extend(behind(way, size, free, area));
    items
}

/// All words of a label and its code: in full before in short, with the code before without.
fn words(label: &Label, area: Rect) -> Option<Vec<Item>> {
    let bold = |all: Vec<String>| all.into_iter().map(Phrase::bold).collect::<Vec<_>>();
    let plain = |all: &[String]| all.iter().map(Phrase::plain).collect::<Vec<_>>();
    let full = (bold(label.heads()), plain(&label.parts));
    let short = (bold(label.short_heads()), plain(&label.short));
    let least = (bold(label.short_heads()), plain(&label.least));
    let tries = [
        (&full, Code::Printed),
        (&short, Code::Printed),
        (&full, Code::LeftOut),
        (&short, Code::LeftOut),
        (&least, Code::Printed),
        (&least, Code::LeftOut),
    ];
    tries.into_iter().find_map(|((heads, parts), code)| {
        best(area, code, |way| arranged(label, heads, parts, way))
    })
}

/// The best arrangement of those that are set.
pub(super) fn best(
    area: Rect,
    code: Code,
    set: impl Fn(&Arrangement) -> Option<(f64, Vec<Item>)>,
) -> Option<Vec<Item>> {
    let all = arrangements(area, code);
    // The first of those that are equally good, so that the labels of a sheet look alike.
    let better = |next: f64, best: f64| next.min(ENOUGH) > best.min(ENOUGH);
    let best = all
        .iter()
        .filter_map(set)
        .reduce(|best, next| if better(next.0, best.0) { next } else { best })?;
    Some(best.1)
}

/// Everything arranged in one way, and how good that is: the size of the smallest type, where small lines count for
/// more, since a name is read from further away.
fn arranged(
    label: &Label,
    heads: &[Phrase],
    parts: &[Phrase],
    way: &Arrangement,
) -> Option<(f64, Vec<Item>)> {
    let mut items = Vec::new();
    if let Some(area) = way.code {
        items.push(code(&label.strip, area)?);
    }
    let (place, head) = heading(label, way.head)?;
    let (name, strip) = strip(&label.strip, way.name)?;
    let (small, lines) = block(heads, parts, way.lines, SMALL)?;
    items.extend([head, strip, lines].concat());
    Some((place.min(name).min(small * 2.0), items))
}

/// The code with the strip's name.
pub(super) fn code(strip: &str, area: Rect) -> Option<Item> {
    let cells = qr::cells(strip, (area.x, area.y), area.w)?;
    let cells = Shape::filled(Outline::Cells(cells), BLACK);
    Some(Item::Group(Group::of("code", vec![cells])))
}

/// The side mark, course and piece, and the size of the type.
fn heading(label: &Label, area: Rect) -> Option<(f64, Vec<Item>)> {
    let high = area.h.min(area.w * 0.4);
    let wide = high * WIDE;
    let middle = area.y + area.h / 2.0;
    let from = area.x + wide + GAP;
    let size = size_for(&label.place, Weight::Bold, high * 1.15, area.right() - from)?;
    let at = (from, middle + size * CAPITAL / 2.0);
    let items = vec![
        mark(label.side, (area.x + wide / 2.0, middle), high * 0.96),
        Text::new(&*label.place, at, size, BLACK).bold().into(),
    ];
    Some((size, items))
}

/// The strip's name, as large as it fits, and its size.
pub(super) fn strip(name: &str, area: Rect) -> Option<(f64, Vec<Item>)> {
    let size = size_for(name, Weight::Bold, area.h * 1.1, area.w)?;
    let base = area.y + (area.h + size * CAPITAL) / 2.0;
    let name = Text::new(name, (area.x, base), size, BLACK).bold();
    let group = Item::Group(Group::of("strip", vec![name.into()]));
    Some((size, vec![group]))
}
