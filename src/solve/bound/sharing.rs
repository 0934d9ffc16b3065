//! Which courses could be cut from one strip, and how much of a strip each of them takes.
//!
//! Courses of which no two fit on one strip are long: a strip serves one of them, and paths remember what these took.
//! The others are short. What they take is only priced, by constraints that hold for all courses cut from one strip
//! together. Each is a dual feasible function of the lengths (G. S. Lueker, "Bin packing with items uniformly
//! distributed over intervals [a,b]", FOCS 1983; J. Csirik and others for the thirds; citations from memory).

use crate::solve::problem::{Problem, Span};
use crate::solve::tuning::sharing::FEW;
use crate::units::Length;

/// How many constraints there are on the use of a strip.
const CONSTRAINTS: usize = 3;

/// What each course takes of each strip.
pub struct Sharing {
    /// By row, whether it is long.
    pub long: Vec<bool>,
    /// Whether any row is short.
    pub any_short: bool,
    /// Whether no long row leaves room for a short one.
    pub apart: bool,
    /// By strip, the length that there is for courses, each with the saw cut beside it.
    room: Vec<Length>,
    /// By row, the length that it needs of a strip.
    need: Vec<Length>,
    saw: Length,
    /// By constraint, row and strip. Of any courses that can be cut from a strip, the parts sum to 1 at most.
    parts: Vec<Vec<Vec<f64>>>,
}

impl Sharing {
    /// As the lengths of courses and strips allow.
    pub fn of(problem: &Problem) -> Sharing {
        let saw = problem.saw;
        let need: Vec<Length> = problem.rows.iter().map(|row| row.one_piece()).collect();
        let strips = 0..problem.woods.len();
        let clear = |strip: usize| &problem.woods[strip].clear[..];
        let mut order: Vec<usize> = (0..need.len()).collect();
        order.sort_by_key(|&row| std::cmp::Reverse(need[row]));
        // The longest rows of which no two fit: where two neighbours in the order don't, no longer ones do.
        let alone = |fit: &dyn Fn(Length, Length) -> bool| {
            let pairs = order.windows(2);
            let apart = pairs.take_while(|pair| !fit(need[pair[0]], need[pair[1]]));
            (apart.count() + 1).min(order.len())
        };
        let anywhere = |a: Length, b: Length| {
            strips
                .clone()
                .any(|strip| both_fit(clear(strip), saw, a, b))
        };
        // Of two courses the other one is meant: a course lies on the boat once.
        let shortest_beside = |row: usize| {
            let mut others = order.iter().rev().filter(|other| **other != row);
            others.next().map_or(Length::MOST, |&other| need[other])
        };
        let one_each = alone(&anywhere);
        let fills = |row: &&usize| !anywhere(need[**row], shortest_beside(**row));
        let filling = order[..one_each].iter().take_while(fills).count();
        // Where few are left, courses that fill a strip alone are told from those that leave room.
        let apart = order.len() - filling <= FEW;
        let mut long = vec![false; need.len()];
        let count = if apart { filling } else { one_each };
        order[..count].iter().for_each(|&row| long[row] = true);
        let room: Vec<Length> = strips
            .clone()
            .map(|strip| clear(strip).iter().map(|&(a, b)| b - a + saw).sum())
            .collect();
        let mut parts = vec![vec![vec![1.0; room.len()]; need.len()]; CONSTRAINTS];
        for strip in strips.clone() {
            let clear = clear(strip);
            let one_each = alone(&|a, b| both_fit(clear, saw, a, b));
            for (rank, &row) in order.iter().enumerate() {
                let fills = !both_fit(clear, saw, need[row], shortest_beside(row));
                let part = (need[row] + saw).nm() as f64 / (room[strip].nm() as f64).max(1.0);
                let [one, length, thirds] = match (fills, 3.0 * part) {
                    (true, _) => [1.0; CONSTRAINTS],
                    (_, thirds) => [
                        f64::from(u8::from(rank < one_each)),
                        part.min(1.0),
                        if thirds > 2.0 {
                            1.0
                        } else if thirds > 1.0 {
                            0.5
                        } else {
                            0.0
                        },
                    ],
                };
                parts[0][row][strip] = one;
                parts[1][row][strip] = length;
                parts[2][row][strip] = thirds;
            }
        }
        let any_short = long.contains(&false);
        if !any_short {
            parts.truncate(1);
        }
        Sharing {
            long,
            any_short,
            apart,
            room,
            need,
            saw,
            parts,
        }
    }

    /// What a row needs of a strip, with the saw cut beside it.
    pub fn need(&self, row: usize) -> Length {
        self.need[row] + self.saw
    }

    /// By strip, the length that there is for courses, each with the saw cut beside it.
    pub fn room(&self) -> &[Length] {
        &self.room
    }

    /// By constraint, row and strip, the part of the strip that the row takes.
    pub fn parts(&self) -> &[Vec<Vec<f64>>] {
        &self.parts
    }

    /// How much of a strip a row takes at least, of what is paid for each strip that is cut into.
    pub fn share(&self, row: usize, strip: u32) -> f64 {
        let constraint = usize::from(self.any_short);
        self.parts[constraint][row][strip as usize]
    }

    /// Whether all of some rows could be cut from a strip, for all that their lengths tell.
    pub fn fit(&self, rows: &[usize], strip: u32) -> bool {
        let length: Length = rows.iter().map(|&row| self.need[row] + self.saw).sum();
        length <= self.room[strip as usize]
    }

    /// Whether two rows could be cut from some strip.
    pub fn could_share(&self, one: usize, other: usize) -> bool {
        self.any_short && (0..self.room.len() as u32).any(|strip| self.fit(&[one, other], strip))
    }
}

/// Whether two courses of these lengths can be cut from what is clear of a strip.
fn both_fit(clear: &[Span], saw: Length, a: Length, b: Length) -> bool {
    let room = |length: Length| {
        let long = clear.iter().filter(|&&(from, to)| to - from >= length);
        long.count()
    };
    let side_by_side = room(a + saw + b) > 0;
    side_by_side || (room(a.max(b)) > 0 && room(a.min(b)) > 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::invented::{full_length, run_outs};

    #[test]
    fn a_course_shares_a_strip_with_another_and_never_with_itself() {
        let of = |parts: &[f64]| {
            let job = run_outs(full_length(6, 8, 1), parts);
            Sharing::of(&Problem::new(&job))
        };
        assert!(!of(&[0.4]).any_short);
        assert_eq!(of(&[0.4]).parts().len(), 1);
        assert_eq!(of(&[0.5, 0.4]).long, [true, true, true, true, false, false]);
    }
}
