//! The cheapest path along a course through places for joints, with the choice of wood on each stretch.

use super::super::draft::{Draft, Stretch};
use super::super::price;
use super::super::problem::{Span, There};
use super::offer::Offer;
use super::offers::ConstructionParameters;
use super::running::Along;
use super::shortlist::Shortlist;
use crate::solve::tuning::fill::FOREMOST;
use crate::units::Length;
use rand::{Rng, RngExt};
use smallvec::SmallVec;

/// What is worked out as a bound is taken for this part of it: the last digits of a sum must cut nothing off.
const A_LITTLE_LESS: f64 = 1.0 - 1e-9;

/// The best way to cover the course, register aside; `None` where the offers can't cover it, or not for less than
/// `most`.
///
/// Exact but for two cuts that keep it fast: only the offers that would cost least along the whole course are
/// looked at, and at each joint only the cheapest ways to have come there.
pub fn best(
    draft: &Draft,
    row: usize,
    places: &[Length],
    offers: &[Offer],
    parameters: &ConstructionParameters,
    most: f64,
    rng: &mut impl Rng,
) -> Option<SmallVec<[Stretch; 4]>> {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let (n, last) = (places.len(), places.len() - 1);
    let along = Along::new(draft, row, places);
    let shortlist = Shortlist::new(&along, offers, parameters.jitter, rng);
    let offers = &shortlist.offers[..];
    let k = offers.len();
    // Shaken costs lie above the true ones by half of the jitter at most. What is charged for room left over has no
    // limit.
    let mut least = match parameters.thrifty {
        0.0 => most * (1.0 + 0.5 * parameters.jitter),
        _ => f64::INFINITY,
    };
    let free = shortlist.with_free_joints();
    if free[0] >= least {
        return None;
    }
    let weights: SmallVec<[f64; 16]> = along.xs.iter().map(|&x| r.weight(x)).collect();
    let steadiest = 1.0 - parameters.jitter.min(1.0);
    let joint = |j: usize| steadiest * weights[j] * problem.weights.joint;
    let Ahead { rest, onward } = Ahead::new(&shortlist, last, joint);
    // Where a piece begins that is joined at each place, and where one ends.
    let ends = places.iter().map(|&s| problem.ends(row, (s, s)));
    let ends: SmallVec<[Span; 16]> = ends.collect();
    let glued = &problem.glued[row];
    // What is glued stays where it is, in its number from the bow, and nothing else lies there.
    let agrees = |o: usize, i: usize, j: usize, piece: usize| {
        glued.is_empty()
            || match problem.glued_between(row, (places[i], places[j])) {
                There::InTheWay => false,
                There::Nothing => offers[o].only.is_none(),
                There::Just(there) => {
                    offers[o].only.is_some_and(|only| glued[only] == *there) && there.index == piece
                }
            }
    };
    // No more pieces than there are stretches between places.
    let pieces = problem.most.saturating_add(1).min(last);
    // done[o·n + j]: cheapest way to reach place j with offer o on the stretch before it, in so many pieces.
    let mut done = vec![f64::INFINITY; n * k];
    let mut next = vec![f64::INFINITY; n * k];
    let mut history = History::new(pieces, n, k);
    let rooms = offers.iter().map(|offer| offer.room);
    let longest = rooms.max().unwrap_or_default();
    let mut best: Option<(usize, usize)> = None;
    let mut reached = 0;
    for piece in 0..pieces {
        // Nothing is followed that costs as much as the best way so far, with what the rest costs at least.
        for ways in next.chunks_exact_mut(n) {
            ways.iter_mut()
                .zip(&rest)
                .for_each(|(way, rest)| *way = least - rest);
        }
        // The first place from which the stern can be reached in the pieces that are left.
        let left = longest * (pieces - 1 - piece) as i64;
        let within_reach = places.partition_point(|&place| places[last] - place > left);
        let starts = if piece == 0 { 0..1 } else { 1..last };
        // From the stern forward: what reaches it cuts the others off.
        for i in starts.rev() {
            let before = match i < reached {
                true => SmallVec::new(),
                false => foremost(&done[i..], n, least - rest[i]),
            };
            let shaken = 1.0 - parameters.jitter.min(1.0) * rng.random::<f64>();
            if piece > 0 && before.is_empty() {
                continue;
            }
            let weight = shaken * weights[i];
            // The first place that makes a piece long enough; a course in one piece may be as short as it is.
            let far = places.partition_point(|&place| place - places[i] < problem.shortest);
            let far = if i == 0 { far.min(last) } else { far };
            for (o, offer) in offers.iter().enumerate() {
                let begin = problem.weights.cut * offer.whole as f64;
                // Along the last piece free joints tell the cost exactly: what costs as much as the best is cut off.
                let ahead = onward[i * k + o] + A_LITTLE_LESS * begin;
                let limit = least - ahead.max(free[i]);
                let (mut so_far, mut came_by) = match piece {
                    0 => (0.0, 0),
                    _ => (f64::INFINITY, 0),
                };
                for &(cost, p) in &before {
                    if cost + weight * problem.weights.joint >= so_far.min(limit) {
                        break;
                    }
                    if p != o {
                        let rate = price::joint_rate(problem, offers[p].wood, offer.wood);
                        if cost + weight * rate < so_far {
                            (so_far, came_by) = (cost + weight * rate, p);
                        }
                    }
                }
                if so_far >= limit {
                    continue;
                }
                let nearest = match offer.only {
                    Some(_) => i + 1,
                    None => far.max(i + 1),
                };
                let running = shortlist.running(o);
                let (next, came) = (&mut next[o * n..(o + 1) * n], history.came(piece, o));
                let thrifty = match offer.only {
                    Some(_) => 0.0,
                    None => parameters.thrifty,
                };
                for j in nearest.max(within_reach)..n {
                    // The stern may ask for less than a joint just before it.
                    let need = ends[j].1.max(ends[j - 1].1) - ends[i].0;
                    if need > offer.room {
                        break;
                    }
                    if !agrees(o, i, j, piece) {
                        continue;
                    }
                    let begin = match thrifty {
                        0.0 => begin,
                        _ => begin + thrifty * (offer.room - (ends[j].1 - ends[i].0)).metres(),
                    };
                    let labels = offer.labels(problem, row, (places[i], places[j]));
                    let cost = so_far + running[j] - running[i] + begin + labels;
                    if cost < next[j].min(least - rest[j]) {
                        next[j] = cost;
                        came[j] = (i as u32, came_by as u32);
                        if j == last {
                            (least, best) = (cost, Some((piece, o)));
                        }
                    }
                }
            }
        }
        std::mem::swap(&mut done, &mut next);
        reached = within_reach;
    }
    let (piece, o) = best?;
    Some(history.retrace(piece, o, places, offers))
}

