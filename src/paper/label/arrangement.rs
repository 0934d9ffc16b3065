//! Ways to arrange what is on a label: the first in which all type is large enough is taken, else the one in which the
//! smallest is largest.

use crate::draw::scene::Rect;

/// Between things on a label. Unit: mm.
pub const GAP: f64 = 1.0;

/// Where things stand.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Arrangement {
    /// The code, a square.
    pub code: Option<Rect>,
    /// Side mark, course and piece.
    pub head: Rect,
    /// The strip's name.
    pub name: Rect,
    /// Everything else.
    pub lines: Rect,
}

/// Whether there is a code on the label.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Code {
    /// In the upper right corner.
    Printed,
    /// Left out, where nothing else helps.
    LeftOut,
}

/// Every way that is worth trying on this area.
pub fn arrangements(area: Rect, code: Code) -> Vec<Arrangement> {
    let sides = match code {
        Code::LeftOut => vec![0.0],
        Code::Printed => vec![
            (area.h * 0.46).min(area.w * 0.36),
            (area.h * 0.6).min(area.w * 0.4),
            area.h.min(area.w * 0.3),
        ],
    };
    let ways = sides.into_iter().flat_map(|side| {
        let corner = Rect::between(area.right() - side, area.y, area.right(), area.y + side);
        let code = (side > 0.0).then_some(corner);
        let left = Rect {
            w: area.w - side,
            ..area
        };
        let mut ways = stacked(area, left, side, code);
        ways.push(in_a_row(left, code));
        ways.extend([0.3, 0.34, 0.38, 0.46].map(|part| side_by_side(left, part, code)));
        ways
    });
    ways.collect()
}

/// Mark and name one under the other beside the code, or the name under both; the lines below.
fn stacked(area: Rect, left: Rect, side: f64, code: Option<Rect>) -> Vec<Arrangement> {
    let high = if side > 0.0 { side } else { area.h * 0.45 };
    let beside = Rect { h: high, ..left };
    let below = |top: f64| Rect::between(area.x, top + GAP / 2.0, area.right(), area.bottom());
    let name = Rect {
        y: area.y + high,
        h: area.h * 0.17,
        ..area
    };
    vec![
        Arrangement {
            code,
            head: upper(beside, 0.55),
            name: lower(beside, 0.4),
            lines: below(beside.bottom()),
        },
        Arrangement {
            code,
            head: upper(beside, 0.8),
            name,
            lines: below(name.bottom()),
        },
    ]
}

/// Mark and name side by side, the lines below them.
fn in_a_row(left: Rect, code: Option<Rect>) -> Arrangement {
    let (row, lines) = (upper(left, 0.32), lower(left, 0.66));
    let (head, name) = split(row, row.w * 0.54);
    // Or course and strip would be read as one.
    let (_, name) = split(name, GAP);
    Arrangement {
        code,
        head,
        name,
        lines,
    }
}

/// Mark and name one under the other, the lines beside them.
fn side_by_side(left: Rect, part: f64, code: Option<Rect>) -> Arrangement {
    let (first, lines) = split(left, left.w * part);
    Arrangement {
        code,
        head: upper(first, 0.56),
        name: lower(first, 0.42),
        lines,
    }
}

/// The upper part of an area.
pub fn upper(area: Rect, part: f64) -> Rect {
    Rect {
        h: area.h * part,
        ..area
    }
}

/// The lower part of an area.
pub fn lower(area: Rect, part: f64) -> Rect {
    Rect {
        y: area.y + area.h * (1.0 - part),
        h: area.h * part,
        ..area
    }
}

/// So much of the area at its left, and the rest beyond a gap.
pub fn split(area: Rect, wide: f64) -> (Rect, Rect) {
    let left = Rect { w: wide, ..area };
    let from = area.x + wide + GAP;
    let rest = Rect::between(from, area.y, area.right().max(from), area.bottom());
    (left, rest)
}
