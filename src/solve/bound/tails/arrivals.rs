//! The courses before and beyond the tail: what they cost at least beside each choice, and what they took.

use super::choices::{Choice, Course, course};
use super::joined::last_slots;
use super::search::Beside;
use crate::solve::bound::bits::Bits;
use crate::solve::bound::classes::Classes;
use crate::solve::bound::dual::DualState;
use crate::solve::bound::labelling::{CompletionBounds, Exit, seam};
use crate::solve::tuning::buckets::MOST_FOR_DOMINANCE;
use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::hash_map::Entry;

/// What is known of the courses before and beyond the tail.
pub struct Ends<'e> {
    /// The paths that came to the tail.
    pub exits: Vec<Exit>,
    /// The same from the courses beyond; none where there are no such courses.
    pub beyond: Vec<Exit>,
    /// What it costs at least to come to each pair, from the courses before.
    pub come: &'e CompletionBounds,
    /// The same from the courses beyond, or from the last of the tail.
    pub rest: &'e CompletionBounds,
}

/// Long courses before the first of the tail, or after the last.
#[derive(Clone, Copy)]
pub struct Arrival {
    /// What they cost at least, the seam with that course included.
    pub cost: f64,
    /// See [`Exit::taken`].
    pub taken: Bits,
    /// What the courses on the other side of the tail cost at least, with the short ones beside them, where they leave
    /// what these take; nothing where that is reckoned otherwise.
    pub others: f64,
    /// The exit, and the pair that it was left with; `None` where there is no course.
    pub from: Option<(usize, usize)>,
}

impl Arrival {
    /// No course.
    pub const NONE: Arrival = Arrival {
        cost: 0.0,
        taken: Bits::NONE,
        others: 0.0,
        from: None,
    };

    /// What it costs at least with the other side.
    pub fn least(&self) -> f64 {
        self.cost + self.others
    }
}

/// By choice on the first of some courses, the long courses before it; `others` are the ways to lay the other side, see
/// [`beside_others`], where they are known.
pub fn near(
    classes: &Classes,
    ends: &Ends,
    courses: &[Course],
    others: Option<&[Arrival]>,
    cutoff: f64,
) -> Beside {
    let Some(first) = courses.first() else {
        return Vec::new();
    };
    let near = |choice: &Choice| {
        let beside = (first.met, first.charge);
        let most = cutoff - choice.least();
        let mut near = arrivals(classes, &ends.exits, choice, beside, most);
        if let Some(others) = others {
            { near.iter_mut() }.for_each(|near| beside_others(near, others, most));
        }
        near
    };
    first.choices.par_iter().map(near).collect()
}

/// By choice on the last of some courses, the courses beyond it.
pub fn beyond(classes: &Classes, ends: &Ends, courses: &[Course], cutoff: f64) -> Beside {
    let Some(last) = courses.last() else {
        return Vec::new();
    };
    let beyond = |choice: &Choice| {
        let Some(&met) = classes.met.get(last.layer) else {
            return [vec![Arrival::NONE], Vec::new()];
        };
        let (class, at) = choice.at;
        let before = ends.come.entry[last.layer][class][at] + choice.cost + choice.parts;
        let beside = (met, classes.charge[last.layer][1]);
        arrivals(classes, &ends.beyond, choice, beside, cutoff - before)
    };
    last.choices.par_iter().map(beyond).collect()
}

/// What the courses of the tail after its first panel cost at least with those beyond, by what the latter take; strips
/// paid by parts. `before` is what the courses before each cost at least, by course, class and pair.
pub fn with_beyond(
    classes: &Classes,
    dual: &DualState,
    ends: &Ends,
    before: &[Vec<Vec<f64>>],
    cutoff: f64,
) -> Vec<Arrival> {
    let (l, Some(before)) = (classes.shorts.tail.end - 1, before.last()) else {
        return Vec::new();
    };
    let prices = dual
        .prices
        .on(&dual.sharing, &dual.pairs, classes.rows[l])
        .of_strips();
    let last = [course(classes, dual, l, &prices, before)];
    let beyond = beyond(classes, ends, &last, cutoff);
    let all = beyond.iter().zip(&last[0].choices);
    let with = all.flat_map(|(beyond, choice)| {
        let beyond = beyond.iter().flatten();
        beyond.map(|one| Arrival {
            cost: one.cost + choice.least(),
            ..*one
        })
    });
    from_last_on(dual, cheapest_first(with.collect()))
}

