//! The Lagrangian subproblem: the cheapest path through the graph, by passes down and up that remember more and more.

use super::classes::Classes;
use super::dual::{DualState, Level};
use super::labelling::{CompletionBounds, Direction, Pass, Passed};
use super::layers::LayeredGraph;
use super::prices::Prices;
use super::segments::Segments;
use super::tails::{Ended, Ends, Tails};
use super::traceback::traceback;

/// What came of a subproblem.
pub enum Solved {
    /// The bound at these prices, and the path behind it.
    Bound(f64, Path),
    /// No plan costs less than the cut-off.
    AboveCutoff,
    /// There are more paths than can be kept.
    TooMany,
    /// Stopped before it was done.
    Stopped,
}

/// The cheapest path.
pub struct Path {
    /// The node that it takes on each layer.
    pub nodes: Vec<usize>,
    /// For each layer, the nodes through which nothing below the cut-off goes; empty where that was not looked at.
    pub fixed: Vec<Vec<bool>>,
}

/// The first pass at some prices, before anything is remembered of boards that were left.
pub struct FirstPass {
    prices: Prices,
    segments: Segments,
    /// What the cheapest path costs, prices included; infinite where there is none.
    cost: f64,
    bounds: CompletionBounds,
    path: Vec<(usize, usize)>,
    /// Nodes of each layer.
    nodes: Vec<usize>,
}

