//! Rule 3: cuts from one strip share no wood, leave room for the saw, stay within the strip and clear of its ends and
//! its defects; and a piece is as long as the place it fills.

use std::collections::BTreeMap;

use super::breach::{Breach, CoursePart, Wrong};
use super::rows::{Rows, shortfall};
use super::tolerance::{LENGTH, same};
use crate::plan::{BowEnd, Piece};
use crate::stock::StripId;
use crate::units::{Length, U};

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let mut found = Vec::new();
    let mut by_strip: BTreeMap<StripId, Vec<&Piece>> = BTreeMap::new();
    for piece in &rows.plan.pieces {
        sound(rows, piece, &mut found);
        // A piece without length takes no wood from another, and is told of already.
        if piece.cut_from < piece.cut_to {
            by_strip.entry(piece.strip).or_default().push(piece);
        }
    }
    for pieces in by_strip.values_mut() {
        pieces.sort_by_key(|piece| (piece.cut_from, piece.cut_to));
        apart(rows, pieces, &mut found);
    }
    found
}

/// What one piece can get wrong on its own.
fn sound(rows: &Rows, piece: &Piece, found: &mut Vec<Breach>) {
    let strip = rows.job.stock.strip(piece.strip);
    let mut wrong = |wrong: Wrong| found.push(rows.piece_breach(piece, wrong));
    if strip.cull {
        wrong(Wrong::Cull);
    }
    if piece.from >= piece.to || piece.cut_from >= piece.cut_to {
        wrong(Wrong::NoLength);
    }
    let (cut, placed) = (piece.cut_to - piece.cut_from, piece.to - piece.from);
    if !same(cut, placed) {
        wrong(Wrong::CutLength(cut - placed));
    }
    // What is glued on can't be moved away from an end or a knot any more.
    let (trim, clear) = match rows.is_laid(piece) {
        true => (Length::ZERO, Length::ZERO),
        false => (rows.job.rules.allow.end_trim, rows.job.rules.allow.defect),
    };
    let first = piece.cut_from.min(piece.cut_to) - U::ORIGIN;
    let last = U::at(strip.length) - piece.cut_from.max(piece.cut_to);
    for (end, inside) in [(BowEnd::Mark, first), (BowEnd::Plain, last)] {
        if let Some(by) = shortfall(inside, Length::ZERO) {
            wrong(Wrong::OffStrip { end, by });
        } else if let Some(by) = shortfall(inside, trim) {
            wrong(Wrong::InEnd { end, trim, by });
        }
    }
    for defect in &strip.defects {
        let by = (piece.cut_to - defect.from).min(defect.to - piece.cut_from);
        let (from, to) = (defect.from, defect.to);
        if by > LENGTH {
            wrong(Wrong::Defect { from, to, by });
        } else if by + clear > LENGTH {
            wrong(Wrong::NearDefect {
                from,
                to,
                clear,
                by: by + clear,
            });
        }
    }
}

/// What pieces of one strip, in order along it, can get wrong between them: each is held against the one before it
/// that reaches furthest.
fn apart(rows: &Rows, pieces: &[&Piece], found: &mut Vec<Breach>) {
    let saw = rows.job.rules.allow.saw;
    let mut furthest: Option<&Piece> = None;
    for piece in pieces {
        if let Some(other) = furthest {
            let between = piece.cut_from - other.cut_to;
            let part = CoursePart::Piece(other.number);
            let there = rows.place(other.course, Some(other.side), part);
            if shortfall(between, Length::ZERO).is_some() {
                let by = piece.cut_to.min(other.cut_to) - piece.cut_from;
                let other = there;
                found.push(rows.piece_breach(piece, Wrong::CutTwice { other, by }));
            } else if let Some(by) = shortfall(between, saw) {
                let other = there;
                found.push(rows.piece_breach(piece, Wrong::NoRoomForSaw { other, by }));
            }
        }
        if furthest.is_none_or(|other| piece.cut_to > other.cut_to) {
            furthest = Some(piece);
        }
    }
}
