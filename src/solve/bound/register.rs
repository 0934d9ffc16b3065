//! How far figure must be out of register where courses next to each other come from one board and share strips.
//!
//! What is cut from one strip can't lie at one place on it. So of two courses of one board that share a strip one is
//! cut further on, and their figure is out of register; and so may be others beside them, that share strips with a
//! third. The least that this costs is found by branch and bound, course by course. It branches on which of two courses
//! on a strip comes first, which end points to the bow, and whether figure is a metre out of register or more, which
//! costs the same however far. What is left is linear: places that differ by no more than so much, and figure that
//! costs by how far it is out of register (`tension`).

use super::tension::Tension;
use crate::solve::problem::{Problem, Span};
use crate::solve::timber::Part;
use crate::solve::tuning::tails::MOST_PLACINGS;
use crate::units::Length;
use rustc_hash::FxHashMap;

/// Where a course can be cut from its strips.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Cut {
    /// Between these places.
    pub room: Span,
    /// From this board.
    pub board: usize,
    /// The courses before it with which it shares a strip, a bit for each.
    pub apart_from: usize,
}

/// Between which places a strip is clear, defects aside.
pub fn room(problem: &Problem, strip: u32) -> Span {
    let clear = &problem.woods[strip as usize].clear;
    let from = clear.first().map_or(Length::ZERO, |one| one.0);
    (from, clear.last().map_or(from, |one| one.1))
}

/// What is known of courses one after another.
#[derive(Default)]
pub struct Patterns {
    /// By course, its length, and how far aft its bow and stern tips lie on the boat.
    courses: Vec<[Length; 3]>,
    /// By course, what a metre out of register costs on the seam with the one before it; nothing for the first.
    shift: Vec<f64>,
    saw: Length,
    known: FxHashMap<Vec<Option<Cut>>, f64>,
    /// How often places were found so far, to work all that out.
    pub placings: usize,
}

impl Patterns {
    /// Of courses by their rows, and what a metre costs on each seam between them.
    pub fn new(problem: &Problem, rows: &[usize], shift: Vec<f64>) -> Patterns {
        let course = |&row: &usize| {
            let part = Part::whole(problem, row);
            let tip = Length::from_mm(part.x_tip);
            [part.length(), tip, tip + part.length()]
        };
        Patterns {
            courses: rows.iter().map(course).collect(),
            shift: std::iter::once(0.0).chain(shift).collect(),
            saw: problem.saw,
            known: FxHashMap::default(),
            placings: 0,
        }
    }

    /// The least cost of the first courses, so cut; `None` for one that is cut from two boards. What is cut from one
    /// board makes no difference to what is cut from another.
    pub fn least(&mut self, cuts: &[Option<Cut>]) -> f64 {
        let mut sum = 0.0;
        for (k, cut) in cuts.iter().enumerate() {
            let Some(board) = cut.map(|cut| cut.board) else {
                continue;
            };
            let of_board = |cut: &&Option<Cut>| cut.is_some_and(|cut| cut.board == board);
            if cuts[..k].iter().any(|cut| of_board(&cut)) {
                continue;
            }
            // Which board it is makes no difference either.
            let own = |cut: &Option<Cut>| {
                cut.filter(|cut| cut.board == board)
                    .map(|cut| Cut { board: 0, ..cut })
            };
            sum += self.of_board(cuts.iter().map(own).collect());
        }
        sum
    }

    fn of_board(&mut self, cuts: Vec<Option<Cut>>) -> f64 {
        let cuts = self.that_matter(cuts);
        if cuts.iter().all(Option::is_none) {
            return 0.0;
        }
        if let Some(&known) = self.known.get(&cuts) {
            return known;
        }
        let (least, placings) = self.work_out(&cuts);
        self.placings += placings;
        self.known.insert(cuts, least);
        least
    }

    /// Only the cuts that figure out of register could depend on: of courses beside each other, and of all that share
    /// strips with those, at first or second hand.
    fn that_matter(&self, mut cuts: Vec<Option<Cut>>) -> Vec<Option<Cut>> {
        let mut matter = 0;
        for k in (1..cuts.len()).filter(|k| self.beside(&cuts, *k)) {
            matter |= 0b11 << (k - 1);
        }
        loop {
            let before = matter;
            for (k, cut) in cuts.iter().enumerate() {
                let all = cut.map_or(0, |cut| cut.apart_from | 1 << k);
                matter |= if all & matter == 0 { 0 } else { all };
            }
            if matter == before {
                break;
            }
        }
        for (k, cut) in cuts.iter_mut().enumerate() {
            *cut = cut.filter(|_| matter >> k & 1 == 1);
        }
        cuts
    }

