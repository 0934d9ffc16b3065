//! The bound for jobs of one piece a course: prices from the likely pairs, and a look at all pairs that makes the bound.

use super::chain::Chain;
use super::climb::Climb;
use super::ground::{Ground, Most};
use super::ladder::{Descent, Look};
use super::ledger::{Ledger, Rungs};
use super::pairs::{Pair, Pairs};
use crate::solve::problem::{NONE, Problem};

/// Climbs where paths are found by stays, which is quick, and a look that goes not far enough costs little.
const BY_STAYS: [Climb; 3] = [
    climb(Rungs::Runs, 25, 0.1, f64::INFINITY),
    climb(Rungs::Near, 15, 0.02, 0.002),
    climb(Rungs::All, 60, 0.02, 0.002),
];
/// The same in a job of many boards: the prices have to be good before all is remembered, or there are too many paths.
const BY_STAYS_OF_MANY: [Climb; 3] = [
    climb(Rungs::Runs, 25, 0.1, f64::INFINITY),
    climb(Rungs::Near, 50, 0.02, 0.002),
    climb(Rungs::All, 60, 0.02, 0.002),
];
/// The last of them over all pairs, where the likely ones were not enough.
const OVER_ALL: Climb = climb(Rungs::All, 20, 0.02, 0.002);
/// Climbs where paths are found by labels.
const BY_LABELS: [Climb; 4] = [
    climb(Rungs::None, 10, 0.2, f64::INFINITY),
    climb(Rungs::Runs, 30, 0.2, 0.005),
    climb(Rungs::Near, 10, 0.2, 0.005),
    climb(Rungs::All, 30, 0.2, 0.005),
];
/// The same in a job of many boards, where a round takes long.
const BY_LABELS_OF_MANY: [Climb; 3] = [
    climb(Rungs::None, 10, 0.2, f64::INFINITY),
    climb(Rungs::Runs, 12, 0.2, 0.005),
    climb(Rungs::Near, 6, 0.2, 0.005),
];

const fn climb(rungs: Rungs, rounds: usize, reach: f64, slack: f64) -> Climb {
    Climb {
        rungs,
        rounds,
        reach,
        slack,
    }
}

/// Most that a look over all pairs keeps, and one over the likely ones.
const MOST_OF_ALL: Most = Most {
    labels: 3_000_000,
    costs: 30_000_000,
};
const MOST_OF_LIKELY: Most = Most {
    labels: 1_000_000,
    costs: 12_000_000,
};
/// Nodes of a link, on average, up to which all pairs are looked at by labels, where that could be done by stays. More would take very long.
const FEW_NODES: usize = 150;

/// Parts of the plan's cost up to which paths over all pairs are followed, one after the other, where all the way at once is too far.
const PARTS: [f64; 6] = [0.8, 0.9, 0.95, 0.98, 0.993, 1.0];

/// The same in a job of many boards, in parts of what prices found over the likely pairs promise.
const RISING: [f64; 3] = [0.95, 0.985, 1.0];

/// Where what the likely pairs promise is too far to follow, how much of it is tried, one after the other.
const LESS: [f64; 4] = [0.998, 0.994, 0.985, 0.95];

/// Finds bounds, better ones each time it is asked.
pub struct Prover<'a> {
    ledger: Ledger<'a>,
    /// All pairs that may still be part of a better plan.
    all: Ground,
    /// Of those, the likely ones.
    likely: Ground,
    best: f64,
    /// What is known of the value over likely pairs at these prices; `None` before the rehearsal.
    rehearsed: Option<f64>,
}

/// How far paths over all pairs were followed.
enum Reached {
    /// No path is below the limit that was set.
    Surely,
    /// The bound at these prices is found, and can't be raised by following paths further.
    Settled,
    /// The bound at these prices is found, but better could be had with more memory.
    Found,
    /// There were too many paths, or it was stopped.
    TooFar,
}

/// How paths over all pairs are followed.
#[derive(Clone, Copy)]
enum By {
    /// From stay to stay, boards that were left by number of slices.
    Stays,
    /// Pair by pair, boards that were left slice by slice where that matters.
    Labels,
}

