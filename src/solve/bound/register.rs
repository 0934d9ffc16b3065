//! How far figure must be out of register where courses next to each other come from one board and share strips.
//!
//! What is cut from one strip can't lie at one place on it. So of two courses of one board that share a strip one is cut
//! further on, and their figure is out of register; and so may be others beside them, that share strips with a third.
//! The least that this costs is found by branch and bound over the places where cuts can lie: against an end of
//! the strip, against another cut, or in register with a neighbour, one leading to the other. The cost is linear between
//! such places, or constant where it is a metre or more.

use crate::solve::problem::{Problem, Span};
use crate::solve::timber::Part;
use crate::solve::tuning::tails::{MOST_PLACES, MOST_PLACINGS};
use crate::units::Length;
use rustc_hash::FxHashMap;
use std::collections::BTreeSet;

/// Costs that differ by less are the same.
const LEAST: f64 = 1e-12;
/// Figure that is further out of register costs no more.
const METRE: Length = Length::from_mm(1000.0);

/// Where a course is cut, and whether its plain end points to the bow.
type Lie = (Length, bool);

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

/// What is known of courses one after another.
#[derive(Default)]
pub struct Patterns {
    /// By course, its length, and how far aft its bow and stern tips lie on the boat.
    courses: Vec<[Length; 3]>,
    /// By course, what a metre out of register costs on the seam with the one before it; nothing for the first.
    shift: Vec<f64>,
    saw: Length,
    known: FxHashMap<Vec<Option<Cut>>, f64>,
    /// How often a course was cut from a place so far, to work all that out.
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
        if !(1..cuts.len()).any(|k| self.beside(&cuts, k)) {
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

    /// What the figure of a course, so cut, costs out of register with that of the one before it.
    fn slip(&self, k: usize, (before, other): Lie, (at, plain): Lie) -> f64 {
        let ([_, bow_before, stern_before], [_, bow, stern]) =
            (self.courses[k - 1], self.courses[k]);
        let apart = match (plain, other) {
            (false, false) => (bow - at) - (bow_before - before),
            (true, true) => (stern + at) - (stern_before + before),
            _ => METRE,
        };
        self.shift[k] * apart.abs().min(METRE).metres()
    }

    /// Whether a course lies beside the one before it, from one board.
    fn beside(&self, cuts: &[Option<Cut>], k: usize) -> bool {
        let board = |k: usize| cuts.get(k).and_then(|cut| cut.map(|cut| cut.board));
        k > 0 && board(k).is_some() && board(k) == board(k - 1)
    }

    /// The least cost, and how often a course was cut from a place to find it.
    fn work_out(&self, cuts: &[Option<Cut>]) -> (f64, usize) {
        let n = cuts.len();
        let apart = |k: usize, j: usize| cuts[k].is_some_and(|cut| cut.apart_from >> j & 1 == 1);
        // Of two courses on one strip, with only courses of their board between them, the figure slips on the way from
        // the one to the other: best where a seam is short.
        let on_the_way = |j: usize, k: usize| {
            let chain = (j + 1..=k).all(|k| self.beside(cuts, k));
            if !chain || !apart(k, j) {
                return 0.0;
            }
            let ([one, bow, _], [other, bow_other, _]) = (self.courses[j], self.courses[k]);
            let slip = one.min(other) + self.saw - (bow - bow_other).abs();
            let shift = self.shift[j + 1..=k].iter();
            slip.clamp(Length::ZERO, METRE).metres() * shift.copied().fold(f64::INFINITY, f64::min)
        };
        let places = self.places(cuts, &apart);
        // Russian doll search (G. Verfaillie, M. Lemaitre and T. Schiex, AAAI 1996; from memory): first the last courses
        // alone, then more and more of them.
        let mut least = vec![0.0; n + 1];
        let mut looks = 0;
        for first in (0..n).rev() {
            least[first] = (first + 1..n)
                .map(|k| on_the_way(first, k) + least[k])
                .fold(least[first + 1], f64::max);
            if let Some(places) = &places {
                let mut doll = Doll {
                    patterns: self,
                    cuts,
                    places,
                    least: &least,
                    first,
                    laid: Vec::new(),
                    best: f64::INFINITY,
                    looks,
                    reached: FxHashMap::default(),
                };
                doll.cut(0.0);
                looks = doll.looks;
                // Where it took too long, and where nothing fits, as far as is known here, nothing is made of it.
                if looks < MOST_PLACINGS && doll.best.is_finite() {
                    least[first] = doll.best;
                }
            }
        }
        (least[0], looks)
    }

    /// By course, where a cut may begin in a cheapest plan; `None` where there are too many places.
    fn places(
        &self,
        cuts: &[Option<Cut>],
        apart: &dyn Fn(usize, usize) -> bool,
    ) -> Option<Vec<Vec<Length>>> {
        let n = cuts.len();
        let range = |k: usize| cuts[k].map(|cut| (cut.room.0, cut.room.1 - self.courses[k][0]));
        let mut places: Vec<BTreeSet<Length>> = (0..n)
            .map(|k| range(k).into_iter().flat_map(|(a, b)| [a, b]).collect())
            .collect();
        // Each chain of places that lean on each other begins at an end of a strip.
        for _ in 1..n {
            let mut grown = false;
            for k in 0..n {
                for j in (0..n).filter(|&j| j != k) {
                    let mut new: Vec<Length> = Vec::new();
                    let ([one, bow, stern], [other, bow_other, stern_other]) =
                        (self.courses[k], self.courses[j]);
                    if apart(k.max(j), k.min(j)) {
                        new.extend(
                            places[j]
                                .iter()
                                .flat_map(|&at| [at + other + self.saw, at - one - self.saw]),
                        );
                    }
                    if k.abs_diff(j) == 1 && self.beside(cuts, k.max(j)) {
                        new.extend(
                            places[j]
                                .iter()
                                .flat_map(|&at| [at + bow - bow_other, at + stern_other - stern]),
                        );
                    }
                    let Some((from, to)) = range(k) else {
                        continue;
                    };
                    for at in new.into_iter().filter(|at| (from..=to).contains(at)) {
                        grown |= places[k].insert(at);
                    }
                    if places[k].len() > MOST_PLACES {
                        return None;
                    }
                }
            }
            if !grown {
                break;
            }
        }
        Some(
            places
                .into_iter()
                .map(|all| all.into_iter().collect())
                .collect(),
        )
    }
}

/// The search for the cheapest cuts of the courses from one on.
struct Doll<'p> {
    patterns: &'p Patterns,
    cuts: &'p [Option<Cut>],
    places: &'p [Vec<Length>],
    /// What the courses from each on cost at least, among themselves.
    least: &'p [f64],
    first: usize,
    /// How each is laid.
    laid: Vec<Lie>,
    best: f64,
    looks: usize,
    /// Dominance: the least cost at which a course was cut from a place, by that and by the places of those before it
    /// that stand in the way of others yet to come.
    reached: FxHashMap<(usize, bool, Vec<Length>), f64>,
}

