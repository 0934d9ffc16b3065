//! The cheapest path of a pass, walked back pair by pair.
//!
//! A pass keeps costs only. Where each came from is found again by adding up anew: the same sums in the same order give the same number.

use super::field::Field;
use super::groups::Known;
use super::pass::{Pass, Way, seam};
use super::table::Stays;
use std::collections::BTreeMap;

/// The crew and pair on each link of the cheapest path.
pub fn walk(pass: &Pass) -> Option<Vec<(usize, usize)>> {
    let links = pass.field.links();
    let mut path = vec![(0, 0); links];
    let mut step = links - 1;
    let (mut crew, mut known, mut at) = cheapest(pass)?;
    loop {
        let begun = began(pass, step, crew, &known, at)?;
        let (upper, lower) = match pass.way {
            Way::Down => (begun.pair, at),
            Way::Up => (at, begun.pair),
        };
        let top = pass.link(step).min(pass.link(begun.step));
        let pairs = within(
            pass.field,
            pass.stays,
            crew,
            top,
            step - begun.step,
            [upper, lower],
        )?;
        for (l, pair) in (top..).zip(pairs) {
            path[l] = (crew, pair);
        }
        if begun.step == 0 {
            return Some(path);
        }
        (crew, known, at) = came(pass, &begun, crew)?;
        step = begun.step - 1;
    }
}

fn cheapest(pass: &Pass) -> Option<(usize, Known, usize)> {
    let last = pass.left.last()?.iter().enumerate();
    let each = last.flat_map(|(crew, groups)| {
        let groups = groups.all(pass.field.size(crew));
        groups.flat_map(move |(known, costs)| {
            let costs = costs.iter().enumerate();
            costs.map(move |(at, cost)| (*cost, (crew, *known, at)))
        })
    });
    each.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, end)| end)
}

/// How a stay began.
struct Begun {
    step: usize,
    known: Known,
    pair: usize,
    cost: f64,
}

/// How the stay began that ends on this step, with this pair.
fn began(pass: &Pass, step: usize, crew: usize, known: &Known, at: usize) -> Option<Begun> {
    let n = pass.field.size(crew);
    let mut left = pass.left[step][crew].all(n);
    let cost = left.find(|(other, _)| *other == known)?.1[at];
    let mut strips = 0;
    for first in (0..=step).rev() {
        strips += pass.field.strips[pass.link(first)];
        let top = pass.link(step).min(pass.link(first));
        let table = pass.stays.table(crew, top, step - first)?;
        for (begun, costs) in pass.entered[first][crew].all(n) {
            let same = pass.field.home(crew).is_none() || begun.gone + strips == known.gone;
            if begun.others != known.others || !same {
                continue;
            }
            let stay = |p: usize| match pass.way {
                Way::Down => table[p * n + at],
                Way::Up => table[at * n + p],
            };
            if let Some(pair) = (0..n).find(|&p| costs[p] + stay(p) == cost) {
                return Some(Begun {
                    step: first,
                    known: *begun,
                    pair,
                    cost: costs[pair],
                });
            }
        }
    }
    None
}

/// Where a path was before the stay: the crew that it left, what it knew, and the pair.
fn came(pass: &Pass, begun: &Begun, crew: usize) -> Option<(usize, Known, usize)> {
    let n = pass.field.size(crew);
    let met = pass.met(begun.step);
    let left = pass.left[begun.step - 1].iter().enumerate();
    for (from, groups) in left.filter(|(from, _)| pass.may_enter(*from, crew)) {
        for (known, costs) in groups.all(pass.field.size(from)) {
            if pass.known(from, known, crew) != begun.known {
                continue;
            }
            let rate = |i: usize| pass.field.rates[from][crew][i * n + begun.pair];
            let same = |i: &usize| costs[*i] + seam(met, rate(*i)) == begun.cost;
            if let Some(at) = (0..costs.len()).find(same) {
                return Some((from, *known, at));
            }
        }
    }
    None
}

/// The pairs of the cheapest stay of so many courses more than one, from its uppermost pair to its lowest.
fn within(
    field: &Field,
    stays: &Stays,
    crew: usize,
    top: usize,
    more: usize,
    [upper, lower]: [usize; 2],
) -> Option<Vec<usize>> {
    let c = &field.crews[crew];
    let last = |state: u32| c.last[state as usize] as usize;
    // By course: the states that can be reached, with what each costs and the state before.
    let begun = BTreeMap::from([(upper as u32, (stays.entry[top][crew][upper], 0))]);
    let mut reached: Vec<BTreeMap<u32, (f64, u32)>> = vec![begun];
    for l in top + 1..=top + more {
        let mut next: BTreeMap<u32, (f64, u32)> = BTreeMap::new();
        for (&state, &(cost, _)) in &reached[l - 1 - top] {
            for &(to, r) in &c.turns[state as usize] {
                let entry = stays.entry[l][crew][r as usize];
                let cost = cost + (field.seam(crew, l - 1, last(state), r as usize) + entry);
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