/// What the courses beyond the tail cost at least, whatever lies beside them, by what they take.
pub fn alone(dual: &DualState, beyond: &Beside) -> Vec<Arrival> {
    let all = beyond.iter().flatten().flatten().copied();
    from_last_on(dual, cheapest_first(all.collect()))
}

/// The same, with what is taken told by slots from the last on.
pub fn from_last_on(dual: &DualState, mut all: Vec<Arrival>) -> Vec<Arrival> {
    for one in &mut all {
        let boards = dual.pairs.boards.iter();
        one.taken = boards.fold(Bits::NONE, |all, b| {
            let count = one.taken.window(b.first, b.slices).count_ones();
            all.or(&last_slots(b, count))
        });
    }
    all
}

/// Sets what the other side costs at least beside each arrival, of ways to lay it by what long courses take there (as
/// many slots of each board, from its last on), the cheapest first. Leaves out those for which the two cost as much as
/// `most`; the cheapest come first.
pub fn beside_others(all: &mut Vec<Arrival>, others: &[Arrival], most: f64) {
    for one in all.iter_mut() {
        let fits = |other: &&Arrival| other.taken.and(&one.taken) == Bits::NONE;
        let cheapest = others.iter().find(fits);
        one.others = cheapest.map_or(f64::INFINITY, |other| other.cost);
    }
    all.retain(|one| one.least() < most);
    all.sort_by(|a, b| a.least().total_cmp(&b.least()));
}

/// Paths that left the courses beside a choice, the cheapest first: with the last from another board, and from the
/// same. `beside` is the metres met and the charge. Those that cost as much as `most` are left out.
fn arrivals(
    classes: &Classes,
    exits: &[Exit],
    choice: &Choice,
    (met, charge): (f64, usize),
    most: f64,
) -> [Vec<Arrival>; 2] {
    let (class, at) = choice.at;
    let n = classes.size(class);
    let mut least: [FxHashMap<Bits, Arrival>; 2] = Default::default();
    for (number, exit) in exits.iter().enumerate() {
        let same = choice.board.is_some() && classes.home(exit.class) == choice.board;
        let rates = &classes.rates[charge][exit.class][class];
        let both = exit.costs.iter().zip(rates.iter().skip(at).step_by(n));
        let costs = both.map(|(exit, rate)| exit + seam(met, *rate)).enumerate();
        let Some((pair, cost)) = costs.min_by(|a, b| a.1.total_cmp(&b.1)) else {
            continue;
        };
        if cost < most {
            let arrival = Arrival {
                cost,
                taken: exit.taken,
                others: 0.0,
                from: Some((number, pair)),
            };
            match least[usize::from(same)].entry(exit.taken) {
                Entry::Occupied(known) if known.get().cost <= cost => {}
                entry => drop(entry.insert_entry(arrival)),
            }
        }
    }
    least.map(|least| cheapest_first(least.into_values().collect()))
}

/// The cheapest first, without those that cost no less than others which took no more.
pub fn cheapest_first(mut all: Vec<Arrival>) -> Vec<Arrival> {
    all.sort_by(|a, b| a.cost.total_cmp(&b.cost).then(a.taken.cmp(&b.taken)));
    let mut seen = FxHashSet::default();
    all.retain(|one| seen.insert(one.taken));
    if all.len() > MOST_FOR_DOMINANCE {
        return all;
    }
    let mut kept: Vec<Arrival> = Vec::new();
    for one in all {
        if !kept.iter().any(|other| other.taken.within(&one.taken)) {
            kept.push(one);
        }
    }
    kept
}
