//! The cheapest path that passes find, held against all paths, gone through one by one.

use super::dual::{DualState, Level};
use super::enumeration;
use super::instance::Instance;
use super::layers::LayeredGraph;
use super::ng::Neighbourhoods;
use super::pairs::{Pair, Pairs};
use super::prover::is_likely;
use super::register::{Cut, Patterns};
use super::sharing::Sharing;
use super::subproblem::Solved;
use crate::hull::Kind;
use crate::invented;
use crate::solve::jobs;
use crate::solve::problem::{NONE, Problem};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

const MOST: usize = 100_000_000;
const TINY: f64 = 1e-7;

/// A path so far: the slices that it took of the board it is in, how many of each board it remembers, and what it cost.
#[derive(Clone)]
struct Way {
    at: usize,
    segment: u64,
    taken: Vec<u32>,
    cost: f64,
}

/// All paths of a small graph.
struct AllPaths<'a> {
    dual: &'a DualState<'a>,
    graph: &'a LayeredGraph,
    neighbourhoods: &'a Neighbourhoods,
}

impl AllPaths<'_> {
    /// What the cheapest of them costs from a layer on, prices included.
    fn cheapest(&self, layer: usize, before: Option<&Way>) -> f64 {
        let Some(nodes) = self.graph.layers.get(layer).map(|layer| &layer.nodes) else {
            return before.map_or(0.0, |before| before.cost);
        };
        let (problem, pairs) = (self.dual.problem, &self.dual.pairs);
        let mut seams = vec![0.0; nodes.len()];
        if let Some(before) = before {
            let last = layer - 1;
            self.graph
                .seams(problem, pairs, last, before.at, &mut seams);
        }
        let onward = (0..nodes.len()).filter_map(|at| {
            let pair = &pairs.all[nodes[at].pair as usize];
            let mut way = before.cloned().unwrap_or_else(|| Way {
                at,
                segment: 0,
                taken: vec![0; pairs.boards.len()],
                cost: 0.0,
            });
            let left = before.map(|before| self.board(layer - 1, before.at));
            if left != Some(pair.board) {
                if let Some(count) = left.and_then(|left| way.taken.get_mut(left)) {
                    *count += way.segment.count_ones();
                }
                self.forget(&mut way, pair.board);
            }
            if way.segment & pair.mask != 0 {
                return None;
            }
            way.segment |= pair.mask;
            way.at = at;
            let prices =
                self.dual
                    .prices
                    .on(&self.dual.sharing, pairs, self.graph.layers[layer].row);
            way.cost += nodes[at].cost + prices.of(pair) + seams[at];
            let room = pairs.boards.get(pair.board).map(|board| board.slices);
            let used = room.map_or(0, |_| way.taken[pair.board] + way.segment.count_ones());
            (used <= room.unwrap_or(0)).then(|| self.cheapest(layer + 1, Some(&way)))
        });
        onward.fold(f64::INFINITY, f64::min)
    }

    /// Forgets what a path does not remember in a board that it comes to.
    fn forget(&self, way: &mut Way, board: usize) {
        way.segment = 0;
        for (other, taken) in way.taken.iter_mut().enumerate() {
            if !self
                .neighbourhoods
                .remembers(&self.dual.pairs, board, other)
            {
                *taken = 0;
            }
        }
    }

    fn board(&self, layer: usize, at: usize) -> usize {
        self.dual.pairs.all[self.graph.layers[layer].nodes[at].pair as usize].board
    }
}

fn value(solved: Solved) -> Option<f64> {
    match solved {
        Solved::Bound(value, _) => Some(value),
        _ => None,
    }
}

