//! Pairs of one board laid end to end like a ribbon, from which one course after the other is cut.

use super::super::problem::Problem;
use super::super::rack::{Room, common};
use super::super::timber::{Part, Timber, joints};

/// The end of a course that its cutting begins from.
#[derive(Clone, Copy, PartialEq, Eq)]
enum From {
    Bow,
    Stern,
}

/// How far the ribbon is cut.
#[derive(Clone, Copy)]
struct Reached {
    pair: usize,
    /// Which stretch of the pair, of those without defects.
    stretch: usize,
    /// How much of it is cut already. Unit: nm.
    used: i64,
}

/// The pairs of a board in the order in which they are taken.
pub struct Ribbon<'a> {
    problem: &'a Problem,
    pairs: &'a [[u32; 2]],
    rooms: Vec<Room>,
    thrifty: bool,
    reached: Reached,
}

impl<'a> Ribbon<'a> {
    /// The whole ribbon. With `thrifty`, what is left of a pair goes on the next course.
    pub fn new(problem: &'a Problem, pairs: &'a [[u32; 2]], thrifty: bool) -> Ribbon<'a> {
        let clear = |strip: u32| &problem.woods[strip as usize].clear;
        let room = |pair: &[u32; 2]| common(clear(pair[0]), clear(pair[1]));
        Ribbon {
            problem,
            pairs,
            rooms: pairs.iter().map(room).collect(),
            thrifty,
            reached: Reached {
                pair: 0,
                stretch: 0,
                used: 0,
            },
        }
    }

    /// How many pairs are passed.
    pub fn begun(&self) -> usize {
        self.reached.pair
    }

    /// Cuts a course, from the bow or, where that can't be, from the stern; `None` where the ribbon is too short. `near` is what lies on the
    /// courses whose joints must be kept clear of.
    pub fn cover(&mut self, row: usize, near: &[&Timber]) -> Option<Timber> {
        let begun = self.reached;
        [From::Bow, From::Stern].into_iter().find_map(|end| {
            self.reached = begun;
            self.cut(row, near, end)
        })
    }

    fn cut(&mut self, row: usize, near: &[&Timber], end: From) -> Option<Timber> {
        let problem = self.problem;
        let r = &problem.rows[row];
        let (half, length) = (problem.half_scarf, r.length);
        let (here, there) = match end {
            From::Bow => (r.allow[0], r.allow[1]),
            From::Stern => (r.allow[1], r.allow[0]),
        };
        let mut timber = Timber::new();
        let mut at = 0;
        while let Some(room) = self.rooms.get(self.reached.pair) {
            let Some(&(a, b)) = room.get(self.reached.stretch) else {
                self.pass_pair();
                continue;
            };
            let begin = a + self.reached.used;
            let left = b - begin;
            let lead = if at == 0 { here } else { half };
            let need = length - at + lead + there;
            if left >= need && (at == 0 || length - at >= problem.shortest) {
                timber.push(self.part(row, begin, (at, length), end));
                self.reached.used += need + problem.saw;
                if !self.thrifty {
                    self.pass_pair();
                } else if left - need < problem.saw + problem.shortest {
                    self.pass();
                }
                if end == From::Stern {
                    timber.reverse();
                }
                return Some(timber);
            }
            let most = (at + left - lead - half).min(length - problem.shortest);
            if timber.len() < problem.most
                && let Some(joint) = self.joint(row, near, end, at + problem.shortest, most)
            {
                timber.push(self.part(row, begin, (at, joint), end));
                at = joint;
            }
            self.pass();
        }
        None
    }

    fn part(&self, row: usize, cut: i64, (from, to): (i64, i64), end: From) -> Part {
        let length = self.problem.rows[row].length;
        let (from, to) = match end {
            From::Bow => (from, to),
            From::Stern => (length - to, length - from),
        };
        Part {
            wood: self.pairs[self.reached.pair],
            cut: [cut; 2],
            ..Part::between(self.problem, row, from, to)
        }
    }

    fn pass(&mut self) {
        self.reached.stretch += 1;
        self.reached.used = 0;
    }

    fn pass_pair(&mut self) {
        self.reached = Reached {
            pair: self.reached.pair + 1,
            stretch: 0,
            used: 0,
        };
    }

    /// The furthest place for a joint between two places, all counted from the end that is cut from. Unit: nm of skin.
    fn joint(&self, row: usize, near: &[&Timber], end: From, least: i64, most: i64) -> Option<i64> {
        let r = &self.problem.rows[row];
        let clear = self.problem.clear;
        let turn = |s: i64| match end {
            From::Bow => s,
            From::Stern => r.length - s,
        };
        let in_window = |&(a, b): &(i64, i64)| {
            let (a, b) = (turn(a).min(turn(b)), turn(a).max(turn(b)));
            let mut s = most.min(b);
            while s >= a.max(least) {
                let x = r.x(turn(s));
                let mut others = near.iter().flat_map(|timber| joints(timber));
                match others.find(|other| (other - x).abs() < clear - 1e-6) {
                    None => return Some(s),
                    Some(other) => {
                        let beside = match end {
                            From::Bow => r.s(other - clear),
                            From::Stern => r.s(other + clear),
                        };
                        s = (s - STEP).min(turn(beside));
                    }
                }
            }
            None
        };
        r.joint_windows.iter().filter_map(in_window).max()
    }
}

/// The least by which a joint moves on that another is in the way of. Unit: nm.
const STEP: i64 = 1000;
