//! The wood that is looked at closely, of all that is offered.

use super::offer::Offer;
use super::running::Along;
use crate::solve::tuning::fill::SHORTLIST;
use rand::{Rng, RngExt};
use smallvec::SmallVec;

/// The offers that would cost least along the whole course, and what each costs up to every place.
pub struct Shortlist {
    /// The offers; what is glued on the course comes last.
    pub offers: Vec<Offer>,
    running: Vec<f64>,
    places: usize,
}

impl Shortlist {
    /// Draws up the list. `jitter` is how far the costs of each offer are shaken, as a part of them.
    pub fn new(along: &Along, offers: &[Offer], jitter: f64, rng: &mut impl Rng) -> Shortlist {
        let width = along.width();
        let mut rates = Vec::with_capacity(offers.len() * width);
        // For each offer its cost, and how far it was shaken.
        let mut costs: Vec<(f64, f64)> = Vec::with_capacity(offers.len());
        for (i, offer) in offers.iter().enumerate() {
            match i.checked_sub(1).map(|last| &offers[last]) {
                Some(last) if last.wood == offer.wood => {
                    rates.extend_from_within((i - 1) * width..);
                }
                _ => along.rates(offer.wood, &mut rates),
            }
            let shaken = 1.0 + jitter * (rng.random::<f64>() - 0.5);
            costs.push((shaken * along.whole(&rates[i * width..]), shaken));
        }
        let (held, mut listed): (Vec<usize>, Vec<usize>) =
            (0..offers.len()).partition(|&i| offers[i].only.is_some());
        if listed.len() > SHORTLIST {
            let what = |i: usize| (offers[i].wood, offers[i].room, i);
            listed.select_nth_unstable_by(SHORTLIST, |&a, &b| {
                let dearer = costs[a].0.total_cmp(&costs[b].0);
                dearer.then_with(|| what(a).cmp(&what(b)))
            });
            listed.truncate(SHORTLIST);
            listed.sort_unstable_by_key(|&i| what(i));
        }
        listed.extend(held);
        let places = along.places();
        let mut running = Vec::with_capacity(listed.len() * places);
        for &i in &listed {
            along.running(&rates[i * width..(i + 1) * width], costs[i].1, &mut running);
        }
        Shortlist {
            offers: listed.into_iter().map(|i| offers[i]).collect(),
            running,
            places,
        }
    }

    /// What an offer costs from the bow end to each place.
    #[inline]
    pub fn running(&self, offer: usize) -> &[f64] {
        &self.running[offer * self.places..(offer + 1) * self.places]
    }

    /// What the rest of the course costs at least from each place on, were joints free: on every stretch between two
    /// places, as little as any of the offers does.
    pub fn with_free_joints(&self) -> SmallVec<[f64; 16]> {
        let mut rest = SmallVec::from_elem(0.0, self.places);
        for j in (0..self.places - 1).rev() {
            let offers = 0..self.offers.len();
            let along = offers.map(|o| self.running(o)[j + 1] - self.running(o)[j]);
            rest[j] = rest[j + 1] + along.fold(f64::INFINITY, f64::min);
        }
        rest
    }
}
