//! The courses before the tail: what they cost at least beside each choice, and what they took.

use super::choices::{Choice, Course};
use super::given::Given;
use super::joined::last_slots;
use super::search::Beside;
use crate::solve::bound::bits::Bits;
use crate::solve::bound::classes::Classes;
use crate::solve::bound::dual::DualState;
use crate::solve::bound::exits::Exit;
use crate::solve::bound::labelling::{CompletionBounds, seam};
use crate::solve::tuning::buckets::MOST_FOR_DOMINANCE;
use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::hash_map::Entry;

/// What is known of the courses before the tail, and of what costs are to come at least.
pub struct Ends<'e> {
    /// The paths that came to the tail.
    pub exits: Vec<Exit>,
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
pub fn near(given: &Given, ends: &Ends, courses: &[Course], others: Option<&[Arrival]>) -> Beside {
    let classes = given.classes;
    let Some(first) = courses.first() else {
        return Vec::new();
    };
    let near = |choice: &Choice| {
        let beside = (first.met, first.charge);
        let most = given.cutoff - choice.least();
        let mut near = [false, true].map(|same| {
            let exits = ends.exits.iter().zip(0..).filter(|(exit, _)| {
                let of_same = choice.board.is_some() && classes.home(exit.class) == choice.board;
                of_same == same
            });
            arrivals(classes, exits, choice.at, beside, most)
        });
        if let Some(others) = others {
            { near.iter_mut() }.for_each(|near| beside_others(near, others, most));
        }
        near
    };
    first.choices.par_iter().map(near).collect()
}

/// Some ways, with what they take told by slots from the last on.
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

/// Paths beside a class and pair, the cheapest first, each with its number. `beside` is the metres met and the charge.
/// Those that cost as much as `most` are left out.
pub fn arrivals<'e>(
    classes: &Classes,
    exits: impl Iterator<Item = (&'e Exit, usize)>,
    (class, at): (usize, usize),
    (met, charge): (f64, usize),
    most: f64,
) -> Vec<Arrival> {
    let n = classes.size(class);
    let mut least: FxHashMap<Bits, Arrival> = FxHashMap::default();
    for (exit, number) in exits {
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
            match least.entry(exit.taken) {
                Entry::Occupied(known) if known.get().cost <= cost => {}
                entry => drop(entry.insert_entry(arrival)),
            }
        }
    }
    cheapest_first(least.into_values().collect())
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
