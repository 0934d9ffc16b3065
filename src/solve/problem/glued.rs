//! What is glued on already, as the search sees it: parts of which one side or both are fixed.

use super::{NONE, Row, Span};
use crate::hull::Side;
use crate::job::Job;
use crate::plan::{BowEnd, Face, Piece};
use crate::units::Length;

/// A part of a course that is glued on, on one side or on both.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Glued {
    /// Its number from the bow, from 0.
    pub index: usize,
    /// Nominal ends on the skin: 0 and the course's length at its ends.
    pub nominal: Span,
    /// Its true ends on the skin.
    pub ends: Span,
    /// What is glued on port and on starboard.
    pub sides: [Option<Fixed>; 2],
}

/// What is glued on a stretch of a course.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum There<'g> {
    /// Nothing.
    Nothing,
    /// A part with just these ends.
    Just(&'g Glued),
    /// Something with other ends.
    InTheWay,
}

/// How one side of it lies.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Fixed {
    /// The strip.
    pub strip: u32,
    /// Which end points to the bow.
    pub bow: BowEnd,
    /// Where it is cut nearest its marked end.
    pub cut: Length,
    /// Which face is seen.
    pub face: Face,
}

impl Glued {
    /// Its length.
    pub fn length(&self) -> Length {
        self.ends.1 - self.ends.0
    }

    /// Whether this wood agrees with what is glued, and is not glued on both sides of itself.
    pub fn agrees(&self, wood: [u32; 2]) -> bool {
        wood[0] != wood[1]
            && self
                .sides
                .iter()
                .zip(wood)
                .all(|(fixed, strip)| fixed.is_none_or(|fixed| fixed.strip == strip))
    }

    /// Whether nothing of it is left to be decided.
    pub fn is_whole(&self, mirrored: bool) -> bool {
        self.sides[0].is_some() && (self.sides[1].is_some() || !mirrored)
    }

    /// The strips that are fixed; [`NONE`] where a side is not.
    pub fn strips(&self) -> [u32; 2] {
        self.sides
            .map(|fixed| fixed.map_or(NONE, |fixed| fixed.strip))
    }
}

/// What is glued on each course, from the bow aft.
pub fn glued(job: &Job, rows: &[Row], half_scarf: Length) -> Vec<Vec<Glued>> {
    let mut all: Vec<Vec<Glued>> = vec![Vec::new(); rows.len()];
    for piece in &job.laid {
        let (Some(here), Some(row)) = (all.get_mut(piece.course.0), rows.get(piece.course.0))
        else {
            continue;
        };
        let index = (piece.number as usize).saturating_sub(1);
        let side = usize::from(piece.side == Side::Starboard);
        match here.iter_mut().find(|glued| glued.index == index) {
            Some(glued) => glued.sides[side] = Some(fixed(piece)),
            None => {
                let mut sides = [None; 2];
                sides[side] = Some(fixed(piece));
                let ends = (piece.from.from_origin(), piece.to.from_origin());
                let from = match index {
                    0 => Length::ZERO,
                    _ => ends.0 + half_scarf,
                };
                let to = match ends.1 >= row.length {
                    true => row.length,
                    false => ends.1 - half_scarf,
                };
                here.push(Glued {
                    index,
                    nominal: (from, to),
                    ends,
                    sides,
                });
            }
        }
    }
    for here in &mut all {
        here.sort_by_key(|glued| glued.index);
    }
    all
}

fn fixed(piece: &Piece) -> Fixed {
    Fixed {
        strip: piece.strip.0 as u32,
        bow: piece.bow_end,
        cut: piece.cut_from.from_origin(),
        face: piece.face_out,
    }
}