#[test]
fn passes_find_a_path_as_cheap_as_the_cheapest_of_all() {
    let mut rng = Pcg64Mcg::seed_from_u64(1);
    for seed in 0..6 {
        let mut job = jobs::full_length_from(5, 6, 4, seed);
        if seed % 2 == 1 {
            job.hull.courses[4].kind = Kind::Centre;
        }
        let problem = Problem::new(&job);
        let sharing = Sharing::of(&problem);
        let Some(pairs) = Pairs::new(&problem, &sharing) else {
            panic!("too large a job");
        };
        let graph = LayeredGraph::new(&problem, &pairs, &sharing, true);
        let mut dual = DualState::new(&problem, pairs, sharing);
        let mut instance = Instance::new(graph, MOST);
        for _ in 0..3 {
            for level in [Level::Own, Level::Nearest, Level::Ways] {
                let all = AllPaths {
                    dual: &dual,
                    graph: &instance.graph,
                    neighbourhoods: dual.neighbourhoods(level),
                };
                let cheapest = all.cheapest(0, None) - dual.prices.sum();
                let by_passes = value(instance.solve(&dual, level, 1e9, &|| false));
                assert!(
                    by_passes.is_some_and(|value| (value - cheapest).abs() < TINY),
                    "{by_passes:?} {cheapest}"
                );
                // Below what the cheapest path costs there is none, and just above it is found.
                for (cutoff, found) in [(cheapest - 1e-6, false), (cheapest + 1e-6, true)] {
                    let solved = instance.solve(&dual, level, cutoff, &|| false);
                    assert_eq!(value(solved).is_some(), found, "{cheapest}");
                }
            }
            // Prices that follow the subgradient, as they do in earnest.
            let Solved::Bound(_, path) = instance.solve(&dual, Level::Ways, 1e9, &|| false) else {
                panic!("no path");
            };
            let subgradient = dual.subgradient(&instance, Level::Ways, &path.nodes);
            dual.prices.step(&subgradient, rng.random_range(1.0..30.0));
        }
    }
}

#[test]
fn outliers_of_a_broad_board_make_paths_no_dearer() {
    for (slices, seed) in [(16, 0), (16, 1), (30, 2)] {
        // So many strips can be paired in too many ways: some pairs are outliers.
        let problem = Problem::new(&jobs::full_length_from(8, 24, slices, seed));
        let sharing = Sharing::of(&problem);
        let Some(pairs) = Pairs::new(&problem, &sharing) else {
            panic!("too large a job");
        };
        let graph = LayeredGraph::new(&problem, &pairs, &sharing, true);
        let likely = graph.only(&pairs, |pair| is_likely(&problem, pair));
        let dual = DualState::new(&problem, pairs, sharing);
        let of = |graph: LayeredGraph| {
            value(Instance::new(graph, MOST).solve(&dual, Level::Nearest, 1e9, &|| false))
        };
        let (Some(all), Some(likely)) = (of(graph), of(likely)) else {
            panic!("no path");
        };
        assert!(0.0 < all && all < likely + TINY, "{all} {likely}");
    }
}

/// Goes through the plans for a small panel from a layer on, prices included, in the terms of the graph; `sum` is what
/// those before cost. `slip` tells what figure out of register costs where courses share strips.
fn cheapest_plan(
    dual: &DualState,
    graph: &LayeredGraph,
    slip: &mut dyn FnMut(&[&Pair]) -> f64,
    (laid, sum): (&mut Vec<usize>, f64),
    least: &mut f64,
) {
    let (layer, pairs) = (laid.len(), &dual.pairs);
    if sum >= *least {
        return;
    }
    let pair = |l: usize, at: usize| &pairs.all[graph.layers[l].nodes[at].pair as usize];
    let Some(here) = graph.layers.get(layer) else {
        let laid: Vec<&Pair> = { laid.iter().enumerate() }
            .map(|(l, &at)| pair(l, at))
            .collect();
        *least = least.min(sum + slip(&laid));
        return;
    };
    let mut seams = vec![0.0; here.nodes.len()];
    if let Some(&before) = laid.last() {
        graph.seams(dual.problem, pairs, layer - 1, before, &mut seams);
    }
    let prices = dual.prices.on(&dual.sharing, pairs, here.row);
    for (at, node) in here.nodes.iter().enumerate() {
        let mut strips = pair(layer, at).strips();
        let fits = strips.all(|strip| {
            let before = { laid.iter().enumerate() }
                .filter(|(l, at)| pair(*l, **at).wood.contains(&strip))
                .map(|(l, _)| graph.layers[l].row);
            dual.sharing
                .fit(&before.chain([here.row]).collect::<Vec<_>>(), strip)
        });
        if !fits {
            continue;
        }
        // On short courses, a strip is paid when it is first cut into.
        let is_fresh = |strip: &u32| {
            let mut before = laid.iter().enumerate();
            !before.any(|(l, at)| pair(l, *at).wood.contains(strip))
        };
        let fresh = pair(layer, at).strips().filter(is_fresh);
        let paid = match here.long {
            true => prices.of(pair(layer, at)),
            false => fresh.map(|strip| dual.prices.whole(strip)).sum(),
        };
        let sum = sum + node.cost + paid + seams[at];
        laid.push(at);
        cheapest_plan(dual, graph, slip, (laid, sum), least);
        laid.pop();
    }
}

