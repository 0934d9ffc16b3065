//! What wood costs along a course, summed up from the bow: seams with the neighbours, and match.

use super::super::draft::Draft;
use super::super::price;
use super::super::problem::{Charge, NONE, Problem, Steps};
use super::super::timber::Part;
use crate::units::Length;
use smallvec::SmallVec;

/// A course with its neighbours as they would be, measured up to each of some places.
pub struct Along<'d> {
    problem: &'d Problem,
    row: usize,
    /// The places. Unit: mm along the boat.
    pub xs: SmallVec<[f64; 16]>,
    /// What shows from the bow end to each place.
    look: SmallVec<[f64; 16]>,
    /// The parts of the neighbours, and what is charged beside each.
    beside: SmallVec<[(&'d Part, Charge); 8]>,
    /// How much of each of them is met from the bow end to each place, one after the other.
    met: SmallVec<[f64; 96]>,
}

impl<'d> Along<'d> {
    /// The course measured up to each place.
    pub fn new(draft: &'d Draft<'d, 'd>, row: usize, places: &[Length]) -> Along<'d> {
        let problem = draft.problem();
        let r = &problem.rows[row];
        let xs: SmallVec<[f64; 16]> = places.iter().map(|&s| r.x(s)).collect();
        let mut beside = SmallVec::new();
        let mut met = SmallVec::new();
        for neighbour in draft.beside(row) {
            let profile = neighbour.look;
            for other in neighbour.parts {
                beside.push((other, neighbour.charge));
                let from = profile.up_to(other.x_from);
                met.extend(xs.iter().map(|x| {
                    let to = x.min(other.x_to);
                    if to <= other.x_from {
                        0.0
                    } else {
                        profile.up_to(to) - from
                    }
                }));
            }
        }
        Along {
            problem,
            row,
            look: xs.iter().map(|&x| r.look.up_to(x)).collect(),
            xs,
            beside,
            met,
        }
    }

    /// How many places there are.
    pub fn places(&self) -> usize {
        self.xs.len()
    }

    /// How many rates wood has along the course: see [`Along::rates`].
    pub fn width(&self) -> usize {
        1 + self.beside.len()
    }

    /// Adds what a metre of the wood costs facing its mate, and beside each part of the neighbours.
    pub fn rates(&self, wood: [u32; 2], rates: &mut Vec<f64>) {
        rates.push(match wood {
            [_, NONE] => 0.0,
            [port, starboard] => self.problem.match_rate(port, starboard),
        });
        let only_end = match self.problem.bow_ends(self.row, wood) {
            [only] => Some(*only),
            _ => None,
        };
        // Register counts only where the end to the bow is not free.
        rates.extend(self.beside.iter().map(|(other, charge)| {
            let rate = |&(i, j): &(usize, usize)| {
                let turned = charge.steps != Steps::Apart
                    && only_end.is_some_and(|end| end != other.bow[j])
                    && self.problem.one_board(wood[i], other.wood[j]);
                self.problem.rate(*charge, wood[i], other.wood[j])
                    + if turned {
                        self.problem.weights.shift
                    } else {
                        0.0
                    }
            };
            let meeting = price::meeting_sides(wood, other.wood).iter();
            meeting.map(rate).sum::<f64>()
        }));
    }

    /// What the wood would cost along the whole course, by its rates.
    pub fn whole(&self, rates: &[f64]) -> f64 {
        let met = self.met.chunks_exact(self.places()).map(|met| met.last());
        let sums = std::iter::once(self.look.last()).chain(met);
        sums.zip(rates)
            .map(|(met, rate)| met.copied().unwrap_or(0.0) * rate)
            .sum()
    }

    /// Adds what the wood would cost from the bow end to each place, by its rates, `times` over.
    pub fn running(&self, rates: &[f64], times: f64, running: &mut Vec<f64>) {
        let begin = running.len();
        let matched = times * rates[0];
        running.extend(self.look.iter().map(|look| matched * look));
        let sums = &mut running[begin..];
        for (met, rate) in self.met.chunks_exact(self.places()).zip(&rates[1..]) {
            let rate = times * rate;
            sums.iter_mut()
                .zip(met)
                .for_each(|(sum, met)| *sum += rate * met);
        }
    }
}
