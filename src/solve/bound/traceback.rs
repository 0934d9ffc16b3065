//! The cheapest path of a pass, walked back pair by pair.
//!
//! A pass keeps costs only. Where each came from is passed again by adding up anew: the same sums in the same order
//! give the same number.

use super::buckets::ResourceState;
use super::classes::{Classes, Kind};
use super::labelling::{Direction, Pass, seam};
use super::segments::Segments;
use super::tails::{Tail, Tails};
use std::collections::BTreeMap;

/// The class and pair on each layer of the cheapest path. Where there are courses beyond the tail, `far` is the pass
/// that came from there.
pub fn traceback(pass: &Pass, far: Option<&Pass>) -> Option<Vec<(usize, usize)>> {
    let mut path = vec![(0, 0); pass.classes.layers()];
    let last = cheapest(pass)?;
    let (class, begun) = walk_back(pass, pass.steps - 1, last, &mut path)?;
    if let Some(tails) = pass.tails {
        let tail = tail(pass, tails, &begun, class)?;
        for (at, laid) in path[pass.classes.shorts.tail.clone()]
            .iter_mut()
            .zip(&tail.at)
        {
            *at = *laid;
        }
        if let (Some(far), Some((exit, at))) = (far, tail.beyond) {
            let exit = &tails.beyond[exit];
            let last = (exit.class, exit.state, at, exit.costs[at]);
            walk_back(far, far.last_before_tail(), last, &mut path)?;
        }
    }
    Some(path)
}

/// Where a path is on a step: in a class, in a resource state, with a pair; and what it cost up to there.
type At = (usize, ResourceState, usize, f64);

/// Enters what a path laid that is somewhere on a step; gives back how its first segment began, and in which class.
fn walk_back(
    pass: &Pass,
    mut step: usize,
    (mut class, mut state, mut at, mut cost): At,
    path: &mut [(usize, usize)],
) -> Option<(usize, Begun)> {
    loop {
        let begun = began(pass, step, (class, &state, at, cost))?;
        let (upper, lower) = match pass.way {
            Direction::Down => (begun.pair, at),
            Direction::Up => (at, begun.pair),
        };
        let top = pass.layer(step).min(pass.layer(begun.step));
        let pairs = within(
            pass.classes,
            pass.segments,
            class,
            top,
            step - begun.step,
            [upper, lower],
            state.barred,
        )?;
        for (l, pair) in (top..).zip(pairs) {
            path[l] = (class, pair);
        }
        if begun.step == pass.first_step() {
            return Some((class, begun));
        }
        (class, state, at, cost) = came(pass, &begun, class)?;
        step = begun.step - 1;
    }
}

fn cheapest(pass: &Pass) -> Option<At> {
    let last = pass.left.last()?.iter().enumerate();
    let each = last.flat_map(|(class, buckets)| {
        let buckets = buckets.all(pass.classes.size(class));
        buckets.flat_map(move |(state, costs)| {
            let costs = costs.iter().enumerate();
            costs.map(move |(at, cost)| (class, *state, at, *cost))
        })
    });
    each.min_by(|a, b| a.3.total_cmp(&b.3))
}

/// How a segment began.
struct Begun {
    step: usize,
    state: ResourceState,
    pair: usize,
    cost: f64,
}

/// How the segment began that ends on this step, with this pair.
fn began(
    pass: &Pass,
    step: usize,
    (class, state, at, cost): (usize, &ResourceState, usize, f64),
) -> Option<Begun> {
    let n = pass.classes.size(class);
    let barred = state.barred;
    let mut strips = 0;
    for first in (pass.first_step()..=step).rev() {
        strips += pass.classes.strips[pass.layer(first)];
        let top = pass.layer(step).min(pass.layer(first));
        let table = pass.segments.table(class, top, step - first)?;
        for (begun, costs) in pass.entered[first][class].all(n) {
            let same = (pass.classes.home(class).is_none() || begun.taken + strips == state.taken)
                && begun.others == state.others
                && (begun.barred == barred || pass.tails.is_none());
            if !same {
                continue;
            }
            let cost_from = |p: usize| {
                if barred != 0 {
                    let begun = std::iter::once((p, costs[p]));
                    let around = pass.around((first, class), begun, barred, step - first);
                    return around
                        .ends(step - first)
                        .map_or(f64::INFINITY, |ends| ends[at]);
                }
                let segment = match pass.way {
                    Direction::Down => table[p * n + at],
                    Direction::Up => table[at * n + p],
                };
                costs[p] + segment
            };
            if let Some(pair) = (0..n).find(|&p| cost_from(p) == cost) {
                return Some(Begun {
                    step: first,
                    state: *begun,
                    pair,
                    cost: costs[pair],
                });
            }
        }
    }
    None
}

