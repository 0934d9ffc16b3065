//! What a path remembers of short courses board by board: which of them each board serves, and so how many slices it
//! needs for them at least.

use super::labelling::Direction;
use super::layers::{Layer, LayeredGraph};
use super::pairs::Pair;
use super::sharing::Sharing;
use crate::solve::tuning::shorts::MOST_COURSES;

/// Most boards that serve some: two for each course.
const MOST_BOARDS: usize = 2 * MOST_COURSES;

/// Boards that serve short courses, in order, each with those that it serves: a bit for each course where it serves a
/// side, and one where it serves both. A board and its courses make one number.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct ShortUse([u32; MOST_BOARDS]);

impl ShortUse {
    /// No board serves any.
    pub const NOTHING: ShortUse = ShortUse([u32::MAX; MOST_BOARDS]);

    /// Each board that serves some, and its courses.
    fn each(&self) -> impl Iterator<Item = (u32, usize)> + '_ {
        let used = self.0.iter().take_while(|one| **one != u32::MAX);
        used.map(|one| (one >> 16, (one & 0xffff) as usize))
    }

    /// The courses of a board that serves some.
    fn of(&self, board: u32) -> Option<usize> {
        self.each().find(|one| one.0 == board).map(|one| one.1)
    }

    /// Of boards with their courses, in any order.
    fn from_each(each: impl Iterator<Item = (u32, usize)>) -> ShortUse {
        let mut used = ShortUse::NOTHING;
        let mut count = 0;
        for (place, (board, courses)) in used.0.iter_mut().zip(each) {
            *place = board << 16 | courses as u32;
            count += 1;
        }
        used.0[..count].sort_unstable();
        used
    }
}

/// The short courses of a graph.
pub struct Shorts {
    /// By layer.
    short: Vec<bool>,
    /// By layer, how many of them come before it.
    before: Vec<usize>,
    /// The way in which they come first.
    pub first: Direction,
    /// By courses, two bits for each as in [`ShortUse`]: how many strips they need at least.
    strips: Vec<u32>,
    /// Whether every long course needs a strip for itself.
    pub apart: bool,
}

impl Shorts {
    /// The short courses of a graph.
    pub fn of(sharing: &Sharing, graph: &LayeredGraph) -> Shorts {
        let short: Vec<bool> = graph.layers.iter().map(|layer| !layer.long).collect();
        let before = |l: usize| short[..l].iter().filter(|short| **short).count();
        Shorts {
            first: match short.last() {
                Some(true) => Direction::Up,
                _ => Direction::Down,
            },
            before: (0..short.len()).map(before).collect(),
            strips: strips(sharing, graph),
            apart: sharing.apart,
            short,
        }
    }

    /// Whether a layer is a short course.
    pub fn is_short(&self, layer: usize) -> bool {
        self.short[layer]
    }

    /// How many short courses there are.
    pub fn count(&self) -> usize {
        self.short.iter().filter(|short| **short).count()
    }

    /// Whether they are the last courses of a graph or the first, and all ways to lay them can be gone through.
    pub fn are_tail(&self) -> bool {
        let count = self.count();
        let (from, to) = match self.first {
            Direction::Down => (0, count),
            Direction::Up => (self.short.len() - count, self.short.len()),
        };
        let together = self.short[from..to].iter().all(|short| *short);
        let few = (1..=MOST_COURSES).contains(&count);
        self.apart && few && together && count < self.short.len()
    }

    /// How many strips of a board the courses that it serves need at least; nothing where long courses could be cut
    /// from the same.
    pub fn strips_for(&self, used: &ShortUse, board: usize) -> u32 {
        match used.of(board as u32) {
            Some(courses) if self.apart => self.strips[courses],
            _ => 0,
        }
    }

    /// What boards serve once a pair serves a layer too.
    pub fn with(&self, used: &ShortUse, pair: &Pair, layer: usize) -> ShortUse {
        let side = 1 << self.before[layer];
        let others = used
            .each()
            .filter(|one| !pair.sides.contains(&(one.0 as usize)));
        let [a, b] = pair.sides;
        let new = match a == b {
            true => [Some((a, side | side << MOST_COURSES)), None],
            false => [Some((a, side)), Some((b, side))],
        };
        let with = new.into_iter().flatten().map(|(board, new)| {
            let board = board as u32;
            (board, new | used.of(board).unwrap_or(0))
        });
        ShortUse::from_each(others.chain(with))
    }
}

/// By short courses, how many strips they need at least: no two of a course are cut from one.
fn strips(sharing: &Sharing, graph: &LayeredGraph) -> Vec<u32> {
    let short: Vec<&Layer> = graph.layers.iter().filter(|layer| !layer.long).collect();
    if short.len() > MOST_COURSES {
        return Vec::new();
    }
    let needed = |sides: usize| {
        let on = |course: usize| {
            let sides = [sides >> course & 1, sides >> (course + MOST_COURSES) & 1];
            (sides[0] + sides[1]).min(short[course].sides as usize) as u32
        };
        let most = (0..short.len()).map(on).max().unwrap_or(0);
        let by = |parts: &Vec<Vec<f64>>| {
            let least = |course: usize| {
                let parts = parts[short[course].row].iter().copied();
                f64::from(on(course)) * parts.fold(1.0, f64::min)
            };
            let all: f64 = (0..short.len()).map(least).sum();
            (all - 1e-6).ceil().max(0.0) as u32
        };
        sharing.parts().iter().map(by).max().unwrap_or(0).max(most)
    };
    (0..1 << (2 * MOST_COURSES)).map(needed).collect()
}
