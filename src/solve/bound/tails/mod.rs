//! All ways to lay the short courses that lie together in a graph, gone through one by one.
//!
//! Here everything counts as in a plan: each strip is cut no longer than it is, paid once and whole, and where courses
//! share strips their figure is as far out of register as the cuts force it to be (`register`). Branch and bound, depth
//! first from the course beside the long ones on (`search`). The long courses cost at least as much as the cheapest
//! that leave the slices taken so far: the pass before tells how many of each board its paths took (`arrivals`). What
//! is yet to be laid costs as much at least as the passes before found, which remember less (`choices`).
//!
//! Where courses of two panels lie in it, nothing is met where the first ends: what ties the two is strips, and the
//! boards that long courses take from. Each side is gone through from its long courses on. So all ways to lay the
//! second are found, with the courses beyond (`beyond`), and each way to lay the first is joined with those that suit
//! it (`joined`). The searches bound each other: what one side costs at least is told by what its long courses take of
//! each board, and beside it only what leaves that counts.

mod arrivals;
mod beyond;
mod choices;
mod given;
mod joined;
mod search;

pub use arrivals::Ends;
pub use search::Ended;

use super::bits::Bits;
use super::classes::{Classes, NO_NODE};
use super::dual::DualState;
use super::exits::Exit;
use super::labelling::Pass;
use super::segments::Segments;
use arrivals::{Arrival, cheapest_first, from_last_on, near};
use beyond::Beyond;
use choices::{chains, rests};
use given::Given;
use joined::Rest;
use rustc_hash::FxHashSet;
use search::{Goal, Search};

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
    /// The paths from beyond.
    pub beyond: Vec<Exit>,
}

impl Tails {
    /// Finds all tails. `far` is the pass that comes from the courses beyond them, and through those of all panels but
    /// the first.
    pub fn find(
        classes: &Classes,
        dual: &DualState,
        segments: &Segments,
        ends: &Ends,
        far: &Pass,
        cutoff: f64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Result<Tails, Ended> {
        let given = Given::new(classes, dual, cutoff, stop);
        let search = match classes.shorts.middle < classes.shorts.tail.end {
            true => of_panels(&given, ends, far)?,
            false => of_one_panel(&given, segments, ends)?,
        };
        Ok(Tails {
            useful: useful(classes, &search.useful),
            all: search.tails,
            beyond: search.beyond.map_or_else(Vec::new, |beyond| beyond.exits),
        })
    }
}

/// All tails, where one panel has short courses.
fn of_one_panel<'s>(
    given: &'s Given<'s>,
    segments: &Segments,
    ends: &Ends,
) -> Result<Search<'s>, Ended> {
    let order: Vec<usize> = given.classes.shorts.tail.clone().collect();
    let courses = given.courses(&order, &rests(given.classes, segments, ends.rest));
    let near = near(given, ends, &courses, None);
    let goal = Goal::Tails([Rest::nothing()].into());
    Search::new(given, courses, near, goal, None).lay_all()
}

/// All tails, where several panels have short courses.
fn of_panels<'s>(
    given: &'s Given<'s>,
    ends: &Ends<'s>,
    far: &'s Pass<'s>,
) -> Result<Search<'s>, Ended> {
    let (classes, dual) = (given.classes, given.dual);
    let (tail, middle) = (classes.shorts.tail.clone(), classes.shorts.middle);
    let first: Vec<usize> = (tail.start..middle).collect();
    let last: Vec<usize> = (middle..tail.end).rev().collect();
    let after_first = after(given, &first);
    let after_last = after(given, &last);
    let beyond = Beyond::new(given, ends.come, far);
    // What the last panels cost at least, with the courses beyond and by what those take; no strip is remembered yet.
    let others = far.exits_at(far.steps - 1).into_iter().map(|exit| Arrival {
        cost: exit.costs.iter().copied().fold(f64::INFINITY, f64::min),
        taken: exit.taken,
        ..Arrival::NONE
    });
    let others = from_last_on(dual, cheapest_first(others.collect()));
    // What the first one costs at least beside that, with the courses before and by what those take.
    let courses = given.courses(&first, &after_first);
    let before = near(given, ends, &courses, Some(&others));
    let found = Search::new(given, courses, before, Goal::Least, None).lay_all()?;
    let others = cheapest_first(found.least.into_values().collect());
    let of_first = found.courses;
    // All ways to lay the last ones beside that.
    let courses = given.courses(&last, &after_last);
    let after = beyond.near(&courses, &from_last_on(dual, others.clone()));
    let goal = Goal::Rests(others.into());
    let found = Search::new(given, courses, after, goal, Some(beyond)).lay_all()?;
    let mut ways = found.rests;
    ways.sort_by(|a, b| a.least().total_cmp(&b.least()));
    let others = cheapest_first(ways.iter().flat_map(Rest::by_beyond).collect());
    // All ways to lay the first one, each joined with those.
    let before = near(given, ends, &of_first, Some(&from_last_on(dual, others)));
    let goal = Goal::Tails(ways.into());
    Search::new(given, of_first, before, goal, found.beyond).lay_all()
}

/// By layer of some in an order, class and pair, what those after it cost at least.
fn after(given: &Given, order: &[usize]) -> Vec<Vec<Vec<f64>>> {
    let back: Vec<usize> = order.iter().rev().copied().collect();
    let mut after = chains(given.classes, given.dual, &back);
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
