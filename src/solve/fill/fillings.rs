//! All the ways to fill an open course with one piece or two, and what each costs.

use super::super::draft::{Draft, Stretch};
use super::super::price;
use super::super::problem::{Problem, Span};
use super::super::relabel::price_of_strips;
use super::super::timber::{joints, swapped};
use super::offer::Offer;
use super::places::earlier_joints;
use super::running::Along;
use crate::solve::tuning::beam::{ONE_PLACE, STEPS};
use crate::units::Length;
use smallvec::{SmallVec, smallvec};

/// A way to fill a course: in one piece, or in two with a joint between them.
#[derive(Clone, Copy, Debug)]
pub struct Filling {
    /// What the cost rises by, register aside. Unit: ΔE00·metre.
    pub cost: f64,
    /// The wood at the bow and at the stern, by its number among the offers; the same where there is one piece.
    pub wood: [usize; 2],
    /// Where the joint lies.
    joint: Option<Length>,
}

/// All ways to fill a course.
pub struct Fillings {
    /// The wood that was offered.
    pub offers: Vec<Offer>,
    /// The ways, in no order.
    pub all: Vec<Filling>,
    length: Length,
}

impl Fillings {
    /// The ways to fill an open course of the draft with some wood. For two pieces, so many places for the joint are
    /// told: the cheapest.
    pub fn new(draft: &Draft, row: usize, wood: &[[u32; 2]], each: usize) -> Fillings {
        let problem = draft.problem();
        let r = &problem.rows[row];
        let bow = Length::ZERO;
        let offers = Offer::all(draft, row, wood);
        let places = places(draft, row, &offers);
        let last = places.len() - 1;
        let along = Along::new(draft, row, &places);
        let (offers, running) = one_way_round(&along, &offers, problem, row);
        let running = |o: usize| &running[o * places.len()..(o + 1) * places.len()];
        let cut = |offer: &Offer| problem.weights.cut * offer.whole as f64;
        let in_one = offers
            .iter()
            .enumerate()
            .filter(|(_, offer)| offer.room >= r.one_piece());
        let mut all: Vec<Filling> = in_one
            .map(|(o, offer)| Filling {
                cost: running(o)[last] + cut(offer) + offer.labels(problem, row, (bow, r.length)),
                wood: [o; 2],
                joint: None,
            })
            .collect();
        let weights: SmallVec<[f64; 32]> = places.iter().map(|&s| r.weight(r.x(s))).collect();
        let both = r.one_piece() + problem.half_scarf * 2 + problem.saw;
        let begin = |aft: &Offer| {
            let reach = r.length - (aft.room - r.allow[1] - problem.half_scarf);
            places.partition_point(|&s| s < reach).max(1)
        };
        let labelled = !problem.labels.is_empty();
        let begins: SmallVec<[usize; 32]> = offers.iter().map(begin).collect();
        for (f, fore) in offers.iter().enumerate() {
            let reach = fore.room - r.allow[0] - problem.half_scarf;
            let to = places.partition_point(|&s| s <= reach).min(last);
            for (a, aft) in offers.iter().enumerate() {
                let share = fore.wood.iter().any(|strip| aft.wood.contains(strip));
                if begins[a] >= to || share && both > fore.room.max(aft.room) {
                    continue;
                }
                let joint = price::joint_rate(problem, fore.wood, aft.wood);
                let second = if share { 0.0 } else { cut(aft) };
                let base = cut(fore) + second + running(a)[last];
                let (running_fore, running_aft) = (&running(f)[..to], &running(a)[..to]);
                let mut best: SmallVec<[(f64, usize); 4]> = SmallVec::new();
                for j in begins[a]..to {
                    let mut cost = base + running_fore[j] - running_aft[j] + joint * weights[j];
                    if labelled {
                        cost += fore.labels(problem, row, (bow, places[j]))
                            + aft.labels(problem, row, (places[j], r.length));
                    }
                    if best.len() == each && best[each - 1].0 <= cost {
                        continue;
                    }
                    best.truncate(each - 1);
                    let at = best.partition_point(|(less, _)| *less <= cost);
                    best.insert(at, (cost, j));
                }
                all.extend(best.into_iter().map(|(cost, j)| Filling {
                    cost,
                    wood: [f, a],
                    joint: Some(places[j]),
                }));
            }
        }
        Fillings {
            offers,
            all,
            length: r.length,
        }
    }

    /// The pieces of a filling, from the bow aft.
    pub fn stretches(&self, filling: &Filling) -> SmallVec<[Stretch; 4]> {
        let stretch = |o: usize, ends: Span| {
            let wood = self.offers[o].wood;
            Stretch { ends, wood }
        };
        let ([fore, aft], bow) = (filling.wood, Length::ZERO);
        match filling.joint {
            None => smallvec![stretch(fore, (bow, self.length))],
            Some(s) => smallvec![stretch(fore, (bow, s)), stretch(aft, (s, self.length))],
        }
    }
}

