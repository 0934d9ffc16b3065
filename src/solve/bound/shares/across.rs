//! The way from one course to the next, for every level of both and every amount of wood.

use super::course::Course;
use super::level::{edge, level, levels, parts};
use super::seam::Seam;
use super::stage::{Stage, lower};

/// From one course to the next.
pub struct Across<'f> {
    /// Length of a step. Unit: metres of boat.
    pub unit: f64,
    /// The seam between them.
    pub seam: &'f Seam,
    /// The one.
    pub one: &'f Course,
    /// The next.
    pub next: &'f Course,
    /// What a metre of edge costs.
    pub toll: f64,
}

impl Across<'_> {
    /// The cheapest costs on arriving at each level of the next course, its own entry left out.
    pub fn arrivals(&self, from: &Stage) -> Stage {
        let mut to = Stage::new(levels(self.next), from.width);
        let (ones, nexts) = (levels(self.one), levels(self.next));
        // To and from nothing and all, one by one.
        for a in 0..ones {
            for b in 0..nexts {
                if a < 2 || b < 2 {
                    let (upper, lower_one) = (level(self.one, a), level(self.next, b));
                    let cost = self.toll * edge(self.seam, upper, lower_one, self.unit);
                    lower(to.of_mut(b), from.of(a), cost);
                }
            }
        }
        if ones < 3 || nexts < 3 {
            return to;
        }
        let mut either = Stage::new(parts(self.one), from.width);
        for k in 0..parts(self.one) {
            lower(either.of_mut(k), from.of(2 + k), 0.0);
            lower(either.of_mut(k), from.of(2 + parts(self.one) + k), 0.0);
        }
        let upper = self.seam.stagger[0];
        let flats = [self.seam.stagger[1], self.seam.both[1]];
        for (kind, flat) in flats.into_iter().enumerate() {
            let first = 2 + kind * parts(self.next);
            let mut levels = to.costs.split_off(first * to.width);
            self.part_to_part(flat.max(upper), &either, &mut levels);
            to.costs.extend(levels);
        }
        to
    }

    /// From part to part, where the edge is so many steps at least: near ones one by one, far ones by what the next one costs less or more.
    /// `to` begins at the next course's shortest part.
    fn part_to_part(&self, stagger: usize, from: &Stage, to: &mut [f64]) {
        let step = self.toll * self.unit;
        let (first, last) = self.one.parts;
        for up in [true, false] {
            let beyond = self.seam.beyond[usize::from(up)];
            let flat = stagger + beyond;
            let mut far = vec![f64::INFINITY; from.width];
            let parts = self.next.parts.0..=self.next.parts.1;
            let order: Vec<usize> = match up {
                true => parts.collect(),
                false => parts.rev().collect(),
            };
            // Parts from here on, or up to here, are in `far` already.
            let mut taken = if up { first } else { last + 1 };
            for m in order {
                far.iter_mut().for_each(|cost| *cost += step);
                let further = match up {
                    true => taken..(m.saturating_sub(flat)).min(last + 1).max(taken),
                    false => (m + flat + 1).max(first).min(taken)..taken,
                };
                for k in further.clone() {
                    let apart = k.abs_diff(m) - beyond;
                    lower(&mut far, from.of(k - first), step * apart as f64);
                }
                if !further.is_empty() {
                    taken = if up { further.end } else { further.start };
                }
                let near = match up {
                    true => m.saturating_sub(flat)..m + 1,
                    false => m + 1..m + flat + 1,
                };
                let at = (m - self.next.parts.0) * from.width;
                let to = &mut to[at..at + from.width];
                lower(to, &far, 0.0);
                for k in near.filter(|k| (first..=last).contains(k)) {
                    lower(to, from.of(k - first), step * stagger as f64);
                }
            }
        }
    }
}
