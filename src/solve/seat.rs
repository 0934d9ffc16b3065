//! Where along its strips a part is cut, and which end goes to the bow: as near in register with its neighbours as the
//! room on the strips allows.

use super::claims::Claims;
use super::price::{self, Beside};
use super::problem::{Glued, Label, NONE, Problem, There};
use super::rack::{Rack, Room, common, has_room};
use super::relabel::{kept_by_ends, near};
use super::timber::{Lie, Part};
use crate::plan::BowEnd;
use crate::units::Length;
use smallvec::SmallVec;

/// The strips and places that a seat has to respect.
pub struct Seating<'a> {
    /// The problem.
    pub problem: &'a Problem,
    /// What is cut already.
    pub rack: &'a Rack,
    /// What is claimed of it besides, and what comes back to it.
    pub claims: &'a Claims,
}

impl Seating<'_> {
    /// Gives the part its strips, ends and cuts at the least cost in register and new labels; `None` where there is no
    /// room.
    ///
    /// `beside` is what lies along the seams of the course.
    pub fn seat(
        &self,
        row: usize,
        part: &Part,
        wood: [u32; 2],
        beside: &Beside<'_>,
    ) -> Option<Part> {
        let mut part = Part { wood, ..*part };
        if !self.problem.glued[row].is_empty() {
            let ends = part.nominal(self.problem, row);
            match self.problem.glued_between(row, ends) {
                There::InTheWay => return None,
                There::Just(glued) => return self.seat_on_glued(row, &part, glued, beside),
                There::Nothing => {}
            }
        }
        if !self.problem.allowed.wood(row, wood) {
            return None;
        }
        let ends = self.problem.bow_ends(row, wood);
        if wood[1] == NONE || self.problem.one_board(wood[0], wood[1]) {
            let room = match wood[1] {
                NONE => self.room(wood[0]),
                mate => common(&self.room(wood[0]), &self.room(mate)),
            };
            return self.best_cut(row, &part, &[0, 1], ends, &room, beside);
        }
        // Foster mates: each side has cuts and an end of its own.
        for (side, strip) in wood.into_iter().enumerate() {
            let room = self.room(strip);
            part = self.best_cut(row, &part, &[side], ends, &room, beside)?;
        }
        Some(part)
    }

    /// The same for a part of which one side, or both, are glued on.
    fn seat_on_glued(
        &self,
        row: usize,
        part: &Part,
        glued: &Glued,
        beside: &Beside<'_>,
    ) -> Option<Part> {
        let problem = self.problem;
        if !glued.agrees(part.wood) || (part.wood[1] != NONE) != problem.rows[row].mirrored {
            return None;
        }
        let mut part = part.as_glued(problem, row, glued);
        let (free, fixed) = match glued.sides {
            [Some(_), Some(_)] => return Some(part),
            [Some(_), None] if part.wood[1] == NONE => return Some(part),
            [Some(fixed), None] => (1, fixed),
            [None, Some(fixed)] => (0, fixed),
            [None, None] => return None,
        };
        if !problem.allowed.on(row, free, part.wood[free]) {
            return None;
        }
        let room = self.room(part.wood[free]);
        if !problem.one_board(part.wood[0], part.wood[1]) {
            let ends = problem.bow_ends(row, part.wood);
            return self.best_cut(row, &part, &[free], ends, &room, beside);
        }
        // A mate of one board opens like a book: its place on the strip, its end and its face follow.
        let opens = problem.opens(part.wood, 1 - free, &fixed);
        (part.bow[free], part.cut[free]) = (fixed.bow, fixed.cut);
        (opens && has_room(&room, part.span(free))).then_some(part)
    }

    fn room(&self, strip: u32) -> Room {
        self.rack.room_beside(self.problem, strip, self.claims)
    }

    fn best_cut(
        &self,
        row: usize,
        part: &Part,
        sides: &[usize],
        ends: &[BowEnd],
        room: &Room,
        beside: &Beside<'_>,
    ) -> Option<Part> {
        let length = part.length();
        let fitting = || room.iter().filter(|&&(a, b)| b - a >= length);
        let kin = price::kin(self.problem, part, sides, beside);
        let cut = |end: BowEnd, from: Length| {
            let mut cut = *part;
            for &side in sides {
                cut.bow[side] = end;
                cut.cut[side] = from;
            }
            cut
        };
        // Cut where it was, it keeps these.
        let labels: SmallVec<[&Label; 2]> =
            kept_by_ends(self.problem, row, part.wood, (part.from, part.to))
                .filter(|label| sides.contains(&label.side))
                .collect();
        if kin.is_empty() && labels.is_empty() {
            // In register with nothing, and with no label to keep: flush with the first end of room.
            return Some(cut(*ends.first()?, fitting().next()?.0));
        }
        let mut best: Option<(f64, BowEnd, Length)> = None;
        for &end in ends {
            for &(a, b) in fitting() {
                let mut attempt = |from: Length| {
                    let lie = (end, part.register_of(end, from));
                    let sides = sides.iter().filter(|&&side| part.wood[side] != NONE);
                    let shift: f64 = sides
                        .map(|&side| price::shift(self.problem, side, lie, &kin))
                        .sum();
                    let kept = labels
                        .iter()
                        .filter(|label| label.bow == end && near(label.cut.0, from));
                    let cost = shift - self.problem.weights.relabel * kept.count() as f64;
                    // The first of equals wins: flush with an end of the room comes first and wastes least.
                    if best.is_none_or(|(least, ..)| cost < least - 1e-12) {
                        best = Some((cost, end, from));
                    }
                };
                attempt(a);
                for label in labels.iter().filter(|label| label.bow == end) {
                    if a <= label.cut.0 && label.cut.0 + length <= b {
                        attempt(label.cut.0);
                    }
                }
                if b - a > length {
                    attempt(b - length);
                    for kin in &kin {
                        if kin.leads && kin.lie.0 == end {
                            attempt(in_register(part, kin.lie).clamp(a, b - length));
                        }
                    }
                }
            }
        }
        best.map(|(_, end, from)| cut(end, from))
    }
}

/// Where the part would have to be cut for its figure to lie so.
pub fn in_register(part: &Part, (end, register): Lie) -> Length {
    Length::from_mm(match end {
        BowEnd::Mark => part.x_tip - register,
        BowEnd::Plain => register - part.x_tip - part.length().mm(),
    })
}