/// Of the two ways round that a pair can lie, keeps the one that costs less along the whole course, labels included;
/// and what each costs from the bow end to each place.
fn one_way_round(
    along: &Along,
    offers: &[Offer],
    problem: &Problem,
    row: usize,
) -> (Vec<Offer>, Vec<f64>) {
    let width = along.width();
    let mut rates = Vec::with_capacity(offers.len() * width);
    let mut kept: Vec<(f64, usize)> = Vec::with_capacity(offers.len());
    for (o, offer) in offers.iter().enumerate() {
        along.rates(offer.wood, &mut rates);
        let labels = price_of_strips(problem, row, offer.wood);
        let cost = along.whole(&rates[o * width..]) - labels;
        let turned = swapped(offer.wood);
        let same = |(_, other): &&mut (f64, usize)| {
            offers[*other].wood == turned && offers[*other].room == offer.room
        };
        match kept.iter_mut().find(same) {
            Some(other) if other.0 <= cost => {}
            Some(other) => *other = (cost, o),
            None => kept.push((cost, o)),
        }
    }
    let mut running = Vec::with_capacity(along.places() * kept.len());
    for &(_, o) in &kept {
        along.running(&rates[o * width..(o + 1) * width], 1.0, &mut running);
    }
    (kept.into_iter().map(|(_, o)| offers[o]).collect(), running)
}

/// The ends of the course and places for a joint, in order.
///
/// Where a joint is stopped, as in `places` of the parent module; besides, places from which joints of the courses to
/// come can keep clear.
fn places(draft: &Draft, row: usize, offers: &[Offer]) -> SmallVec<[Length; 32]> {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let mut places: SmallVec<[Length; 32]> = SmallVec::new();
    if problem.most > 0 {
        for &(a, b) in &r.joint_windows {
            places.extend((0..=STEPS).map(|k| a + (b - a) / STEPS * k));
        }
        for x in r.near.iter().flat_map(|&near| joints(draft.timber(near))) {
            let steps = [-2.0, -1.0, 0.0, 1.0, 2.0];
            places.extend(steps.map(|step| r.s(x + step * problem.clear)));
        }
        for offer in offers {
            let reach = offer.room - problem.half_scarf;
            places.extend([reach - r.allow[0], r.length - (reach - r.allow[1])]);
        }
        let near = draft.near_joints(row);
        let allowed = |s: Length| r.allows_joint(s) && near.are_clear_of(r.x(s));
        // A label is kept only where the joint stays just where it was.
        let earlier: SmallVec<[Length; 2]> = { earlier_joints(problem, row) }
            .filter(|&s| allowed(s))
            .collect();
        let is_near = |s: Length| earlier.iter().any(|&at| (at - s).abs() < ONE_PLACE);
        places.retain(|&mut s| allowed(s) && !is_near(s));
        places.extend_from_slice(&earlier);
        places.sort_unstable();
        places.dedup_by(|next, place| *next - *place < ONE_PLACE);
    }
    places.insert(0, Length::ZERO);
    places.push(r.length);
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::jobs;
    use crate::solve::rng::stream;
    use crate::solve::start::{Order, construct};
    use crate::solve::state::State;

    /// Beside courses that are laid, some of them on both sides.
    #[test]
    fn a_filling_costs_what_it_is_told_to_but_for_register() {
        let mut priced = 0;
        for seed in 1..4 {
            let mut job = jobs::short_stock(8, seed);
            job.weights.shift = 0.0;
            let problem = Problem::new(&job);
            let mut rng = stream(seed, 0);
            let bare = State::bare(&problem);
            let laid = construct(bare, Order::Outwards, &mut rng, &|| false);
            for row in [0, 3, 7] {
                let mut draft = Draft::new(&laid);
                draft.strip(row);
                let sisters = (0..problem.woods.len() as u32 - 1).step_by(2);
                let wood: Vec<[u32; 2]> = sisters.map(|strip| [strip, strip + 1]).collect();
                let without = draft.price();
                let fillings = Fillings::new(&draft, row, &wood, 1);
                for filling in &fillings.all {
                    let mut draft = draft.clone();
                    if draft.put_all(row, &fillings.stretches(filling)).is_err() {
                        continue;
                    }
                    let length = problem.rows[row].length.metres();
                    let open = crate::solve::tuning::state::OPEN * length;
                    let rises = draft.price() - (without - open);
                    assert!(
                        (rises - filling.cost).abs() < 1e-5,
                        "seed {seed}, course {row}: {rises}, told {}",
                        filling.cost
                    );
                    priced += 1;
                }
            }
        }
        assert!(priced > 100, "only {priced} were laid");
    }
}
