//! What wood costs along a course, summed up from the bow: seams with the neighbours, and match.

use super::super::draft::Draft;
use super::super::price;
use super::super::problem::NONE;
use super::super::timber::Part;

/// A course with its neighbours as they would be, measured up to each of some places.
pub struct Along<'d> {
    draft: &'d Draft<'d, 'd>,
    row: usize,
    /// What shows from the bow end to each place.
    look: Vec<f64>,
    /// The parts of the neighbours, and how much of each is met from the bow end to each place.
    beside: Vec<(&'d Part, Vec<f64>)>,
}

impl<'d> Along<'d> {
    /// The course measured up to each place.
    pub fn new(draft: &'d Draft, row: usize, places: &[i64]) -> Along<'d> {
        let problem = draft.problem();
        let r = &problem.rows[row];
        let xs: Vec<f64> = places.iter().map(|&s| r.x(s)).collect();
        let mut beside = Vec::new();
        for (profile, others) in draft.beside(row) {
            for other in others {
                let met = |&x: &f64| profile.between(other.x_from, x.min(other.x_to));
                beside.push((other, xs.iter().map(met).collect()));
            }
        }
        Along {
            draft,
            row,
            look: xs.iter().map(|&x| r.look.up_to(x)).collect(),
            beside,
        }
    }

    /// What a metre of the wood costs facing its mate, and beside each part of the neighbours.
    pub fn rates(&self, wood: [u32; 2]) -> Vec<f64> {
        let matched = match wood {
            [_, NONE] => 0.0,
            [port, starboard] => self.draft.problem().match_rate(port, starboard),
        };
        let beside = self
            .beside
            .iter()
            .map(|(other, _)| self.rate_beside(wood, other));
        std::iter::once(matched).chain(beside).collect()
    }

    /// What the wood would cost along the whole course, by its rates.
    pub fn whole(&self, rates: &[f64]) -> f64 {
        let met = self.beside.iter().map(|(_, met)| met.last());
        let sums = std::iter::once(self.look.last()).chain(met);
        sums.zip(rates)
            .map(|(met, rate)| met.copied().unwrap_or(0.0) * rate)
            .sum()
    }

    /// What the wood would cost from the bow end to each place, by its rates, `times` over.
    pub fn running(&self, rates: &[f64], times: f64) -> Vec<f64> {
        let mut sums: Vec<f64> = self
            .look
            .iter()
            .map(|look| times * rates[0] * look)
            .collect();
        for ((_, met), rate) in self.beside.iter().zip(&rates[1..]) {
            sums.iter_mut()
                .zip(met)
                .for_each(|(sum, met)| *sum += times * rate * met);
        }
        sums
    }

    /// What a metre of seam beside another part costs, register aside where the end to the bow is still free.
    fn rate_beside(&self, wood: [u32; 2], other: &Part) -> f64 {
        let problem = self.draft.problem();
        let only_end = match problem.bow_ends(self.row, wood) {
            [only] => Some(*only),
            _ => None,
        };
        let rate = |&(i, j): &(usize, usize)| {
            let turned = only_end.is_some_and(|end| end != other.bow[j])
                && problem.one_board(wood[i], other.wood[j]);
            problem.seam_rate(wood[i], other.wood[j])
                + if turned { problem.weights.shift } else { 0.0 }
        };
        price::meeting_sides(wood, other.wood)
            .iter()
            .map(rate)
            .sum()
    }
}