/// What the rest of the course costs at least.
struct Ahead {
    /// From each place on, with the joint there.
    rest: SmallVec<[f64; 16]>,
    /// From each place on, by the offer that begins there or lies there; the offers of a place one after the other.
    onward: Vec<f64>,
}

impl Ahead {
    /// By what a joint costs at least at each place.
    fn new(shortlist: &Shortlist, last: usize, joint: impl Fn(usize) -> f64) -> Ahead {
        let k = shortlist.offers.len();
        let mut rest: SmallVec<[f64; 16]> = SmallVec::from_elem(0.0, last + 1);
        let mut onward = vec![0.0; (last + 1) * k];
        for j in (0..last).rev() {
            let (here, there) = onward[j * k..].split_at_mut(k);
            let mut least = f64::INFINITY;
            for (o, (here, there)) in here.iter_mut().zip(&*there).enumerate() {
                let running = shortlist.running(o);
                *here = running[j + 1] - running[j] + rest[j + 1].min(*there);
                least = least.min(*here);
            }
            rest[j] = least + joint(j);
        }
        let all = rest.iter_mut().chain(&mut onward);
        all.for_each(|bound| *bound *= A_LITTLE_LESS);
        Ahead { rest, onward }
    }
}

/// How each way to cover some of the course came about, by the number of pieces.
struct History {
    places: usize,
    offers: usize,
    /// Where the stretch begins that ends at a place with an offer, and which offer lies before it.
    came: Vec<(u32, u32)>,
}

impl History {
    fn new(pieces: usize, places: usize, offers: usize) -> History {
        History {
            places,
            offers,
            came: vec![(0, 0); pieces * places * offers],
        }
    }

    fn at(&self, piece: usize, place: usize, offer: usize) -> usize {
        (piece * self.offers + offer) * self.places + place
    }

    fn came(&mut self, piece: usize, offer: usize) -> &mut [(u32, u32)] {
        let at = self.at(piece, 0, offer);
        &mut self.came[at..at + self.places]
    }

    fn retrace(
        &self,
        mut piece: usize,
        mut o: usize,
        places: &[Length],
        offers: &[Offer],
    ) -> SmallVec<[Stretch; 4]> {
        let mut stretches = SmallVec::new();
        let mut j = self.places - 1;
        loop {
            let (i, before) = self.came[self.at(piece, j, o)];
            let i = i as usize;
            stretches.push(Stretch {
                ends: (places[i], places[j]),
                wood: offers[o].wood,
            });
            if piece == 0 {
                break;
            }
            (piece, j, o) = (piece - 1, i, before as usize);
        }
        stretches.reverse();
        stretches
    }
}

/// The cheapest ways to have reached a place, of those that cost less than `least`: cost, and the offer that came last.
///
/// `done` begins with the place and the first offer; the same place with the next offer comes `places` later.
fn foremost(done: &[f64], places: usize, least: f64) -> SmallVec<[(f64, usize); FOREMOST]> {
    let mut foremost = [(least, 0); FOREMOST];
    let mut count = 0;
    for (p, &cost) in done.iter().step_by(places).enumerate() {
        if cost >= foremost[FOREMOST - 1].0 {
            continue;
        }
        // Of equals the first stays ahead.
        let mut at = count.min(FOREMOST - 1);
        while at > 0 && cost < foremost[at - 1].0 {
            foremost[at] = foremost[at - 1];
            at -= 1;
        }
        foremost[at] = (cost, p);
        count = (count + 1).min(FOREMOST);
    }
    SmallVec::from_slice(&foremost[..count])
}
