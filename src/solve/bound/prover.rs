//! The bound for jobs of one piece a course: prices from the likely pairs, and a solution over all pairs that makes
//! the bound.

use super::dual::{DualState, Level};
use super::enumeration;
use super::instance::Instance;
use super::layers::LayeredGraph;
use super::pairs::{Pair, Pairs};
use super::sharing::Sharing;
use super::subproblem::{Path, Solved};
use crate::solve::problem::{NONE, Problem};
use crate::solve::tuning::prover::{
    LESS, LIKELY, LIKELY_OF_MANY, LIKELY_OF_PANELS, LIKELY_WITH_SHORT, MOST_OF_ALL, MOST_OF_LIKELY,
    NEAR, OVER_ALL, OVER_LEFT,
};

/// Finds bounds, better ones each time it is asked.
pub struct Prover<'a> {
    dual: DualState<'a>,
    /// All pairs that may still be part of a better plan.
    all: Instance,
    /// Of those, the likely ones.
    likely: Instance,
    /// The likely ones at first, where short courses of several panels lie together: without their ways, but those of
    /// one panel.
    plainer: Option<Instance>,
    best: f64,
    /// Whether all plans that are left were gone through: nothing raises the bound any more.
    exhausted: bool,
    /// What is known of the value over likely pairs at these prices; `None` before the first ascent.
    promised: Option<f64>,
}

/// How far paths over all pairs were followed.
enum Reached {
    /// No path is below the cut-off.
    Surely,
    /// The bound at these prices is found.
    Found,
    /// There were too many paths, or it was stopped.
    TooFar,
}