/// The tail that a path came from.
fn tail<'t>(pass: &Pass, tails: &'t Tails, begun: &Begun, class: usize) -> Option<&'t Tail> {
    let (met, rates) = (pass.met(begun.step), pass.rates(begun.step));
    let n = pass.classes.size(class);
    let leads_here = |tail: &&Tail| {
        let (from, i) = tail.at[0];
        let rate = rates[from][class][i * n + begun.pair];
        tail.cost(pass.classes, class)
            .map(|cost| cost + seam(met, rate))
            == Some(begun.cost)
            && pass.after_tail(begun.step, tail, class) == begun.state
    };
    tails.all.iter().find(leads_here)
}

/// Where a path was before the segment: the class that it left, what it knew, and the pair.
fn came(pass: &Pass, begun: &Begun, class: usize) -> Option<At> {
    let n = pass.classes.size(class);
    let met = pass.met(begun.step);
    let left = pass.left[begun.step - 1].iter().enumerate();
    for (from, buckets) in left.filter(|(from, _)| pass.may_enter(*from, class)) {
        for (state, costs) in buckets.all(pass.classes.size(from)) {
            let leads_here =
                |i: usize| pass.state_entering(begun.step, (from, state, i), class) == begun.state;
            let each = pass.depends_on_pair(from);
            if !each && !leads_here(0) {
                continue;
            }
            let rate = |i: usize| pass.rates(begun.step)[from][class][i * n + begun.pair];
            let same = |i: &usize| {
                costs[*i] + seam(met, rate(*i)) == begun.cost && (!each || leads_here(*i))
            };
            if let Some(at) = (0..costs.len()).find(same) {
                return Some((from, *state, at, costs[at]));
            }
        }
    }
    None
}

/// The pairs of the cheapest segment of so many courses more than one, from its uppermost pair to its lowest.
fn within(
    classes: &Classes,
    segments: &Segments,
    class: usize,
    top: usize,
    more: usize,
    [upper, lower]: [usize; 2],
    barred: u64,
) -> Option<Vec<usize>> {
    if let Kind::Runs(_) = classes.kind(class) {
        return Some(vec![upper; more + 1]);
    }
    let c = &classes.all[class];
    let last = |state: u32| c.last[state as usize] as usize;
    // By course: the states that can be reached, with what each costs and the state before.
    let begun = BTreeMap::from([(upper as u32, (segments.entry[top][class][upper], 0))]);
    let mut reached: Vec<BTreeMap<u32, (f64, u32)>> = vec![begun];
    for l in top + 1..=top + more {
        let mut next: BTreeMap<u32, (f64, u32)> = BTreeMap::new();
        for (&state, &(cost, _)) in &reached[l - 1 - top] {
            let free = c.transitions[state as usize]
                .iter()
                .filter(|one| c.masks[one.1 as usize] & barred == 0);
            for &(to, r) in free {
                let entry = segments.entry[l][class][r as usize];
                let cost = cost + (classes.seam(class, l - 1, last(state), r as usize) + entry);
                let least = next.entry(to).or_insert((f64::INFINITY, state));
                if cost < least.0 {
                    *least = (cost, state);
                }
            }
        }
        reached.push(next);
    }
    let ends = reached[more]
        .iter()
        .filter(|(state, _)| last(**state) == lower);
    let (mut state, _) = ends.min_by(|a, b| a.1.0.total_cmp(&b.1.0))?;
    let mut pairs = Vec::with_capacity(more + 1);
    for reached in reached.iter().rev() {
        pairs.push(last(*state));
        state = &reached.get(state)?.1;
    }
    pairs.reverse();
    Some(pairs)
}