impl<'a> Prover<'a> {
    /// A prover for a problem of the scope [`super::Scope::ByCourse`]; `None` where it is too large.
    pub fn new(problem: &'a Problem) -> Option<Prover<'a>> {
        let pairs = Pairs::new(problem, false)?;
        let chains = Chain::all(problem, &pairs);
        Some(Prover {
            likely: likely(problem, &pairs, &chains),
            all: Ground::new(chains, MOST_OF_ALL),
            ledger: Ledger::new(problem, pairs),
            best: 0.0,
            rehearsed: None,
        })
    }

    /// What could lie on each course of the cheapest path found last, by row: two strips, or any of several twos; nothing where the path
    /// comes back to strips that it has taken before. Which strip goes to port is left open.
    pub fn path(&self) -> Option<&[Vec<[u32; 2]>]> {
        self.ledger.path.as_deref()
    }

    /// A bound that no plan covering every course can cost less than: a hair below `cost` where none costs less than that.
    ///
    /// `cost` must be the cost of a plan that covers every course.
    pub fn prove(&mut self, cost: f64, stop: &(dyn Fn() -> bool + Sync)) -> f64 {
        let limit = limit_for(cost);
        if stop() {
            return self.best.min(limit);
        }
        if self.rehearsed.is_none() {
            self.rehearse(cost, stop);
        }
        let known = self.rehearsed.unwrap_or(limit).min(limit) / limit;
        let by_stays = self.all.has_stays(&self.ledger.terms());
        if by_stays {
            self.reach_by_stays(known, limit, stop);
        }
        // Label by label and with many boards there is no hope to get all the way: what is sure is raised as long as there is time.
        let rising = RISING.map(|part| part * known);
        let tries: &[(Rungs, &[f64])] = match (by_stays, self.ledger.has_many_boards()) {
            (true, _) if self.all.nodes() > FEW_NODES * self.ledger.problem.rows.len() => &[],
            (true, _) => &[(Rungs::All, &[1.0])],
            (false, true) => &[
                (Rungs::Runs, &rising),
                (Rungs::Near, &rising),
                (Rungs::All, &PARTS),
            ],
            (false, false) => &[
                (Rungs::All, &[1.0]),
                (Rungs::All, &PARTS),
                (Rungs::Near, &PARTS),
                (Rungs::Runs, &[1.0]),
            ],
        };
        for (rungs, parts) in tries {
            for part in *parts {
                if self.best >= part * limit {
                    continue;
                }
                match self.reach(By::Labels, *rungs, *part, limit, stop) {
                    Reached::Surely => {}
                    Reached::Settled => return self.best.min(limit),
                    Reached::Found | Reached::TooFar => break,
                }
            }
        }
        self.best = self.best.min(limit);
        self.best
    }

    /// Follows paths over all pairs from stay to stay, again as long as many nodes drop out. `known` is the part of the limit that the likely
    /// pairs promise.
    fn reach_by_stays(&mut self, known: f64, limit: f64, stop: &(dyn Fn() -> bool + Sync)) {
        // What is promised is sure first, if that is not all there is; a hair less, for the odd pair.
        let promised = [known * 0.999, 1.0];
        let mut parts = if known < 1.0 { &promised[..] } else { &[1.0] };
        let mut last = Reached::Surely;
        loop {
            let before = self.all.nodes();
            for part in parts {
                last = self.reach(By::Stays, Rungs::All, *part, limit, stop);
                if !matches!(last, Reached::Surely) {
                    break;
                }
            }
            if self.best >= limit || self.all.nodes() * 10 > before * 9 {
                break;
            }
            parts = &[1.0];
        }
        for part in LESS.map(|less| less * known) {
            if !matches!(last, Reached::TooFar) || self.best >= part * limit {
                break;
            }
            last = self.reach(By::Stays, Rungs::All, part, limit, stop);
        }
        // Odd pairs can make paths cheaper than the likely ones tell: prices have to suit them too.
        if self.best < limit {
            let ledger = &mut self.ledger;
            let value = ledger.climb(&mut self.all, &OVER_ALL, self.best, limit, stop);
            self.best = self.best.max(value);
        }
    }

    /// Follows paths over all pairs up to this part of the limit.
    fn reach(
        &mut self,
        by: By,
        rungs: Rungs,
        part: f64,
        limit: f64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Reached {
        let most = part * limit;
        let (terms, memories) = (self.ledger.terms(), self.ledger.memories(rungs));
        let seen = match by {
            By::Stays => self.all.look(&terms, &memories, most, stop),
            By::Labels => self.all.look_by_labels(&terms, &memories, most, stop),
        };
        match seen {
            Look::AboveLimit => {
                self.best = self.best.max(most);
                Reached::Surely
            }
            Look::Bound(value, paths) => {
                self.best = self.best.max(value);
                if rungs == Rungs::All {
                    self.ledger.note(&self.all.chains, &paths);
                }
                if part == 1.0 {
                    self.drop_nodes(&paths);
                }
                match (rungs, by) {
                    (Rungs::All, By::Labels) => Reached::Settled,
                    _ => Reached::Found,
                }
            }
            Look::TooMany | Look::Stopped => Reached::TooFar,
        }
    }

    /// Finds prices on the likely pairs, where a look is cheap, and a path that may be a better plan than one of this cost. What comes out is
    /// no bound yet.
    pub fn rehearse(&mut self, cost: f64, stop: &(dyn Fn() -> bool + Sync)) {
        if stop() {
            return;
        }
        let limit = limit_for(cost);
        let by_stays = self.likely.has_stays(&self.ledger.terms());
        let climbs: &[Climb] = match (by_stays, self.ledger.has_many_boards()) {
            (true, true) => &BY_STAYS_OF_MANY,
            (true, false) => &BY_STAYS,
            (false, true) => &BY_LABELS_OF_MANY,
            (false, false) => &BY_LABELS,
        };
        let mut value = self.rehearsed.unwrap_or(0.0).min(limit);
        let again = self.rehearsed.is_some();
        for climb in climbs
            .iter()
            .filter(|climb| !again || climb.rungs == Rungs::All)
        {
            let ledger = &mut self.ledger;
            value = ledger.climb(&mut self.likely, climb, value, limit, stop);
        }
        self.rehearsed = Some(value);
    }

    /// Drops the nodes through which nothing goes that is worth finding.
    fn drop_nodes(&mut self, paths: &[Descent]) {
        let mut chains = std::mem::take(&mut self.all.chains);
        for (chain, descent) in chains.iter_mut().zip(paths) {
            chain.drop_nodes(&self.ledger.pairs, &descent.idle);
        }
        self.likely = likely(self.ledger.problem, &self.ledger.pairs, &chains);
        self.all = Ground::new(chains, MOST_OF_ALL);
    }
}

/// The likely pairs of chains.
fn likely(problem: &Problem, pairs: &Pairs, chains: &[Chain]) -> Ground {
    let only = |chain: &Chain| chain.only(pairs, |pair| is_likely(problem, pair));
    Ground::new(chains.iter().map(only).collect(), MOST_OF_LIKELY)
}

/// A hair below the plan: nodes drop out only where they can't better the plan in earnest.
fn limit_for(cost: f64) -> f64 {
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