impl FirstPass {
    /// The first pass, which nothing cuts off. `None` where it was stopped.
    pub fn new(
        graph: &LayeredGraph,
        classes: &Classes,
        dual: &DualState,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<FirstPass> {
        let segments = Segments::new(classes, dual, stop)?;
        let neighbourhoods = dual.neighbourhoods(Level::Own);
        let way = classes.shorts.first_way();
        let mut pass = Pass::new(classes, &segments, &dual.pairs, neighbourhoods, way);
        let (cost, bounds) = match pass.run(usize::MAX, stop) {
            (Passed::Path(cost), bounds) => (cost, bounds),
            (Passed::AboveCutoff, bounds) => (f64::INFINITY, bounds),
            _ => return None,
        };
        Some(FirstPass {
            path: traceback(&pass, None).unwrap_or_default(),
            nodes: graph.layers.iter().map(|layer| layer.nodes.len()).collect(),
            cost,
            bounds,
            segments,
            prices: dual.prices.clone(),
        })
    }

    /// Whether it was made at these prices.
    pub fn is_at(&self, prices: &Prices) -> bool {
        self.prices == *prices
    }
}

/// Solves the subproblem with ng-neighbourhoods up to a level; of boards that were left the number of slices taken is
/// remembered.
///
/// The cut-off is on the cost, prices of all strips taken off. `most` is how many costs may be kept.
pub fn solve(
    classes: &Classes,
    first: &FirstPass,
    dual: &DualState,
    level: Level,
    cutoff: f64,
    most: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Solved {
    let all_prices = dual.prices.sum();
    if first.cost - all_prices >= cutoff {
        return Solved::AboveCutoff;
    }
    let cutoff = cutoff + all_prices;
    match further_passes(classes, dual, level, first, cutoff, most, stop) {
        Ok((cost, path)) => Solved::Bound(cost - all_prices, path),
        Err(Passed::Stopped) => Solved::Stopped,
        Err(Passed::TooMany) => Solved::TooMany,
        Err(_) => Solved::AboveCutoff,
    }
}

fn further_passes(
    classes: &Classes,
    dual: &DualState,
    level: Level,
    first: &FirstPass,
    cutoff: f64,
    most: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Result<(f64, Path), Passed> {
    let (mut cost, mut path) = (first.cost, None);
    let mut way = classes.shorts.first_way();
    // What the last two passes found.
    let (mut last, mut before): (Option<CompletionBounds>, Option<CompletionBounds>) = (None, None);
    let mut tails = None;
    let tail = &classes.shorts.tail;
    let has_tails = level == Level::Ways && !tail.is_empty();
    let mut exits = Vec::new();
    let passes = dual.passes(level, has_tails);
    for (number, neighbourhoods) in (1..).zip(&passes) {
        way = way.back();
        let mut pass = Pass {
            completion: Some(last.as_ref().unwrap_or(&first.bounds)),
            cutoff,
            ..Pass::new(classes, &first.segments, &dual.pairs, neighbourhoods, way)
        };
        let (cheapest, bounds) = run(&mut pass, most, stop)?;
        if has_tails && number == passes.len() {
            exits = pass.exits();
        }
        let whole = traceback(&pass, None).ok_or(Passed::TooMany)?;
        (cost, path) = (cheapest, Some(whole));
        before = last.replace(bounds);
    }
    if let (Some(completion), Some(far)) = (last.as_ref().filter(|_| has_tails), &before) {
        way = way.back();
        let neighbourhoods = dual.neighbourhoods(level);
        let pass = || Pass {
            completion: Some(completion),
            cutoff,
            ..Pass::new(classes, &first.segments, &dual.pairs, neighbourhoods, way)
        };
        // As far as courses of several panels lie in the tail it comes through the last ones, which it prices.
        let mut beyond = Pass {
            steps: classes.layers() - classes.shorts.middle,
            ..pass()
        };
        let mut entry = match beyond.steps {
            0 => Vec::new(),
            _ => run(&mut beyond, most, stop)?.1.entry,
        };
        let ends = Ends {
            exits,
            come: completion,
            rest: far,
        };
        let found = match Tails::find(classes, dual, &first.segments, &ends, &beyond, cutoff, stop)
        {
            Err(Ended::TooMany) => return Err(Passed::TooMany),
            Err(Ended::Stopped) => return Err(Passed::Stopped),
            Ok(tails) => tails,
        };
        let mut pass = Pass {
            tails: Some(&found),
            ..pass()
        };
        let (cheapest, mut bounds) = run(&mut pass, most, stop)?;
        let whole = traceback(&pass, Some(&beyond));
        (cost, path) = (cheapest, Some(whole.ok_or(Passed::TooMany)?));
        for (entry, beyond) in bounds.entry.iter_mut().zip(&mut entry).skip(tail.end) {
            *entry = std::mem::take(beyond);
        }
        before = last.replace(bounds);
        tails = Some(found);
    }
    if cost >= cutoff {
        return Err(Passed::AboveCutoff);
    }
    let fixed = match &last {
        Some(last) => {
            let before = before.as_ref().unwrap_or(&first.bounds);
            let (down, up) = match way {
                Direction::Down => (last, before),
                Direction::Up => (before, last),
            };
            fixed(classes, first, tails.as_ref(), [down, up], cutoff)
        }
        None => Vec::new(),
    };
    let node = |(l, &(class, at)): (usize, &(usize, usize))| classes.node[l][class][at] as usize;
    let path = path.as_ref().unwrap_or(&first.path).iter();
    let nodes = path.enumerate().map(node).collect();
    Ok((cost, Path { nodes, fixed }))
}

/// A pass, where it finds a path.
fn run(
    pass: &mut Pass,
    most: usize,
    stop: &(dyn Fn() -> bool + Sync),
) -> Result<(f64, CompletionBounds), Passed> {
    match pass.run(most, stop) {
        (Passed::Path(cost), bounds) => Ok((cost, bounds)),
        (other, _) => Err(other),
    }
}

/// Reduced-cost fixing: the nodes of each layer through which nothing below the cut-off goes, by what it costs at
/// least to enter a board somewhere before and get to the node, and from there to leave the board somewhere after.
fn fixed(
    classes: &Classes,
    first: &FirstPass,
    tails: Option<&Tails>,
    [down, up]: [&CompletionBounds; 2],
    cutoff: f64,
) -> Vec<Vec<bool>> {
    let (segments, down, up) = (&first.segments, &down.entry, &up.entry);
    let mut fixed: Vec<Vec<bool>> = first.nodes.iter().map(|nodes| vec![true; *nodes]).collect();
    let in_tail = |l: usize| tails.is_some() && classes.shorts.tail.contains(&l);
    if let Some(tails) = tails {
        for (fixed, useful) in fixed.iter_mut().zip(&tails.useful) {
            for (fixed, useful) in fixed.iter_mut().zip(useful) {
                *fixed = !useful;
            }
        }
    }
    for class in 0..classes.all.len() {
        let n = classes.size(class);
        let blank = vec![vec![f64::INFINITY; n]; classes.layers()];
        let (mut above, mut below) = (blank.clone(), blank);
        for upper in (0..classes.layers()).filter(|l| !in_tail(*l)) {
            let tables = (0..).map_while(|more| segments.table(class, upper, more));
            let lower = (upper..classes.layers()).take_while(|l| !in_tail(*l));
            for (lower, table) in lower.zip(tables) {
                for (p, row) in table.chunks_exact(n.max(1)).enumerate() {
                    let (from, to) = (down[upper][class][p], &up[lower][class]);
                    for (q, segment) in row.iter().enumerate() {
                        above[lower][q] = above[lower][q].min(from + segment);
                        below[upper][p] = below[upper][p].min(segment + to[q]);
                    }
                }
            }
        }
        for (l, fixed) in fixed.iter_mut().enumerate().filter(|(l, _)| !in_tail(*l)) {
            for i in 0..n {
                let whole = above[l][i] + below[l][i] - segments.entry[l][class][i];
                if whole < cutoff {
                    fixed[classes.node[l][class][i] as usize] = false;
                }
            }
        }
    }
    fixed
}
