//! What a change in the making makes of the rack: courses whose own cuts don't count any more, and stretches of strip
//! that are taken besides.

use super::problem::Span;
use super::timber::Part;
use smallvec::SmallVec;

/// Courses that are laid anew, and what is cut for them instead.
///
/// A long run of courses claims some hundred stretches, and the rack asks about every strip that it looks at: so a
/// strip that is not claimed at all is told at a glance.
#[derive(Clone, Debug)]
pub struct Claims {
    /// A bit for each course, set where it is lifted.
    lifted: SmallVec<[u64; 8]>,
    /// By strip.
    taken: SmallVec<[(u32, Span); 16]>,
    /// A bit for each strip by its number's last bits, set where some such strip is taken from.
    marks: [u64; 4],
}

impl Claims {
    /// None, on a boat of so many courses.
    pub fn none(courses: usize) -> Claims {
        Claims {
            lifted: SmallVec::from_elem(0, courses.div_ceil(64)),
            taken: SmallVec::new(),
            marks: [0; 4],
        }
    }

    /// From now on the cuts of a course don't count.
    pub fn lift(&mut self, row: usize) {
        self.lifted[row / 64] |= 1 << (row % 64);
    }

    /// Whether the cuts of a course don't count.
    pub fn has_lifted(&self, row: usize) -> bool {
        self.lifted[row / 64] & (1 << (row % 64)) != 0
    }

    /// Takes what a part is cut from.
    pub fn take(&mut self, part: &Part) {
        for (strip, span) in part.takes() {
            let (word, bit) = mark(strip);
            self.marks[word] |= bit;
            self.taken.push((strip, span));
        }
    }

    /// How many stretches are taken.
    pub fn count(&self) -> usize {
        self.taken.len()
    }

    /// Gives back all stretches but the first so many.
    pub fn give_back(&mut self, count: usize) {
        // A mark that stays costs a look and nothing else.
        self.taken.truncate(count);
    }

    /// The stretches taken from a strip.
    pub fn on(&self, strip: u32) -> impl Iterator<Item = Span> + '_ {
        let (word, bit) = mark(strip);
        let taken: &[_] = match self.marks[word] & bit {
            0 => &[],
            _ => &self.taken[..],
        };
        let on = taken.iter().filter(move |(other, _)| *other == strip);
        on.map(|&(_, span)| span)
    }
}

fn mark(strip: u32) -> (usize, u64) {
    (strip as usize / 64 % 4, 1 << (strip % 64))
}
