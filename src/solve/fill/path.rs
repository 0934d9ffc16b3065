//! The cheapest path along a course through places for joints, with the choice of wood on each stretch.

use super::super::draft::{Draft, Stretch};
use super::super::price;
use super::super::problem::{NONE, There};
use super::super::rack::longest;
use super::glued_on;
use super::offers::Appetite;
use super::running::Along;
use rand::{Rng, RngExt};

/// Wood that is looked at closely. More makes each filling better and slower.
const SHORTLIST: usize = 16;
/// Ways to have come to a place that a stretch may follow on from.
const FOREMOST: usize = 4;

/// Some wood with one stretch of room on it.
#[derive(Clone, Copy, Debug)]
pub struct Offer {
    /// The strips, port first.
    pub wood: [u32; 2],
    /// The longest piece that can be cut there. Unit: nm.
    pub room: i64,
    /// Strips that would be cut into for the first time.
    whole: usize,
    /// The part of the course that this wood is glued on, of those that are: it serves nowhere else.
    only: Option<usize>,
}

impl Offer {
    /// The offers for some wood, without those that have no room at all.
    pub fn all(draft: &Draft, row: usize, wood: &[[u32; 2]]) -> Vec<Offer> {
        let offers = |&wood: &[u32; 2]| {
            let mut rooms: Vec<i64> = draft.room(wood).iter().map(|(a, b)| b - a).collect();
            rooms.sort_unstable_by_key(|room| std::cmp::Reverse(*room));
            // The two longest: enough to scarf a strip to itself where a defect was cut out.
            rooms.truncate(2);
            if wood[1] != NONE && !draft.problem().one_board(wood[0], wood[1]) {
                rooms.truncate(1);
                let other = longest(&draft.room([wood[1], NONE]));
                rooms.iter_mut().for_each(|room| *room = other.min(*room));
            }
            let whole = draft.whole(wood);
            rooms.into_iter().map(move |room| Offer {
                wood,
                room,
                whole,
                only: None,
            })
        };
        let mirrored = draft.problem().rows[row].mirrored;
        wood.iter()
            .filter(|wood| (wood[1] != NONE) == mirrored)
            .flat_map(offers)
            .filter(|offer| offer.room > 0)
            .chain(glued_on::offers(draft, row))
            .collect()
    }

    /// What is glued on a course as part `only` of those that are, with a mate for it where it has none yet.
    pub(super) fn glued(wood: [u32; 2], only: usize, whole: usize) -> Offer {
        Offer {
            wood,
            room: i64::MAX,
            whole,
            only: Some(only),
        }
    }
}

/// How a stretch came about: the place where it begins, and the offer on the stretch before it.
type Came = (usize, usize);

