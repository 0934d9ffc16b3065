//! What is cut from each strip, and where there is room left.

use super::claims::Claims;
use super::problem::{NONE, Problem, Span};
use super::timber::Part;
use crate::units::Length;
use smallvec::SmallVec;

/// A stretch of a strip that is taken.
#[derive(Clone, Copy, Debug)]
struct Taken {
    span: Span,
    row: u32,
    /// Whether it is on the boat already, and never comes back.
    glued: bool,
}

/// Stretches of a strip with room for a piece, in order, from the marked end.
pub type Room = SmallVec<[Span; 4]>;

/// Every strip with what is cut from it.
#[derive(Clone, Debug)]
pub struct Rack {
    taken: Vec<SmallVec<[Taken; 2]>>,
    /// What is left of each strip: asked for far more often than a piece is cut.
    rooms: Vec<Room>,
    used: usize,
}

impl Rack {
    /// The rack as it is before anything is decided: strips whole, but for what is glued on already.
    pub fn before(problem: &Problem) -> Rack {
        let mut rack = Rack {
            taken: vec![SmallVec::new(); problem.woods.len()],
            rooms: { problem.woods.iter() }
                .map(|wood| Room::from_slice(&wood.clear))
                .collect(),
            used: 0,
        };
        for (row, here) in problem.glued.iter().enumerate() {
            for glued in here {
                for fixed in glued.sides.iter().flatten() {
                    let taken = Taken {
                        span: (fixed.cut, fixed.cut + glued.length()),
                        row: row as u32,
                        glued: true,
                    };
                    rack.take(problem, fixed.strip, taken);
                }
            }
        }
        rack
    }

    fn take(&mut self, problem: &Problem, strip: u32, taken: Taken) {
        take_out(&mut self.rooms[strip as usize], problem, taken.span);
        let list = &mut self.taken[strip as usize];
        self.used += usize::from(list.is_empty());
        let after = list.iter().position(|t| t.span.0 > taken.span.0);
        list.insert(after.unwrap_or(list.len()), taken);
    }

    /// How many strips are cut into.
    pub fn used(&self) -> usize {
        self.used
    }

    /// Whether a strip is still whole.
    pub fn is_whole(&self, strip: u32) -> bool {
        self.taken[strip as usize].is_empty()
    }

    /// How many pieces are cut from a strip.
    pub fn pieces(&self, strip: u32) -> usize {
        self.taken[strip as usize].len()
    }

    /// Whether a strip would be whole, with what is claimed of it.
    pub fn is_whole_beside(&self, strip: u32, claims: &Claims) -> bool {
        let comes_back = |t: &Taken| !t.glued && claims.has_lifted(t.row as usize);
        self.taken[strip as usize].iter().all(comes_back) && claims.on(strip).next().is_none()
    }

    /// The courses that a strip serves.
    pub fn serves(&self, strip: u32) -> impl Iterator<Item = usize> + '_ {
        self.taken[strip as usize].iter().map(|t| t.row as usize)
    }

    /// Cuts a part of a course from its strips. The caller has made sure of the room.
    pub fn cut(&mut self, problem: &Problem, row: usize, part: &Part) {
        for side in part.loose_sides() {
            let taken = Taken {
                span: part.span(side),
                row: row as u32,
                glued: false,
            };
            self.take(problem, part.wood[side], taken);
        }
    }

    /// Puts a part of a course back as if it had never been cut.
    pub fn put_back(&mut self, problem: &Problem, row: usize, part: &Part) {
        for side in part.loose_sides() {
            let (from, _) = part.span(side);
            let strip = part.wood[side];
            let list = &mut self.taken[strip as usize];
            if let Some(at) = list
                .iter()
                .position(|t| t.span.0 == from && t.row as usize == row && !t.glued)
            {
                list.remove(at);
                self.used -= usize::from(list.is_empty());
                self.rooms[strip as usize] = self.without(problem, strip, |_| false);
            }
        }
    }

    /// Room on one strip, as if the given courses were open, and with some stretches taken besides.
    pub fn room(
        &self,
        problem: &Problem,
        strip: u32,
        open: &[usize],
        besides: &[(u32, Span)],
    ) -> Room {
        let besides = besides.iter().filter(|(other, _)| *other == strip);
        let besides = besides.map(|&(_, span)| span);
        self.left(problem, strip, |row| open.contains(&row), besides)
    }

    /// Room on both strips at the same place, for a book-matched pair; on the one strip where there is no second.
    pub fn room_on_both(
        &self,
        problem: &Problem,
        wood: [u32; 2],
        open: &[usize],
        besides: &[(u32, Span)],
    ) -> Room {
        let one = self.room(problem, wood[0], open, besides);
        match wood[1] {
            NONE => one,
            mate => common(&one, &self.room(problem, mate, open, besides)),
        }
    }

    /// Room on one strip, with what is claimed of it.
    pub fn room_beside(&self, problem: &Problem, strip: u32, claims: &Claims) -> Room {
        let is_open = |row: usize| claims.has_lifted(row);
        self.left(problem, strip, is_open, claims.on(strip))
    }

    fn left(
        &self,
        problem: &Problem,
        strip: u32,
        is_open: impl Fn(usize) -> bool,
        besides: impl Iterator<Item = Span>,
    ) -> Room {
        let comes_back = |t: &Taken| !t.glued && is_open(t.row as usize);
        let mut room = match self.taken[strip as usize].iter().any(comes_back) {
            true => self.without(problem, strip, comes_back),
            false => Room::from_slice(&self.rooms[strip as usize]),
        };
        besides.for_each(|span| take_out(&mut room, problem, span));
        room
    }

    /// Room on one strip without what comes back.
    fn without(&self, problem: &Problem, strip: u32, comes_back: impl Fn(&Taken) -> bool) -> Room {
        let mut room = Room::from_slice(&problem.woods[strip as usize].clear);
        let taken = self.taken[strip as usize].iter();
        let stays = taken.filter(|t| !comes_back(t));
        stays.for_each(|t| take_out(&mut room, problem, t.span));
        room
    }
}

/// The room that two strips have at the same place, for a book-matched pair.
pub fn common(one: &[Span], other: &[Span]) -> Room {
    let mut both = Room::new();
    for &(a, b) in one {
        for &(c, d) in other {
            if a.max(c) < b.min(d) {
                both.push((a.max(c), b.min(d)));
            }
        }
    }
    both
}

/// Takes a piece out of the room there is, and what the saw takes on either side of it.
fn take_out(room: &mut Room, problem: &Problem, (from, to): Span) {
    let (from, to) = (from - problem.saw, to + problem.saw);
    let mut i = 0;
    while let Some(&(a, b)) = room.get(i) {
        if to <= a || b <= from {
            i += 1;
            continue;
        }
        match (a < from, to < b) {
            (true, true) => {
                room[i].1 = from;
                room.insert(i + 1, (to, b));
                i += 2;
            }
            (true, false) => {
                room[i].1 = from;
                i += 1;
            }
            (false, true) => {
                room[i].0 = to;
                i += 1;
            }
            (false, false) => {
                room.remove(i);
            }
        }
    }
}

/// Whether a stretch lies in some room.
pub fn has_room(room: &[Span], (from, to): Span) -> bool {
    room.iter().any(|(a, b)| *a <= from && to <= *b)
}

/// The longest stretch of some room.
pub fn longest(room: &[Span]) -> Length {
    room.iter().map(|&(a, b)| b - a).max().unwrap_or_default()
}