impl Doll<'_> {
    /// Whether the courses were not cut at less cost before, as far as it matters for those to come.
    fn is_cheapest(&mut self, cost: f64) -> bool {
        let k = self.first + self.laid.len() - 1;
        let in_the_way = |j: usize| {
            let mut to_come = self.cuts[k + 1..].iter().flatten();
            to_come.any(|cut| cut.apart_from >> j & 1 == 1)
        };
        let (_, plain) = self.laid[k - self.first];
        let before = (self.first..k).filter(|j| in_the_way(*j));
        let places = { before.chain([k]) }.map(|j| self.laid[j - self.first].0);
        let key = (k, plain, places.collect());
        let least = self.reached.entry(key).or_insert(f64::INFINITY);
        let cheapest = cost < *least;
        *least = least.min(cost);
        cheapest
    }

    /// Cuts the next course from every place, either end to the bow.
    fn cut(&mut self, cost: f64) {
        let k = self.first + self.laid.len();
        if k == self.cuts.len() {
            self.best = self.best.min(cost);
            return;
        }
        let Some(cut) = self.cuts[k] else {
            self.laid.push((Length::ZERO, false));
            self.cut(cost);
            self.laid.pop();
            return;
        };
        let length = self.patterns.courses[k][0];
        let saw = self.patterns.saw;
        let laid = &self.laid;
        let clear = |at: Length| {
            // What is cut from two boards may lie anywhere, as far as is known here.
            let is_known = |j: &usize| cut.apart_from >> j & 1 == 1 && self.cuts[*j].is_some();
            let mut others = (self.first..k).filter(is_known);
            others.all(|j| {
                let other = laid[j - self.first].0;
                at >= other + self.patterns.courses[j][0] + saw || at + length + saw <= other
            })
        };
        let beside = k > self.first && self.patterns.beside(self.cuts, k);
        let ends = match beside || self.patterns.beside(self.cuts, k + 1) {
            true => &[false, true][..],
            false => &[false],
        };
        let places = self.places[k].iter().copied().filter(|at| clear(*at));
        let ways = places.flat_map(|at| ends.iter().map(move |&plain| (at, plain)));
        let priced = ways.map(|way| match laid.last() {
            Some(&before) if beside => (self.patterns.slip(k, before, way), way),
            _ => (0.0, way),
        });
        let mut ways: Vec<(f64, Lie)> = priced.collect();
        ways.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (more, way) in ways {
            self.looks += 1;
            let reached = self.best <= self.least[self.first] + LEAST;
            if reached || self.looks >= MOST_PLACINGS || cost + more + self.least[k] >= self.best {
                break;
            }
            self.laid.push(way);
            if self.is_cheapest(cost + more) {
                self.cut(cost + more);
            }
            self.laid.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64Mcg;

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
        // Its bow tip lies 0.25 m further aft, and so it is to be cut 0.25 m further on. Before the longer it is cut 0.5 m
        // and the saw less far on.
        let least = both.least(&[cut(0, 0), cut(0, 1)]);
        assert!((least - 0.751 * 0.5).abs() < 1e-9, "{least}");
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
                    true => patterns.slip(k, laid[k - 1], (at, plain)),
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
            some += usize::from(best > 0.0 && best.is_finite());
            met += usize::from(best > 0.0 && least >= best - 1e-9);
        }
        assert!(some > 300 && 2 * met >= some, "{met} of {some}");
    }
}