/// The best way to cover the course, register aside; `None` where the offers can't cover it.
///
/// Exact but for two cuts that keep it fast: only the offers that would cost least along the whole course are
/// looked at, and at each joint only the cheapest ways to have come there.
pub fn best(
    draft: &Draft,
    row: usize,
    places: &[i64],
    offers: &[Offer],
    appetite: &Appetite,
    rng: &mut impl Rng,
) -> Option<Vec<Stretch>> {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let (n, last) = (places.len(), places.len() - 1);
    let along = Along::new(draft, row, places);
    let (offers, running) = shortlist(&along, offers, appetite.jitter, rng);
    let k = offers.len();
    let need = |i: usize, j: usize| {
        let ahead = if i == 0 {
            r.allow[0]
        } else {
            problem.half_scarf
        };
        let abaft = if j == last {
            r.allow[1]
        } else {
            problem.half_scarf
        };
        places[j] - places[i] + ahead + abaft
    };
    let long_enough =
        |i: usize, j: usize| places[j] - places[i] >= problem.shortest || (i == 0 && j == last);
    let glued = &problem.glued[row];
    // What is glued stays where it is, in its number from the bow, and nothing else lies there.
    let agrees = |o: usize, i: usize, j: usize, piece: usize| {
        glued.is_empty()
            || match problem.glued_between(row, places[i], places[j]) {
                There::InTheWay => false,
                There::Nothing => offers[o].only.is_none(),
                There::Just(there) => {
                    offers[o].only.is_some_and(|only| glued[only] == *there) && there.index == piece
                }
            }
    };
    let begin_on = |o: usize, i: usize, j: usize| {
        if offers[o].only.is_some() {
            return problem.weights.cut * offers[o].whole as f64;
        }
        let left_over = (offers[o].room - need(i, j)) as f64 / 1e9;
        problem.weights.cut * offers[o].whole as f64 + appetite.thrifty * left_over
    };
    // done[j·k + o]: cheapest way to reach place j with offer o on the stretch before it, in so many pieces.
    let mut done = vec![f64::INFINITY; n * k];
    let mut history: Vec<Vec<Came>> = Vec::new();
    let mut best: Option<(f64, usize, usize)> = None;
    // No more pieces than there are stretches between places.
    let pieces = problem.most.saturating_add(1).min(last);
    for piece in 0..pieces {
        let mut next = vec![f64::INFINITY; n * k];
        let mut came = vec![(0, 0); n * k];
        let starts = if piece == 0 { 0..1 } else { 1..last };
        for i in starts {
            let before = foremost(&done[i * k..(i + 1) * k]);
            let shaken = 1.0 - appetite.jitter.min(1.0) * rng.random::<f64>();
            let weight = shaken * r.weight(r.x(places[i]));
            for o in 0..k {
                let (so_far, p) = if piece == 0 {
                    (0.0, 0)
                } else {
                    let joined = |&(cost, p): &(f64, usize)| {
                        (
                            cost + weight
                                * price::joint_rate(problem, offers[p].wood, offers[o].wood),
                            p,
                        )
                    };
                    let ways = before.iter().filter(|(_, p)| *p != o).map(joined);
                    match ways.min_by(|a, b| a.0.total_cmp(&b.0)) {
                        Some(way) => way,
                        None => continue,
                    }
                };
                // Whatever comes after costs something too.
                if best.is_some_and(|(least, ..)| so_far >= least) {
                    continue;
                }
                for j in i + 1..n {
                    if need(i, j) > offers[o].room {
                        break;
                    }
                    if !(long_enough(i, j) || offers[o].only.is_some()) || !agrees(o, i, j, piece) {
                        continue;
                    }
                    let cost = so_far + running[o][j] - running[o][i] + begin_on(o, i, j);
                    if cost < next[j * k + o] {
                        next[j * k + o] = cost;
                        came[j * k + o] = (i, p);
                    }
                }
            }
        }
        for o in 0..k {
            let cost = next[last * k + o];
            if cost.is_finite() && best.is_none_or(|(least, ..)| cost < least) {
                best = Some((cost, piece, o));
            }
        }
        history.push(came);
        done = next;
    }
    let (_, piece, o) = best?;
    Some(retrace(&history, piece, o, places, &offers))
}

fn retrace(
    history: &[Vec<Came>],
    mut piece: usize,
    mut o: usize,
    places: &[i64],
    offers: &[Offer],
) -> Vec<Stretch> {
    let mut stretches = Vec::with_capacity(piece + 1);
    let mut j = places.len() - 1;
    loop {
        let (i, p) = history[piece][j * offers.len() + o];
        stretches.push(Stretch {
            from: places[i],
            to: places[j],
            wood: offers[o].wood,
        });
        if piece == 0 {
            break;
        }
        (piece, j, o) = (piece - 1, i, p);
    }
    stretches.reverse();
    stretches
}

/// The offers that would cost least along the whole course, and what each costs up to every place.
///
/// `jitter` is how far the costs of each offer are shaken, as a part of them.
fn shortlist(
    along: &Along,
    offers: &[Offer],
    jitter: f64,
    rng: &mut impl Rng,
) -> (Vec<Offer>, Vec<Vec<f64>>) {
    let mut all: Vec<(f64, f64, Offer, Vec<f64>)> = offers
        .iter()
        .map(|offer| {
            let rates = along.rates(offer.wood);
            let shaken = 1.0 + jitter * (rng.random::<f64>() - 0.5);
            (shaken * along.whole(&rates), shaken, *offer, rates)
        })
        .collect();
    let held: Vec<_> = extract(&mut all, |(_, _, offer, _)| offer.only.is_some());
    if all.len() > SHORTLIST {
        all.select_nth_unstable_by(SHORTLIST, |a, b| {
            a.0.total_cmp(&b.0)
                .then((a.2.wood, a.2.room).cmp(&(b.2.wood, b.2.room)))
        });
        all.truncate(SHORTLIST);
        all.sort_unstable_by_key(|(_, _, offer, _)| (offer.wood, offer.room));
    }
    all.into_iter()
        .chain(held)
        .map(|(_, shaken, offer, rates)| (offer, along.running(&rates, shaken)))
        .unzip()
}

/// Takes out what the choice names.
fn extract<T>(all: &mut Vec<T>, choice: impl Fn(&T) -> bool) -> Vec<T> {
    let (taken, kept) = std::mem::take(all).into_iter().partition(choice);
    *all = kept;
    taken
}

/// The cheapest ways to have reached a place: cost, and the offer that came last.
fn foremost(done: &[f64]) -> Vec<(f64, usize)> {
    let mut reached: Vec<(f64, usize)> = done
        .iter()
        .enumerate()
        .filter(|(_, cost)| cost.is_finite())
        .map(|(p, &cost)| (cost, p))
        .collect();
    reached.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    reached.truncate(FOREMOST);
    reached
}
