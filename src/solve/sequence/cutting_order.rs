//! Pairs of one board laid end to end like a cutting, from which one course after the other is cut.

use super::super::problem::{Problem, Span};
use super::super::rack::{Room, common};
use super::super::timber::{Part, Timber, joints, swapped};
use crate::solve::tuning::sequence::STEP;
use crate::units::Length;

/// The end of a course that its cutting begins from.
#[derive(Clone, Copy, PartialEq, Eq)]
enum From {
    Bow,
    Stern,
}

/// How a cutting is used up.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Use {
    /// What is left of a pair is left over.
    Once,
    /// The same, and a pair that can't lay a course in one piece is passed by.
    InOnePiece,
    /// What is left of a pair goes on the next course.
    Thriftily,
    /// What is left of the pairs is laid on the way back, from the last of them to the first.
    ThereAndBack,
}

impl Use {
    /// All of them.
    pub const ALL: [Use; 4] = [
        Use::Once,
        Use::InOnePiece,
        Use::Thriftily,
        Use::ThereAndBack,
    ];
}

/// How far the cutting is cut.
#[derive(Clone)]
struct Reached {
    /// Where in the order of pairs.
    at: usize,
    /// Which stretch of the pair, of those without defects.
    stretch: usize,
    /// What is left of the pairs.
    rooms: Vec<Room>,
    /// Pairs that are cut into, as bits.
    begun: u64,
}

/// The pairs of a board in the order in which they are taken.
pub struct CuttingOrder<'a> {
    problem: &'a Problem,
    pairs: &'a [[u32; 2]],
    order: Vec<usize>,
    how: Use,
    reached: Reached,
}

impl<'a> CuttingOrder<'a> {
    /// The whole cutting. At most 64 pairs.
    pub fn new(problem: &'a Problem, pairs: &'a [[u32; 2]], how: Use) -> CuttingOrder<'a> {
        let clear = |strip: u32| &problem.woods[strip as usize].clear;
        let room = |pair: &[u32; 2]| common(clear(pair[0]), clear(pair[1]));
        let mut order: Vec<usize> = (0..pairs.len()).collect();
        if how == Use::ThereAndBack {
            order.extend((0..pairs.len()).rev());
        }
        CuttingOrder {
            problem,
            pairs,
            order,
            how,
            reached: Reached {
                at: 0,
                stretch: 0,
                rooms: pairs.iter().map(room).collect(),
                begun: 0,
            },
        }
    }

    /// How many pairs are cut into.
    pub fn begun(&self) -> u32 {
        self.reached.begun.count_ones()
    }

    /// Cuts a course, from the bow or, where that can't be, from the stern; `None` where the cutting is too short.
    /// `near` is what lies on the courses whose joints must be kept clear of.
    pub fn cover(&mut self, row: usize, near: &[&Timber]) -> Option<Timber> {
        let before = self.reached.clone();
        [From::Bow, From::Stern].into_iter().find_map(|end| {
            self.reached.clone_from(&before);
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
        let mut at = Length::ZERO;
        while let Some(&pair) = self.order.get(self.reached.at) {
            let wood = self.pairs[pair];
            let allowed = &problem.allowed;
            if !allowed.wood(row, wood) && !allowed.wood(row, swapped(wood)) {
                self.pass_pair();
                continue;
            }
            let Some(&(begin, b)) = self.reached.rooms[pair].get(self.reached.stretch) else {
                self.pass_pair();
                continue;
            };
            let left = b - begin;
            let lead = if at == Length::ZERO { here } else { half };
            let need = length - at + lead + there;
            if left >= need && (at == Length::ZERO || length - at >= problem.shortest) {
                timber.push(self.part(row, begin, (at, length), end));
                self.take(need);
                if self.how != Use::Thriftily {
                    self.pass_pair();
                } else if left - need < problem.saw + problem.shortest {
                    self.reached.stretch += 1;
                }
                if end == From::Stern {
                    timber.reverse();
                }
                return Some(timber);
            }
            let most = (at + left - lead - half).min(length - problem.shortest);
            if timber.len() < problem.most
                && self.how != Use::InOnePiece
                && let Some(joint) = self.joint(row, near, end, (at + problem.shortest, most))
            {
                timber.push(self.part(row, begin, (at, joint), end));
                self.take(left);
                at = joint;
            }
            self.reached.stretch += 1;
        }
        None
    }

    /// Takes so much off the stretch that is reached, and as much as the saw needs: where it ends, off the next as
    /// well.
    fn take(&mut self, length: Length) {
        let pair = self.order[self.reached.at];
        let room = &mut self.reached.rooms[pair][self.reached.stretch..];
        let upto = room[0].0 + length + self.problem.saw;
        for (begin, end) in room {
            *begin = upto.clamp(*begin, (*end).max(*begin));
        }
        self.reached.begun |= 1 << pair;
    }

    fn part(&self, row: usize, cut: Length, (from, to): Span, end: From) -> Part {
        let length = self.problem.rows[row].length;
        let ends = match end {
            From::Bow => (from, to),
            From::Stern => (length - to, length - from),
        };
        Part {
            wood: self.pairs[self.order[self.reached.at]],
            cut: [cut; 2],
            ..Part::between(self.problem, row, ends)
        }
    }

    fn pass_pair(&mut self) {
        self.reached.at += 1;
        self.reached.stretch = 0;
    }

    /// The furthest place for a joint between two places, all counted from the end that is cut from.
    fn joint(&self, row: usize, near: &[&Timber], end: From, (low, high): Span) -> Option<Length> {
        let r = &self.problem.rows[row];
        let clear = self.problem.clear;
        let turn = |s: Length| match end {
            From::Bow => s,
            From::Stern => r.length - s,
        };
        let in_window = |&(a, b): &Span| {
            let (a, b) = (turn(a).min(turn(b)), turn(a).max(turn(b)));
            let mut s = high.min(b);
            while s >= a.max(low) {
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
