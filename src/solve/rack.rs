//! What is cut from each strip, and where there is room left.

use super::problem::{NONE, Problem};
use super::timber::Part;
use smallvec::SmallVec;

/// A stretch of a strip that is taken.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Taken {
    from: i64,
    to: i64,
    row: u32,
    /// Whether it is on the boat already, and never comes back.
    glued: bool,
}

/// Stretches of a strip with room for a piece, in order. Unit: nm from the marked end.
pub type Room = SmallVec<[(i64, i64); 4]>;

/// Every strip with what is cut from it.
#[derive(Clone, Debug)]
pub struct Rack {
    taken: Vec<SmallVec<[Taken; 2]>>,
    used: usize,
}

impl Rack {
    /// The rack as it is before anything is decided: strips whole, but for what is glued on already.
    pub fn before(problem: &Problem) -> Rack {
        let mut rack = Rack {
            taken: vec![SmallVec::new(); problem.woods.len()],
            used: 0,
        };
        for (row, here) in problem.glued.iter().enumerate() {
            for glued in here {
                for fixed in glued.sides.iter().flatten() {
                    let taken = Taken {
                        from: fixed.cut,
                        to: fixed.cut + glued.length(),
                        row: row as u32,
                        glued: true,
                    };
                    rack.take(fixed.strip, taken);
                }
            }
        }
        rack
    }

    fn take(&mut self, strip: u32, taken: Taken) {
        let list = &mut self.taken[strip as usize];
        self.used += usize::from(list.is_empty());
        let after = list.iter().position(|t| t.from > taken.from);
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

    /// How many pieces are cut from a strip for other courses than the given ones.
    pub fn pieces_beside(&self, strip: u32, rows: &[usize]) -> usize {
        self.taken[strip as usize]
            .iter()
            .filter(|t| t.glued || !rows.contains(&(t.row as usize)))
            .count()
    }

    /// The courses that a strip serves.
    pub fn serves(&self, strip: u32) -> impl Iterator<Item = usize> + '_ {
        self.taken[strip as usize].iter().map(|t| t.row as usize)
    }

    /// Cuts a part of a course from its strips. The caller has made sure of the room.
    pub fn cut(&mut self, row: usize, part: &Part) {
        for side in part.loose_sides() {
            let (from, to) = part.span(side);
            let taken = Taken {
                from,
                to,
                row: row as u32,
                glued: false,
            };
            self.take(part.wood[side], taken);
        }
    }

    /// Puts a part of a course back as if it had never been cut.
    pub fn put_back(&mut self, row: usize, part: &Part) {
        for side in part.loose_sides() {
            let (from, _) = part.span(side);
            let list = &mut self.taken[part.wood[side] as usize];
            if let Some(at) = list
                .iter()
                .position(|t| t.from == from && t.row as usize == row && !t.glued)
            {
                list.remove(at);
                self.used -= usize::from(list.is_empty());
            }
        }
    }

    /// Room on one strip, as if the given courses were open, and with some stretches taken besides.
    pub fn room(
        &self,
        problem: &Problem,
        strip: u32,
        open: &[usize],
        besides: &[(u32, i64, i64)],
    ) -> Room {
        let mut room: Room = problem.woods[strip as usize]
            .clear
            .iter()
            .copied()
            .collect();
        for t in &self.taken[strip as usize] {
            if t.glued || !open.contains(&(t.row as usize)) {
                take(&mut room, t.from - problem.saw, t.to + problem.saw);
            }
        }
        for &(other, from, to) in besides {
            if other == strip {
                take(&mut room, from - problem.saw, to + problem.saw);
            }
        }
        room
    }

    /// Room on both strips at the same place, for a book-matched pair; on the one strip where there is no second.
    pub fn room_on_both(
        &self,
        problem: &Problem,
        wood: [u32; 2],
        open: &[usize],
        besides: &[(u32, i64, i64)],
    ) -> Room {
        let one = self.room(problem, wood[0], open, besides);
        if wood[1] == NONE {
            return one;
        }
        let other = self.room(problem, wood[1], open, besides);
        let mut both = Room::new();
        for &(a, b) in &one {
            for &(c, d) in &other {
                if a.max(c) < b.min(d) {
                    both.push((a.max(c), b.min(d)));
                }
            }
        }
        both
    }
}

/// Takes a stretch out of the room there is.
fn take(room: &mut Room, from: i64, to: i64) {
    let mut left = Room::new();
    for &(a, b) in room.iter() {
        if to <= a || b <= from {
            left.push((a, b));
            continue;
        }
        if a < from {
            left.push((a, from));
        }
        if to < b {
            left.push((to, b));
        }
    }
    *room = left;
}

/// The longest stretch of some room. Unit: nm.
pub fn longest(room: &[(i64, i64)]) -> i64 {
    room.iter().map(|(a, b)| b - a).max().unwrap_or(0)
}
