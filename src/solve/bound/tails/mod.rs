//! All ways to lay the short courses that lie together in a graph, gone through one by one.
//!
//! Here everything counts as in a plan: each strip is cut no longer than it is, paid once and whole, and where courses
//! share strips their figure is as far out of register as the cuts force it to be (`register`). Branch and bound, depth
//! first from the course beside the long ones on (`search`). The long courses cost at least as much as the cheapest
//! that leave the slices taken so far: the pass before tells how many of each board its paths took (`arrivals`). What
//! is yet to be laid costs as much at least as the passes before found, which remember less (`choices`).
//!
//! Where courses of two panels lie in it, nothing is met where the first ends: what ties the two is strips, and the
//! boards that long courses take from. So all ways to lay what follows are found, the courses beyond included, and each
//! way to lay the first panel is joined with those that suit it (`joined`). The searches bound each other: what one side
//! costs at least is told by what its long courses take of each board, and beside it only what leaves that counts.

mod arrivals;
mod choices;
mod joined;
mod search;

pub use arrivals::Ends;
pub use search::Ended;

use super::bits::Bits;
use super::classes::{Classes, NO_NODE};
use super::dual::DualState;
use super::segments::Segments;
use arrivals::{alone, beside_others, beyond, cheapest_first, from_last_on, near, with_beyond};
use choices::{Course, chains, rests};
use joined::Rest;
use rustc_hash::FxHashSet;
use search::{Around, Search};
use std::ops::Range;
use std::sync::Arc;

/// One way to lay the short courses, the cheapest that takes these slices and begins with this pair.
pub struct Tail {
    /// Class and pair on each of its courses, from the first on.
    pub at: Vec<(usize, usize)>,
    /// The slices that it takes, as far as they are known.
    pub slices: Bits,
    /// How many it takes of each board at least, with the courses beyond: as many of its slots, from its last on.
    pub taken: Bits,
    /// The exit that the courses beyond it were left by, and the pair; `None` where there are no such courses.
    pub beyond: Option<(usize, usize)>,
    /// Whether the long course beside it comes from the board of its first pair.
    same: bool,
    /// What it costs, the seam with that course left out.
    cost: f64,
}

impl Tail {
    /// What it costs beside a long course of a class, prices included and the seam with that course left out; `None`
    /// where it does not belong beside it.
    pub fn cost(&self, classes: &Classes, class: usize) -> Option<f64> {
        let same =
            classes.home(class).is_some() && classes.home(class) == classes.board(self.at[0].0);
        (self.same == same).then_some(self.cost)
    }
}

/// Every tail that may be part of a path below the cut-off.
pub struct Tails {
    /// All of them.
    pub all: Vec<Tail>,
    /// By layer, the nodes that some of them use; empty for long courses.
    pub useful: Vec<Vec<bool>>,
}

impl Tails {
    /// Finds all tails.
    pub fn find(
        classes: &Classes,
        dual: &DualState,
        segments: &Segments,
        ends: &Ends,
        cutoff: f64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Result<Tails, Ended> {
        let search = find(classes, dual, segments, ends, cutoff, stop)?;
        Ok(Tails {
            useful: useful(classes, &search.useful),
            all: search.tails,
        })
    }
}

fn find<'s>(
    classes: &'s Classes,
    dual: &'s DualState,
    segments: &Segments,
    ends: &Ends,
    cutoff: f64,
    stop: &'s (dyn Fn() -> bool + Sync),
) -> Result<Search<'s>, Ended> {
    let (tail, middle) = (classes.shorts.tail.clone(), classes.shorts.middle);
    let search = |layers, after: &[_], around: &mut dyn FnMut(&[Course]) -> Around| {
        let mut search = Search::new(classes, dual, layers, after, around, cutoff, stop);
        search.lay_all().map(|()| search)
    };
    if !classes.shorts.join_panels() {
        return search(tail, &rests(classes, segments, ends.rest), &mut |courses| {
            let near = near(classes, ends, courses, None, cutoff);
            Around::Both(near, [Rest::nothing()].into())
        });
    }
    let (first, last) = (tail.start..middle, middle..tail.end);
    let from_first_on: Vec<usize> = last.clone().collect();
    let to_last = after(classes, dual, &last);
    let to_middle = after(classes, dual, &first);
    // What the last panels cost at least, with the courses beyond and by what those take; no strip is remembered yet.
    let chains = chains(classes, dual, &from_first_on);
    let others = with_beyond(classes, dual, ends, &chains, cutoff);
    // What the first one costs at least beside that, with the courses before and by what those take.
    let found = search(first.clone(), &to_middle, &mut |courses| {
        Around::Before(near(classes, ends, courses, Some(&others), cutoff))
    })?;
    let mut before = cheapest_first(found.least.into_values().collect());
    // All ways to lay the last ones beside that.
    let found = search(last, &to_last, &mut |courses| {
        let beyond = beyond(classes, ends, courses, cutoff);
        beside_others(&mut before, &alone(dual, &beyond), cutoff);
        Around::After(std::mem::take(&mut before), beyond)
    })?;
    let mut ways = found.rests;
    ways.sort_by(|a, b| a.least().total_cmp(&b.least()));
    let others = ways.iter().flat_map(Rest::by_beyond).collect();
    let others = from_last_on(dual, cheapest_first(others));
    let ways: Arc<[Rest]> = ways.into();
    // All ways to lay the first one, each joined with those.
    search(first, &to_middle, &mut |courses| {
        let near = near(classes, ends, courses, Some(&others), cutoff);
        Around::Both(near, Arc::clone(&ways))
    })
}

/// By layer of some, class and pair, what those after it cost at least.
fn after(classes: &Classes, dual: &DualState, layers: &Range<usize>) -> Vec<Vec<Vec<f64>>> {
    let order: Vec<usize> = layers.clone().rev().collect();
    let mut after = chains(classes, dual, &order);
    after.reverse();
    after
}

/// By layer, whether each node is used by some tail, of those that lie in it; empty for other layers.
fn useful(classes: &Classes, used: &FxHashSet<(usize, (usize, usize))>) -> Vec<Vec<bool>> {
    let mut useful: Vec<Vec<bool>> = vec![Vec::new(); classes.layers()];
    let tail = classes.shorts.tail.clone();
    for l in tail.clone() {
        let nodes = classes.node[l].iter().flatten();
        useful[l] = vec![false; nodes.filter(|node| **node != NO_NODE).count()];
    }
    for &(number, (class, at)) in used {
        let l = tail.start + number;
        useful[l][classes.node[l][class][at] as usize] = true;
    }
    useful
}