#[test]
fn no_plan_with_courses_that_share_strips_costs_less_than_its_bound() {
    let mut rng = Pcg64Mcg::seed_from_u64(2);
    let (mut just, mut all) = (0, 0);
    for seed in 0..6 {
        // Two to four of them run out, or one or two on each of two panels.
        let two_panels = seed % 2 == 1;
        let job = match two_panels {
            false => {
                let parts = &[0.7, 0.52, 0.4, 0.22][seed as usize / 2..];
                invented::run_outs(jobs::full_length_from(5, 5, 4, seed), parts)
            }
            true => {
                // The last time two of three.
                let parts = &[0.5 - 0.05 * seed as f64, 0.2][..1 + seed as usize / 5];
                let panel = jobs::full_length_from(2 + seed as u32 / 5, 5, 4, seed);
                invented::with_second_panel(invented::run_outs(panel, parts))
            }
        };
        let problem = Problem::new(&job);
        let sharing = Sharing::of(&problem);
        assert!(sharing.any_short);
        let Some(pairs) = Pairs::new(&problem, &sharing) else {
            panic!("too large a job");
        };
        let graph = LayeredGraph::new(&problem, &pairs, &sharing, true);
        let mut dual = DualState::new(&problem, pairs, sharing);
        assert!(graph.pays_whole());
        let mut instance = Instance::new(graph, MOST);
        for _ in 0..3 {
            let graph = &instance.graph;
            assert_eq!(graph.joins_panels(), two_panels);
            // The short courses, with the long ones beside them.
            let all_of = graph.tail.start - 1..(graph.tail.end + 1).min(graph.layers.len());
            let layers = &graph.layers[all_of.clone()];
            let rows: Vec<usize> = layers.iter().map(|layer| layer.row).collect();
            let shift = graph.met[all_of.start..all_of.end - 1]
                .iter()
                .map(|met| 2.0 * met * problem.weights.shift);
            let mut patterns = Patterns::new(&problem, &rows, shift.collect());
            let mut slip = |laid: &[&Pair]| {
                let laid = &laid[all_of.clone()];
                let share =
                    |j: usize, k: usize| laid[j].strips().any(|s| laid[k].wood.contains(&s));
                let cut = |k: usize| Cut {
                    room: problem.woods[0].clear[0],
                    board: laid[k].board,
                    apart_from: (0..k)
                        .filter(|j| share(*j, k))
                        .fold(0, |all, j| all | 1 << j),
                };
                let cuts = (0..laid.len()).map(|k| (laid[k].wood[0] != NONE).then(|| cut(k)));
                patterns.least(&cuts.collect::<Vec<_>>())
            };
            let mut plan = f64::INFINITY;
            let none = &mut Vec::new();
            cheapest_plan(&dual, graph, &mut slip, (none, 0.0), &mut plan);
            if dual.prices.sum() == 0.0 {
                // With register of the other long courses as well it is no less.
                let all = enumeration::cheapest(&dual, &instance.graph, f64::MAX, &|| false);
                assert!(all.is_some_and(|(all, _)| all > plan - TINY && all < 1.2 * plan));
            }
            let plan = plan - dual.prices.sum();
            let mut path = Vec::new();
            for level in [Level::Own, Level::Nearest, Level::Ways] {
                let Solved::Bound(value, found) = instance.solve(&dual, level, 1e9, &|| false)
                else {
                    panic!("no path");
                };
                assert!(value < plan + TINY, "{seed} {level:?}: {value} {plan}");
                just += usize::from(level == Level::Ways && value > plan - TINY);
                // Just above what the cheapest plan costs a path is found still.
                let above = instance.solve(&dual, level, plan + 1e-6, &|| false);
                assert!(self::value(above).is_some_and(|value| value < plan + TINY));
                path = found.nodes;
            }
            all += 1;
            let subgradient = dual.subgradient(&instance, Level::Ways, &path);
            dual.learn(&instance.graph, &path);
            dual.prices.step(&subgradient, rng.random_range(1.0..30.0));
        }
    }
    // What is remembered suffices more often than not.
    assert!(2 * just > all, "{just} of {all}");
}
