//! All plans that the nodes left allow, gone through one by one where few are left.
//!
//! Each strip is paid once and whole, and figure is as far out of register as the cuts force it to be along a whole
//! panel (`register`). After R. Baldacci, N. Christofides and A. Mingozzi, "An exact algorithm for the vehicle routing
//! problem based on the set partitioning formulation with additional cuts", Mathematical Programming 115 (2008), who go
//! through all routes that reduced-cost fixing leaves (from memory).

use super::dual::DualState;
use super::labelling::seam;
use super::layers::{Layer, LayeredGraph};
use super::pairs::Pair;
use super::register::{Cut, Patterns, room};
use crate::solve::problem::NONE;
use crate::solve::tuning::enumeration::MOST_LOOKS;
use crate::solve::tuning::tails::LOOKS_A_PLACING;

/// The way through all of them.
struct Enumeration<'e> {
    dual: &'e DualState<'e>,
    graph: &'e LayeredGraph,
    /// By course and node, what the courses after it cost at least, strips and register aside.
    rest: Vec<Vec<f64>>,
    patterns: Patterns,
    /// By strip, the rows that are cut from it.
    served: Vec<Vec<usize>>,
    /// By course, the node that lies on it.
    laid: Vec<usize>,
    best: f64,
    /// What the cheapest plan lays, as in `laid`.
    cheapest: Option<Vec<usize>>,
    looks: usize,
    stop: &'e (dyn Fn() -> bool + Sync),
}

/// What every plan along the graph costs at least, with the nodes of the cheapest; the cut-off and nothing where none
/// costs less. `None` where there are too many.
pub fn cheapest(
    dual: &DualState,
    graph: &LayeredGraph,
    cutoff: f64,
    stop: &(dyn Fn() -> bool + Sync),
) -> Option<(f64, Option<Vec<usize>>)> {
    // A bit for each course tells with which others it shares a strip.
    if graph.layers.len() > usize::BITS as usize {
        return None;
    }
    let mut all = Enumeration {
        dual,
        graph,
        rest: Vec::new(),
        patterns: patterns(dual, graph),
        served: vec![Vec::new(); dual.problem.woods.len()],
        laid: Vec::new(),
        best: cutoff,
        cheapest: None,
        looks: 0,
        stop,
    };
    all.rest = all.rests();
    all.lay(0.0).then_some((all.best, all.cheapest))
}

/// What is known of register along a graph: nothing yet.
fn patterns(dual: &DualState, graph: &LayeredGraph) -> Patterns {
    let rows: Vec<usize> = graph.layers.iter().map(|layer| layer.row).collect();
    let shift = |(l, both): (usize, &[Layer])| match dual.pairs.touch(graph.charge[l][0]) {
        true => {
            let sides = both[0].sides.max(both[1].sides);
            graph.met[l] * f64::from(sides) * dual.problem.weights.shift
        }
        false => 0.0,
    };
    let seams = graph.layers.windows(2).enumerate();
    Patterns::new(dual.problem, &rows, seams.map(shift).collect())
}

impl<'e> Enumeration<'e> {
    fn layer(&self, course: usize) -> &'e Layer {
        &self.graph.layers[course]
    }

    /// The pair of a node.
    fn pair(&self, course: usize, at: usize) -> u32 {
        self.layer(course).nodes[at].pair
    }

    /// What the seam costs at least between a course with this pair and the next with that, register aside.
    fn seam(&self, course: usize, pair: u32, next: u32) -> f64 {
        let rates = self.dual.pairs.rates(self.graph.charge[course][0], pair);
        seam(self.graph.met[course], rates[next as usize])
    }

    fn rests(&self) -> Vec<Vec<f64>> {
        let courses = self.graph.layers.len();
        let mut rests: Vec<Vec<f64>> = vec![Vec::new(); courses];
        for course in (0..courses).rev() {
            let nodes = self.layer(course).nodes.iter();
            rests[course] = match rests.get(course + 1) {
                None => vec![0.0; nodes.len()],
                Some(rest) => nodes
                    .map(|node| {
                        let next = self.layer(course + 1).nodes.iter().zip(rest);
                        next.map(|(next, rest)| {
                            self.seam(course, node.pair, next.pair) + next.cost + rest
                        })
                        .fold(f64::INFINITY, f64::min)
                    })
                    .collect(),
            };
        }
        rests
    }

    /// Lays the courses that are left, where those laid cost `sum`, register aside; `false` where it takes too long.
    fn lay(&mut self, sum: f64) -> bool {
        let course = self.laid.len();
        if course == self.graph.layers.len() {
            let slip = self.register();
            if sum + slip < self.best {
                self.best = sum + slip;
                self.cheapest = Some(self.laid.clone());
            }
            return true;
        }
        let (dual, layer) = (self.dual, self.layer(course));
        for (at, node) in layer.nodes.iter().enumerate() {
            self.looks += 1;
            if self.looks > MOST_LOOKS || (self.stop)() {
                return false;
            }
            let strips = dual.pairs.all[node.pair as usize].strips();
            let is_fresh = |strip: &u32| self.served[*strip as usize].is_empty();
            let cut = strips.clone().filter(is_fresh).count() as f64 * dual.problem.weights.cut;
            let before = self
                .laid
                .last()
                .map(|&at| self.seam(course - 1, self.pair(course - 1, at), node.pair));
            let sum = sum + before.unwrap_or(0.0) + node.cost + cut;
            let fits = |strip: u32| {
                let rows = [&self.served[strip as usize][..], &[layer.row]].concat();
                rows.len() == 1 || dual.sharing.fit(&rows, strip)
            };
            if sum + self.rest[course][at] >= self.best || !strips.clone().all(fits) {
                continue;
            }
            self.laid.push(at);
            strips
                .clone()
                .for_each(|strip| self.served[strip as usize].push(layer.row));
            let done = self.lay(sum);
            for strip in strips {
                self.served[strip as usize].pop();
            }
            self.laid.pop();
            if !done {
                return false;
            }
        }
        true
    }

    /// What figure out of register costs at least.
    fn register(&mut self) -> f64 {
        let pairs: Vec<&Pair> = (0..self.laid.len())
            .map(|course| &self.dual.pairs.all[self.pair(course, self.laid[course]) as usize])
            .collect();
        let cut = |k: usize| {
            let share = |j: &usize| {
                pairs[k]
                    .strips()
                    .any(|strip| pairs[*j].wood.contains(&strip))
            };
            let rooms = pairs[k]
                .strips()
                .map(|strip| room(self.dual.problem, strip));
            (pairs[k].wood[0] != NONE).then(|| Cut {
                room: { rooms.reduce(|all, one| (all.0.max(one.0), all.1.min(one.1))) }
                    .unwrap_or_default(),
                board: pairs[k].board,
                apart_from: (0..k).filter(share).fold(0, |all, j| all | 1 << j),
            })
        };
        let cuts: Vec<Option<Cut>> = (0..pairs.len()).map(cut).collect();
        let before = self.patterns.placings;
        let least = self.patterns.least(&cuts);
        self.looks += (self.patterns.placings - before) * LOOKS_A_PLACING;
        least
    }
}
