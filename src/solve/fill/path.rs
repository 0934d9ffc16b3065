//! The cheapest path along a course through places for joints, with the choice of wood on each stretch.

use super::super::draft::Draft;
use super::super::price;
use super::super::problem::NONE;
use super::super::rack::longest;
use super::super::timber::Part;
use super::offers::Appetite;
use rand::{Rng, RngExt};

/// Some wood with one stretch of room on it.
#[derive(Clone, Copy, Debug)]
pub struct Offer {
    /// The strips, port first.
    pub wood: [u32; 2],
    /// The longest piece that can be cut there. Unit: nm.
    pub room: i64,
    /// Strips that would be cut into for the first time.
    whole: usize,
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
            rooms
                .into_iter()
                .map(move |room| Offer { wood, room, whole })
        };
        let mirrored = draft.problem().rows[row].mirrored;
        wood.iter()
            .filter(|wood| (wood[1] != NONE) == mirrored)
            .flat_map(offers)
            .filter(|offer| offer.room > 0)
            .collect()
    }
}

/// A stretch of the course with the wood for it.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    /// Nominal ends on the skin. Unit: nm.
    pub from: i64,
    /// See `from`.
    pub to: i64,
    /// The strips, port first.
    pub wood: [u32; 2],
}

/// The best way to cover the course, register aside; `None` where the offers can't cover it.
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
    let (n, k) = (places.len(), offers.len());
    if k == 0 {
        return None;
    }
    let last = n - 1;
    let running = running_costs(draft, row, places, offers, appetite, rng);
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
    let start = |o: usize, i: usize, j: usize| {
        let left_over = (offers[o].room - need(i, j)) as f64 / 1e9;
        problem.weights.cut * offers[o].whole as f64 + appetite.thrifty * left_over
    };
    // done[j·k + o]: cheapest way to reach place j with offer o on the stretch before it, in so many pieces.
    let mut done = vec![f64::INFINITY; n * k];
    let mut from: Vec<Vec<(u32, u32)>> = Vec::new();
    let pieces = if n == 2 { 1 } else { problem.most + 1 };
    let mut best: Option<(f64, usize, usize)> = None;
    for piece in 0..pieces {
        let mut next = vec![f64::INFINITY; n * k];
        let mut came = vec![(0, 0); n * k];
        for i in 0..last {
            if (piece == 0) != (i == 0) {
                continue;
            }
            let weight = r.weight(r.x(places[i]));
            for o in 0..k {
                // The best way to begin a stretch of this wood at this place.
                let mut begin = (if piece == 0 { 0.0 } else { f64::INFINITY }, 0);
                if piece > 0 {
                    for p in (0..k).filter(|&p| p != o) {
                        let so_far = done[i * k + p];
                        if so_far < begin.0 {
                            let cost = so_far
                                + weight
                                    * price::joint_rate(problem, offers[p].wood, offers[o].wood);
                            if cost < begin.0 {
                                begin = (cost, p as u32);
                            }
                        }
                    }
                }
                if begin.0.is_infinite() {
                    continue;
                }
                for j in i + 1..n {
                    if need(i, j) > offers[o].room {
                        break;
                    }
                    if !long_enough(i, j) {
                        continue;
                    }
                    let cost = begin.0 + running[j * k + o] - running[i * k + o] + start(o, i, j);
                    if cost < next[j * k + o] {
                        next[j * k + o] = cost;
                        came[j * k + o] = (i as u32, begin.1);
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
        from.push(came);
        done = next;
    }
    let (_, mut piece, mut o) = best?;
    let mut stretches = Vec::with_capacity(piece + 1);
    let mut j = last;
    loop {
        let (i, p) = from[piece][j * k + o];
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
    Some(stretches)
}

/// For each place and offer, the cost of seams and match from the bow end to that place.
fn running_costs(
    draft: &Draft,
    row: usize,
    places: &[i64],
    offers: &[Offer],
    appetite: &Appetite,
    rng: &mut impl Rng,
) -> Vec<f64> {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let xs: Vec<f64> = places.iter().map(|&s| r.x(s)).collect();
    let k = offers.len();
    let mut running = vec![0.0; places.len() * k];
    let looks: Vec<f64> = xs.iter().map(|&x| r.look.up_to(x)).collect();
    for (o, offer) in offers
        .iter()
        .enumerate()
        .filter(|(_, offer)| offer.wood[1] != NONE)
    {
        let rate = problem.match_rate(offer.wood[0], offer.wood[1]);
        for (j, look) in looks.iter().enumerate() {
            running[j * k + o] += rate * look;
        }
    }
    let seams = [
        r.before.and_then(|b| problem.rows[b].seam.as_ref()),
        r.seam.as_ref(),
    ];
    for (profile, others) in seams.into_iter().zip(draft.neighbours(row)) {
        let Some(profile) = profile else { continue };
        for other in others {
            let met: Vec<f64> = xs
                .iter()
                .map(|&x| profile.between(other.x_from, x.min(other.x_to)))
                .collect();
            for (o, offer) in offers.iter().enumerate() {
                let rate = rate_beside(draft, row, offer.wood, other);
                for (j, met) in met.iter().enumerate() {
                    running[j * k + o] += rate * met;
                }
            }
        }
    }
    if appetite.jitter > 0.0 {
        for o in 0..k {
            let by = 1.0 + appetite.jitter * (rng.random::<f64>() - 0.5);
            (0..places.len()).for_each(|j| running[j * k + o] *= by);
        }
    }
    running
}

/// What a metre of seam beside another part costs, register aside where the end to the bow is still free.
fn rate_beside(draft: &Draft, row: usize, wood: [u32; 2], other: &Part) -> f64 {
    let problem = draft.problem();
    let only_end = match problem.bow_ends(row, wood) {
        [only] => Some(*only),
        _ => None,
    };
    let rate = |&(i, j): &(usize, usize)| {
        let turned = only_end.is_some_and(|end| end != other.bow[j])
            && problem.one_board(wood[i], other.wood[j]);
        problem.seam_rate(wood[i], other.wood[j]) + if turned { problem.weights.shift } else { 0.0 }
    };
    price::meeting_sides(wood, other.wood)
        .iter()
        .map(rate)
        .sum()
}
