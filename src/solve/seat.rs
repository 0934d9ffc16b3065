//! Where along its strips a part is cut, and which end goes to the bow: as near in register with its neighbours as the
//! room on the strips allows.

use super::price::{self, Beside};
use super::problem::{Glued, NONE, Problem, There};
use super::rack::{Rack, Room};
use super::timber::Part;
use crate::plan::BowEnd;

/// The strips and places that a seat has to respect.
pub struct Seating<'a> {
    /// The problem.
    pub problem: &'a Problem,
    /// What is cut already.
    pub rack: &'a Rack,
    /// Courses whose own cuts don't count, because they are being laid anew.
    pub open: &'a [usize],
    /// Stretches taken besides: strip, from, to.
    pub besides: &'a [(u32, i64, i64)],
}

impl Seating<'_> {
    /// Gives the part its strips, ends and cuts at the least cost in register; `None` where there is no room.
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
            let (from, to) = part.nominal(self.problem, row);
            match self.problem.glued_between(row, from, to) {
                There::InTheWay => return None,
                There::Just(glued) => return self.seat_on_glued(row, &part, glued, beside),
                There::Nothing => {}
            }
        }
        let ends = self.problem.bow_ends(row, wood);
        if wood[1] == NONE || self.problem.one_board(wood[0], wood[1]) {
            let room = self
                .rack
                .room_on_both(self.problem, wood, self.open, self.besides);
            return self.best_cut(&part, &[0, 1], ends, &room, beside);
        }
        // Foster mates: each side has cuts and an end of its own.
        for (side, strip) in wood.into_iter().enumerate() {
            let room = self.rack.room(self.problem, strip, self.open, self.besides);
            part = self.best_cut(&part, &[side], ends, &room, beside)?;
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
        let room = self
            .rack
            .room(problem, part.wood[free], self.open, self.besides);
        if !problem.one_board(part.wood[0], part.wood[1]) {
            let ends = problem.bow_ends(row, part.wood);
            return self.best_cut(&part, &[free], ends, &room, beside);
        }
        // A mate of one board opens like a book: its place on the strip, its end and its face follow.
        let opens = problem.opens(part.wood, 1 - free, &fixed);
        (part.bow[free], part.cut[free]) = (fixed.bow, fixed.cut);
        let (from, to) = part.span(free);
        let fits = room.iter().any(|(a, b)| *a <= from && to <= *b);
        (opens && fits).then_some(part)
    }

    fn best_cut(
        &self,
        part: &Part,
        sides: &[usize],
        ends: &[BowEnd],
        room: &Room,
        beside: &Beside<'_>,
    ) -> Option<Part> {
        let length = part.length();
        let mut best: Option<(f64, Part)> = None;
        for &end in ends {
            for &(a, b) in room.iter().filter(|(a, b)| b - a >= length) {
                let mut attempt = |from: i64| {
                    let mut tried = *part;
                    for &side in sides {
                        tried.bow[side] = end;
                        tried.cut[side] = from;
                    }
                    let sides = sides.iter().filter(|&&side| part.wood[side] != NONE);
                    let cost: f64 = sides
                        .map(|&side| price::shift(self.problem, &tried, side, beside))
                        .sum();
                    // The first of equals wins: flush with an end of the room comes first and wastes least.
                    if best.as_ref().is_none_or(|(least, _)| cost < least - 1e-12) {
                        best = Some((cost, tried));
                    }
                };
                attempt(a);
                if b - a > length {
                    attempt(b - length);
                    for other in beside.iter().flat_map(|(_, others)| *others) {
                        for &side in sides {
                            if let Some(from) = in_register(self.problem, part, side, end, other) {
                                attempt(from.clamp(a, b - length));
                            }
                        }
                    }
                }
            }
        }
        best.map(|(_, part)| part)
    }
}

/// Where the part would have to be cut to be in register with its neighbour, if they can be at all.
fn in_register(
    problem: &Problem,
    part: &Part,
    side: usize,
    end: BowEnd,
    other: &Part,
) -> Option<i64> {
    if part.wood[side] == NONE || part.x_to <= other.x_from || other.x_to <= part.x_from {
        return None;
    }
    let &(_, facing) = price::meeting_sides(part.wood, other.wood)
        .iter()
        .find(|(mine, _)| *mine == side)?;
    if !problem.one_board(part.wood[side], other.wood[facing]) || other.bow[facing] != end {
        return None;
    }
    let register = other.register(facing);
    let from = match end {
        BowEnd::Mark => part.x_tip - register,
        BowEnd::Plain => register - part.x_tip - part.length() as f64 / 1e6,
    };
    Some((from * 1e6).round() as i64)
}
