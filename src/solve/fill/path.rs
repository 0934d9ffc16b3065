//! The cheapest path along a course through places for joints, with the choice of wood on each stretch.

use super::super::draft::{Draft, Stretch};
use super::super::price;
use super::super::problem::{Problem, Span, There};
use super::offer::Offer;
use super::offers::ConstructionParameters;
use super::running::Along;
use super::shortlist::Shortlist;
use crate::solve::tuning::fill::FOREMOST;
use crate::units::Length;
use rand::{Rng, RngExt};
use smallvec::SmallVec;

/// The best way to cover the course, register aside; `None` where the offers can't cover it.
///
/// Exact but for two cuts that keep it fast: only the offers that would cost least along the whole course are
/// looked at, and at each joint only the cheapest ways to have come there.
pub fn best(
    draft: &Draft,
    row: usize,
    places: &[Length],
    offers: &[Offer],
    parameters: &ConstructionParameters,
    rng: &mut impl Rng,
) -> Option<SmallVec<[Stretch; 4]>> {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let (n, last) = (places.len(), places.len() - 1);
    let along = Along::new(draft, row, places);
    let shortlist = Shortlist::new(&along, offers, parameters.jitter, rng);
    let offers = &shortlist.offers[..];
    let k = offers.len();
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
    let mut joined = Joined::new(problem, offers);
    let rooms = offers.iter().map(|offer| offer.room);
    let longest = rooms.max().unwrap_or_default();
    let mut best: Option<(usize, usize)> = None;
    // Shaken costs lie above the true ones by half of the jitter at most. What is charged for room left over has no
    // limit.
    let mut least = match parameters.thrifty {
        0.0 => draft.cut_off(row) * (1.0 + 0.5 * parameters.jitter),
        _ => f64::INFINITY,
    };
    let rest = completion_bounds(&shortlist, n, k);
    let mut reached = 0;
    if rest[0] >= least {
        return None;
    }
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
            let weight = shaken * r.weight(along.xs[i]);
            for &(_, p) in &before {
                joined.work_out(p);
            }
            let needs: SmallVec<[Length; 16]> = ends.iter().map(|end| end.1 - ends[i].0).collect();
            // The first place that makes a piece long enough; a course in one piece may be as short as it is.
            let far = places.partition_point(|&place| place - places[i] < problem.shortest);
            let far = if i == 0 { far.min(last) } else { far };
            for o in 0..k {
                let (so_far, p) = if piece == 0 {
                    (0.0, 0)
                } else {
                    let ways = before.iter().filter(|(_, p)| *p != o);
                    let ways = ways.map(|&(cost, p)| (cost + weight * joined.rate(p, o), p));
                    match ways.min_by(|a, b| a.0.total_cmp(&b.0)) {
                        Some(way) => way,
                        None => continue,
                    }
                };
                if so_far >= least - rest[i] {
                    continue;
                }
                history.follow_on(piece, i, o, p);
                let Offer {
                    room, whole, only, ..
                } = offers[o];
                let begin = problem.weights.cut * whole as f64;
                let reach = (i + 1..n).find(|&j| needs[j] > room).unwrap_or(n);
                let nearest = match only {
                    Some(_) => i + 1,
                    None => far.max(i + 1),
                };
                let running = shortlist.running(o);
                let (next, came) = (&mut next[o * n..(o + 1) * n], history.came(piece, o));
                let thrifty = match only {
                    Some(_) => 0.0,
                    None => parameters.thrifty,
                };
                for j in nearest.max(within_reach)..reach {
                    if !agrees(o, i, j, piece) {
                        continue;
                    }
                    let begin = match thrifty {
                        0.0 => begin,
                        _ => begin + thrifty * (room - needs[j]).metres(),
                    };
                    let labels = offers[o].labels(problem, row, (places[i], places[j]));
                    let cost = so_far + running[j] - running[i] + begin + labels;
                    if cost < next[j].min(least - rest[j]) {
                        next[j] = cost;
                        came[j] = i as u32;
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

/// What the rest of the course costs at least from each place on, joints aside: on every stretch between two places, as
/// little as any of the offers does.
fn completion_bounds(shortlist: &Shortlist, places: usize, offers: usize) -> SmallVec<[f64; 16]> {
    let mut rest = SmallVec::from_elem(0.0, places);
    for j in (0..places - 1).rev() {
        let along = (0..offers).map(|o| shortlist.running(o)[j + 1] - shortlist.running(o)[j]);
        rest[j] = rest[j + 1] + along.fold(f64::INFINITY, f64::min);
    }
    rest
}

/// How each way to cover some of the course came about, by the number of pieces.
struct History {
    places: usize,
    offers: usize,
    /// Where the stretch begins that ends at a place with an offer.
    came: Vec<u32>,
    /// Which offer lies before a stretch that begins at a place with an offer.
    before: Vec<u32>,
}

impl History {
    fn new(pieces: usize, places: usize, offers: usize) -> History {
        History {
            places,
            offers,
            came: vec![0; pieces * places * offers],
            before: vec![0; pieces * places * offers],
        }
    }

    fn at(&self, piece: usize, place: usize, offer: usize) -> usize {
        (piece * self.offers + offer) * self.places + place
    }

    fn follow_on(&mut self, piece: usize, place: usize, offer: usize, before: usize) {
        let at = self.at(piece, place, offer);
        self.before[at] = before as u32;
    }

    fn came(&mut self, piece: usize, offer: usize) -> &mut [u32] {
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
            let i = self.came[self.at(piece, j, o)] as usize;
            stretches.push(Stretch {
                ends: (places[i], places[j]),
                wood: offers[o].wood,
            });
            if piece == 0 {
                break;
            }
            let before = self.before[self.at(piece, i, o)];
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

/// What a joint costs at weight 1 from each offer to each other, worked out when it is first asked for.
struct Joined<'a> {
    problem: &'a Problem,
    offers: &'a [Offer],
    /// A row for each offer before the joint.
    rates: Vec<f64>,
    known: SmallVec<[bool; 32]>,
}

impl<'a> Joined<'a> {
    fn new(problem: &'a Problem, offers: &'a [Offer]) -> Joined<'a> {
        Joined {
            problem,
            offers,
            rates: Vec::new(),
            known: SmallVec::from_elem(false, offers.len()),
        }
    }

    /// Works out the joints abaft an offer.
    fn work_out(&mut self, fore: usize) {
        let (problem, offers) = (self.problem, self.offers);
        if std::mem::replace(&mut self.known[fore], true) {
            return;
        }
        self.rates.resize(offers.len() * offers.len(), 0.0);
        let row = self.rates[fore * offers.len()..].iter_mut();
        for (rate, aft) in row.zip(offers) {
            *rate = price::joint_rate(problem, offers[fore].wood, aft.wood);
        }
    }

    #[inline]
    fn rate(&self, fore: usize, aft: usize) -> f64 {
        self.rates[fore * self.offers.len() + aft]
    }
}
