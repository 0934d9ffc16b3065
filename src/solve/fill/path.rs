//! The cheapest path along a course through places for joints, with the choice of wood on each stretch.

use super::super::draft::{Draft, Stretch};
use super::super::price;
use super::super::problem::{Problem, There};
use super::offer::Offer;
use super::offers::Appetite;
use super::running::Along;
use super::shortlist::Shortlist;
use rand::{Rng, RngExt};
use smallvec::SmallVec;

/// Ways to have come to a place that a stretch may follow on from.
const FOREMOST: usize = 4;

/// How a stretch came about: the place where it begins, and the offer on the stretch before it.
type Came = (u32, u32);

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
) -> Option<SmallVec<[Stretch; 4]>> {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let (n, last) = (places.len(), places.len() - 1);
    let along = Along::new(draft, row, places);
    let shortlist = Shortlist::new(&along, offers, appetite.jitter, rng);
    let offers = &shortlist.offers[..];
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
    let begin_on = |o: usize, need: i64| {
        let begin = problem.weights.cut * offers[o].whole as f64;
        if offers[o].only.is_some() || appetite.thrifty == 0.0 {
            return begin;
        }
        let left_over = (offers[o].room - need) as f64 / 1e9;
        begin + appetite.thrifty * left_over
    };
    // No more pieces than there are stretches between places.
    let pieces = problem.most.saturating_add(1).min(last);
    // done[j·k + o]: cheapest way to reach place j with offer o on the stretch before it, in so many pieces.
    let mut done = vec![f64::INFINITY; n * k];
    let mut next = vec![f64::INFINITY; n * k];
    // How each of them came about, for one piece after the other.
    let mut history: Vec<Came> = vec![(0, 0); pieces * n * k];
    let mut joined = Joined::new(problem, offers);
    let mut best: Option<(f64, usize, usize)> = None;
    for piece in 0..pieces {
        let came = &mut history[piece * n * k..(piece + 1) * n * k];
        next.fill(f64::INFINITY);
        let starts = if piece == 0 { 0..1 } else { 1..last };
        for i in starts {
            let before = foremost(&done[i * k..(i + 1) * k]);
            let shaken = 1.0 - appetite.jitter.min(1.0) * rng.random::<f64>();
            if piece > 0 && before.is_empty() {
                continue;
            }
            let weight = shaken * r.weight(along.xs[i]);
            for &(_, p) in &before {
                joined.work_out(p);
            }
            let needs: SmallVec<[(i64, bool); 16]> = (i + 1..n)
                .map(|j| (need(i, j), long_enough(i, j)))
                .collect();
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
                // Whatever comes after costs something too.
                if best.is_some_and(|(least, ..)| so_far >= least) {
                    continue;
                }
                let running = shortlist.running(o);
                for (j, &(need, long_enough)) in (i + 1..n).zip(&needs) {
                    if need > offers[o].room {
                        break;
                    }
                    if !(long_enough || offers[o].only.is_some()) || !agrees(o, i, j, piece) {
                        continue;
                    }
                    let cost = so_far + running[j] - running[i] + begin_on(o, need);
                    if cost < next[j * k + o] {
                        next[j * k + o] = cost;
                        came[j * k + o] = (i as u32, p as u32);
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
        std::mem::swap(&mut done, &mut next);
    }
    let (_, piece, o) = best?;
    Some(retrace(&history, piece, o, places, offers))
}

fn retrace(
    history: &[Came],
    mut piece: usize,
    mut o: usize,
    places: &[i64],
    offers: &[Offer],
) -> SmallVec<[Stretch; 4]> {
    let mut stretches = SmallVec::new();
    let (n, k) = (places.len(), offers.len());
    let mut j = n - 1;
    loop {
        let (i, p) = history[(piece * n + j) * k + o];
        stretches.push(Stretch {
            from: places[i as usize],
            to: places[j],
            wood: offers[o].wood,
        });
        if piece == 0 {
            break;
        }
        (piece, j, o) = (piece - 1, i as usize, p as usize);
    }
    stretches.reverse();
    stretches
}

/// The cheapest ways to have reached a place: cost, and the offer that came last.
fn foremost(done: &[f64]) -> SmallVec<[(f64, usize); FOREMOST]> {
    let mut foremost: SmallVec<[(f64, usize); FOREMOST]> = SmallVec::new();
    for (p, &cost) in done.iter().enumerate() {
        if !cost.is_finite() || foremost.len() == FOREMOST && cost >= foremost[FOREMOST - 1].0 {
            continue;
        }
        foremost.truncate(FOREMOST - 1);
        // Of equals the first stays ahead.
        let dearer = foremost.iter().position(|(other, _)| cost < *other);
        foremost.insert(dearer.unwrap_or(foremost.len()), (cost, p));
    }
    foremost
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