    /// Whether a course lies beside the one before it, from one board, so that figure counts.
    fn beside(&self, cuts: &[Option<Cut>], k: usize) -> bool {
        let board = |k: usize| cuts.get(k).and_then(|cut| cut.map(|cut| cut.board));
        k > 0 && self.shift[k] > 0.0 && board(k).is_some() && board(k) == board(k - 1)
    }

    /// The least cost, or a little less where it takes too long; and how many placings that took.
    fn work_out(&self, cuts: &[Option<Cut>]) -> (f64, usize) {
        let mut search = Placing {
            patterns: self,
            cuts,
            best: f64::INFINITY,
            placings: 0,
        };
        search.place(0, &Tension::of(cuts.len() + 1), 0.0, 0.0, None);
        (search.best, search.placings)
    }
}

/// The search for the cheapest places.
struct Placing<'p> {
    patterns: &'p Patterns,
    cuts: &'p [Option<Cut>],
    best: f64,
    placings: usize,
}

impl Placing<'_> {
    /// Places the courses from `k` on. Those before cost `least` at least, of which `far` is for figure that is a metre
    /// out of register; `plain` tells which end of the one before points to the bow, where figure is to be in register
    /// with it.
    fn place(&mut self, k: usize, tension: &Tension, least: f64, far: f64, plain: Option<bool>) {
        if least >= self.best {
            return;
        }
        let Some(cut) = self.cuts.get(k) else {
            self.best = least;
            return;
        };
        let Some(cut) = cut else {
            return self.place(k + 1, tension, least, far, None);
        };
        if self.placings >= MOST_PLACINGS {
            // Courses yet to come cost no less than nothing.
            self.best = least;
            return;
        }
        let [length, bow, stern] = self.patterns.courses[k];
        let saw = self.patterns.saw;
        // Node 0 is the end of the strip.
        let here = k + 1;
        let mut tension = tension.clone();
        tension.at_most([0, here], cut.room.1 - length);
        tension.at_most([here, 0], -cut.room.0);
        // What is cut from two boards may lie anywhere, as far as is known here.
        let apart = |j: &usize| cut.apart_from >> j & 1 == 1 && self.cuts[*j].is_some();
        let others: Vec<usize> = (0..k).filter(apart).collect();
        let before = self.patterns.beside(self.cuts, k).then(|| {
            let [_, bow_before, stern_before] = self.patterns.courses[k - 1];
            [bow - bow_before, stern_before - stern]
        });
        // Whether it is in register with the one before, and by which end; and what it costs where it is not.
        let mut ways = vec![(None, before.map_or(0.0, |_| self.patterns.shift[k]))];
        if before.is_some() {
            let ends = [false, true].into_iter();
            ways.extend(
                ends.filter(|end| plain.is_none_or(|plain| plain == *end))
                    .map(|end| (Some(end), 0.0)),
            );
        }
        let mut next = Vec::new();
        for (end, more) in ways {
            for order in 0..1usize << others.len() {
                let mut tension = tension.clone();
                for (i, &j) in others.iter().enumerate() {
                    let (first, last, first_length) = match order >> i & 1 == 1 {
                        true => (here, j + 1, length),
                        false => (j + 1, here, self.patterns.courses[j][0]),
                    };
                    tension.at_most([last, first], -(first_length + saw));
                }
                if let (Some(end), Some(before)) = (end, before) {
                    tension.near([k, here], before[usize::from(end)], self.patterns.shift[k]);
                }
                self.placings += 1;
                if let Some(cost) = tension.solve() {
                    next.push((far + more + cost, far + more, end, tension));
                }
            }
        }
        next.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (least, far, end, tension) in next {
            self.place(k + 1, &tension, least, far, end);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64Mcg;

    const METRE: Length = Length::from_mm(1000.0);

    /// Where a course is cut, and whether its plain end points to the bow.
    type Lie = (Length, bool);

    /// Courses of these lengths, centred on the boat, whose seams cost as much as they are long.
    fn patterns(lengths: &[Length]) -> Patterns {
        let course = |&length: &Length| [length, METRE * 3 - length / 2, METRE * 3 + length / 2];
        let metres = lengths.iter().map(|length| length.metres());
        Patterns {
            courses: lengths.iter().map(course).collect(),
            shift: std::iter::once(0.0).chain(metres.skip(1)).collect(),
            saw: METRE / 1000,
            known: FxHashMap::default(),
            placings: 0,
        }
    }

    fn cut(board: usize, apart_from: usize) -> Option<Cut> {
        let room = (Length::ZERO, METRE * 5);
        Some(Cut {
            room,
            board,
            apart_from,
        })
    }

    #[test]
    fn courses_side_by_side_on_one_strip_are_out_of_register() {
        let mut both = patterns(&[METRE, METRE / 2]);
        assert_eq!(both.least(&[cut(0, 0), cut(0, 0)]), 0.0);
        assert_eq!(both.least(&[cut(0, 0), cut(1, 1)]), 0.0);
        // Its bow tip lies 0.25 m further aft, and so it is to be cut 0.25 m further on. Before the longer it is cut
        // 0.5 m and the saw less far on.
        let least = both.least(&[cut(0, 0), cut(0, 1)]);
        assert!((least - 0.751 * 0.5).abs() < 1e-9, "{least}");
    }

    /// What the figure of a course, so cut, costs out of register with that of the one before it.
    fn slip(patterns: &Patterns, k: usize, (before, other): Lie, (at, plain): Lie) -> f64 {
        let ([_, bow_before, stern_before], [_, bow, stern]) =
            (patterns.courses[k - 1], patterns.courses[k]);
        let apart = match (plain, other) {
            (false, false) => (bow - at) - (bow_before - before),
            (true, true) => (stern + at) - (stern_before + before),
            _ => METRE,
        };
        patterns.shift[k] * apart.abs().min(METRE).metres()
    }

    /// The least cost of all cuts at tenths of a metre that go on from those laid; infinite where there are none.
    fn cheapest(patterns: &Patterns, cuts: &[Option<Cut>], laid: &mut Vec<Lie>) -> f64 {
        let k = laid.len();
        let Some(next) = cuts.get(k) else {
            return 0.0;
        };
        let Some(cut) = next else {
            laid.push((Length::ZERO, false));
            let least = cheapest(patterns, cuts, laid);
            laid.pop();
            return least;
        };
        let length = patterns.courses[k][0];
        let (from, to) = (cut.room.0, cut.room.1 - length);
        let mut least = f64::INFINITY;
        for tenths in 0..=(to - from) / (METRE / 10) {
            let at = from + METRE / 10 * tenths;
            let mut others = (0..k).filter(|j| cut.apart_from >> j & 1 == 1);
            let clear = others.all(|j| {
                let other = laid[j].0;
                at >= other + patterns.courses[j][0] + patterns.saw
                    || at + length + patterns.saw <= other
            });
            for plain in [false, true].into_iter().filter(|_| clear) {
                let slip = match patterns.beside(cuts, k) {
                    true => slip(patterns, k, laid[k - 1], (at, plain)),
                    false => 0.0,
                };
                laid.push((at, plain));
                least = least.min(slip + cheapest(patterns, cuts, laid));
                laid.pop();
            }
        }
        least
    }

    #[test]
    fn no_cuts_that_anybody_could_make_are_more_in_register() {
        let mut rng = Pcg64Mcg::seed_from_u64(17);
        let tenth = METRE / 10;
        let (mut some, mut met) = (0, 0);
        for _ in 0..4000 {
            let n = rng.random_range(2..=4usize);
            let courses: Vec<[Length; 3]> = (0..n)
                .map(|_| {
                    let length = tenth * rng.random_range(2..=6);
                    let bow = tenth * rng.random_range(0..=8);
                    [length, bow, bow + length]
                })
                .collect();
            let shift = (1..n).map(|_| f64::from(rng.random_range(0..4)) * 0.7);
            let mut patterns = Patterns {
                shift: std::iter::once(0.0).chain(shift).collect(),
                courses,
                saw: tenth * rng.random_range(0..=1),
                known: FxHashMap::default(),
                placings: 0,
            };
            let mut cuts: Vec<Option<Cut>> = Vec::new();
            for &[length, ..] in &patterns.courses {
                let board = usize::from(rng.random_bool(0.1));
                let of_board = |k: &usize| cuts[*k].is_some_and(|cut| cut.board == board);
                // What is cut from one strip is of one board.
                let same = (0..cuts.len())
                    .filter(of_board)
                    .fold(0, |all, k| all | 1 << k);
                let from = tenth * rng.random_range(0..=2);
                let cut = Cut {
                    room: (from, from + length + tenth * rng.random_range(0..=6)),
                    board,
                    apart_from: same & rng.random::<u64>() as usize,
                };
                cuts.push(rng.random_bool(0.95).then_some(cut));
            }
            let best = cheapest(&patterns, &cuts, &mut Vec::new());
            let least = patterns.least(&cuts);
            assert!(least <= best + 1e-9, "{least} {best} {cuts:?}");
            let costs = best > 0.0 && best.is_finite();
            some += usize::from(costs);
            met += usize::from(costs && least >= best - 1e-9);
        }
        assert!(some > 300 && met == some, "{met} of {some}");
    }
}