impl<'a> Prover<'a> {
    /// A prover for a problem that [`super::scope`] has nothing against; `None` where it is too large.
    pub fn new(problem: &'a Problem) -> Option<Prover<'a>> {
        let sharing = Sharing::of(problem);
        let pairs = Pairs::new(problem, &sharing)?;
        let graph = |joined: bool| LayeredGraph::new(problem, &pairs, &sharing, joined);
        let all = graph(true);
        let plainer = all.joins_panels().then(|| graph(false));
        let dual = DualState::new(problem, pairs, sharing);
        Some(Prover {
            likely: likely(problem, &dual.pairs, &all),
            plainer: plainer.map(|graph| likely(problem, &dual.pairs, &graph)),
            all: Instance::new(all, MOST_OF_ALL),
            dual,
            best: 0.0,
            exhausted: false,
            promised: None,
        })
    }

    /// Whether some courses could be cut from one strip: what they take is remembered strip by strip, which takes long.
    fn has_short_courses(&self) -> bool {
        self.dual.sharing.any_short
    }

    /// What could lie on each course of the cheapest path found last, or of the cheapest plan, by row: two strips, or
    /// any of several twos; nothing where the path comes back to strips that it has taken before. Which strip goes to
    /// port is left open.
    pub fn path(&self) -> Option<&[Vec<[u32; 2]>]> {
        self.dual.path.as_deref()
    }

    /// A bound that no plan covering every course without joints can cost less than: a ten-millionth below `cost` where
    /// none costs less than that.
    ///
    /// `cost` must be the cost of a plan that covers every course.
    pub fn prove(&mut self, cost: f64, stop: &(dyn Fn() -> bool + Sync)) -> f64 {
        let cutoff = cutoff_for(cost);
        if self.exhausted || stop() {
            return self.best.min(cutoff);
        }
        if self.promised.is_none() {
            self.ascend_over_likely(cost, stop);
        }
        let promised = self.promised.unwrap_or(cutoff).min(cutoff) / cutoff;
        self.reach_all(promised, cutoff, stop);
        // Unlikely pairs can make paths cheaper than the likely ones tell: prices have to suit them too.
        if self.best < cutoff && promised >= NEAR {
            let ascent = match self.has_short_courses() {
                true => &OVER_LEFT,
                false => &OVER_ALL,
            };
            let value = (self.dual).ascend(&mut self.all, ascent, self.best, cutoff, stop);
            self.best = self.best.max(value);
            if self.has_short_courses() && self.best < cutoff {
                self.reach_all(1.0, cutoff, stop);
            }
        }
        if self.best < cutoff {
            let found = enumeration::cheapest(&self.dual, &self.all.graph, cutoff, stop);
            if let Some((least, nodes)) = found {
                self.best = self.best.max(least);
                self.exhausted = true;
                if let Some(nodes) = nodes {
                    self.dual.note(&self.all.graph, &nodes);
                }
            }
        }
        self.best = self.best.min(cutoff);
        self.best
    }

    /// Follows paths over all pairs, again as long as many nodes drop out. `promised` is the part of the cut-off that
    /// the likely pairs promise.
    fn reach_all(&mut self, promised: f64, cutoff: f64, stop: &(dyn Fn() -> bool + Sync)) {
        // What is promised is made sure first, if that is not all there is; a thousandth less, for the unlikely pairs.
        let at_first = [promised * 0.999, 1.0];
        let mut parts = if promised >= 1.0 {
            &[1.0][..]
        } else if promised >= NEAR {
            &at_first[..]
        } else {
            // Such a plan is bettered sooner than the bound is followed up to it.
            &at_first[..1]
        };
        let mut last = Reached::Surely;
        loop {
            let before = self.all.nodes();
            for part in parts {
                last = self.reach(*part, cutoff, stop);
                if !matches!(last, Reached::Surely) {
                    break;
                }
            }
            if self.best >= cutoff || self.all.nodes() * 10 > before * 9 {
                break;
            }
            parts = &[1.0];
        }
        if !matches!(last, Reached::TooFar) {
            return;
        }
        for part in LESS.map(|less| less * promised) {
            if self.best < part * cutoff
                && matches!(self.reach(part, cutoff, stop), Reached::TooFar)
            {
                break;
            }
        }
    }

    /// Follows paths over all pairs up to this part of the cut-off.
    fn reach(&mut self, part: f64, cutoff: f64, stop: &(dyn Fn() -> bool + Sync)) -> Reached {
        let most = part * cutoff;
        if most <= self.best {
            return Reached::Surely;
        }
        match self.all.solve(&self.dual, Level::Ways, most, stop) {
            Solved::AboveCutoff => {
                self.best = self.best.max(most);
                Reached::Surely
            }
            Solved::Bound(value, path) => {
                self.best = self.best.max(value);
                self.dual.note(&self.all.graph, &path.nodes);
                if part == 1.0 {
                    self.fix(&path);
                }
                Reached::Found
            }
            Solved::TooMany | Solved::Stopped => Reached::TooFar,
        }
    }

    /// Finds prices on the likely pairs, where the subproblem is quickly solved, and a path that may be a better plan
    /// than one of this cost. What comes out is no bound yet.
    pub fn ascend_over_likely(&mut self, cost: f64, stop: &(dyn Fn() -> bool + Sync)) {
        let again = self.promised.is_some();
        if self.exhausted || stop() {
            return;
        }
        let cutoff = cutoff_for(cost);
        let ascents = match (self.has_short_courses(), self.dual.has_many_boards()) {
            (true, _) if self.plainer.is_some() => &LIKELY_OF_PANELS[..],
            (true, _) => &LIKELY_WITH_SHORT[..],
            (false, true) => &LIKELY_OF_MANY[..],
            (false, false) => &LIKELY[..],
        };
        let mut value = self.promised.unwrap_or(0.0).min(cutoff);
        let last = ascents.len() - 1;
        for (at, ascent) in ascents
            .iter()
            .enumerate()
            .skip(if again { last } else { 0 })
        {
            let instance = match &mut self.plainer {
                Some(plainer) if at < last => plainer,
                _ => &mut self.likely,
            };
            value = self.dual.ascend(instance, ascent, value, cutoff, stop);
        }
        self.promised = Some(value);
    }

    /// Reduced-cost fixing: drops the nodes through which no path goes that is worth finding.
    fn fix(&mut self, path: &Path) {
        let graph = self.all.graph.without(&self.dual.pairs, &path.fixed);
        self.likely = likely(self.dual.problem, &self.dual.pairs, &graph);
        self.all = Instance::new(graph, MOST_OF_ALL);
    }
}

/// The likely pairs of a graph.
fn likely(problem: &Problem, pairs: &Pairs, graph: &LayeredGraph) -> Instance {
    let likely = graph.only(pairs, |pair| is_likely(problem, pair));
    Instance::new(likely, MOST_OF_LIKELY)
}

/// A little below the plan: nodes drop out only where they can't better the plan in earnest.
fn cutoff_for(cost: f64) -> f64 {
    cost - 1e-7 * cost.abs()
}

/// Whether a pair is among the first that one would think of.
pub(super) fn is_likely(problem: &Problem, pair: &Pair) -> bool {
    let [a, b] = pair.wood;
    if a == NONE || b == NONE {
        return true;
    }
    (problem.woods[a as usize].seq - problem.woods[b as usize].seq).abs() <= 1
}
