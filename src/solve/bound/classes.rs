//! What is the same of a graph at any prices.

use super::dual::DualState;
use super::layers::{Layer, LayeredGraph, between};
use super::pairs::{Pair, Pairs};
use super::shorts::Shorts;
use super::subset_dp::PairClass;
use crate::solve::problem::{NONE, Problem, Steps};
use crate::solve::timber::Part;
use crate::solve::tuning::classes::CLOSE;
use rayon::prelude::*;

/// Stands for a pair that is not among the nodes of a layer.
pub const NO_NODE: u32 = u32::MAX;

/// A graph, with its pairs sorted into classes. The first classes are the boards. After them come the pairs of two
/// boards, by the first of the two. After those come the outliers of each board: pairs that would give its dynamic
/// programme too many subsets. For an outlier a path leaves the board and comes back, and of the slices taken before
/// only the number is known after it. Last come the runs of each board: its pairs on short courses (`tails`).
pub struct Classes {
    /// The classes.
    pub all: Vec<PairClass>,
    /// How many of them are boards.
    pub boards: usize,
    /// By layer and class, the node of each pair, or [`NO_NODE`].
    pub node: Vec<Vec<Vec<u32>>>,
    /// By layer and class, match of each pair; infinite where it is not among the nodes.
    pub cost: Vec<Vec<Vec<f64>>>,
    /// By charge, and by class and class, what a metre of seam costs at least, register aside: a row for each pair of
    /// the first.
    pub rates: Vec<Vec<Vec<Vec<f64>>>>,
    /// What is charged between each layer and the next, from above and from below, see [`Pairs::charge`].
    pub charge: Vec<[usize; 2]>,
    /// Metres that each layer meets of the next, see [`LayeredGraph::met`].
    pub met: Vec<f64>,
    /// By layer and board, what figure out of register adds at least to the seams with the next layer; `None` where
    /// nothing.
    pub slips: Vec<Vec<Option<Vec<f64>>>>,
    /// Strips that lie side by side on each layer: two on a mirrored course.
    pub strips: Vec<u32>,
    /// By board, how many slices it has.
    pub slices: Vec<u32>,
    /// By layer, its course.
    pub rows: Vec<usize>,
    /// The short courses.
    pub shorts: Shorts,
    /// See [`LayeredGraph::pays_whole`].
    pub pays_whole: bool,
    /// By layer, class of runs and pair, over how many courses from there on a run can go.
    runs: Vec<Vec<Vec<usize>>>,
    /// By layer, class of runs and pair, what the seam with the next costs at least where the run goes on.
    stays: Vec<Vec<Vec<f64>>>,
}

/// What sort of pairs a class has; of which board.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Kind {
    /// The pairs of a board on long courses.
    Board(usize),
    /// Pairs of two boards.
    TwoBoards,
    /// Pairs of a board that its dynamic programme leaves out.
    Outliers(usize),
    /// The pairs of a board on short courses.
    Runs(usize),
}

impl Classes {
    /// The classes of a graph's pairs.
    pub fn new(dual: &DualState, graph: &LayeredGraph) -> Classes {
        let (problem, pairs) = (dual.problem, &dual.pairs);
        let boards = pairs.boards.len();
        let mut by_class: Vec<Vec<u32>> = vec![Vec::new(); 4 * boards];
        for layer in &graph.layers {
            for node in &layer.nodes {
                let pair = &pairs.all[node.pair as usize];
                let class = match (pair.board == boards, layer.long) {
                    (true, _) => boards + pair.sides[0],
                    (false, true) => pair.board,
                    (false, false) => 3 * boards + pair.board,
                };
                by_class[class].push(node.pair);
            }
        }
        for class in &mut by_class {
            class.sort_unstable();
            class.dedup();
        }
        let of_boards = by_class[..boards].par_iter();
        let of_boards = of_boards.map(|class| of_board(problem, pairs, class));
        let of_boards: Vec<(PairClass, Vec<u32>)> = of_boards.collect();
        let (mut all, outliers): (Vec<PairClass>, Vec<Vec<u32>>) = of_boards.into_iter().unzip();
        let of_two_boards = by_class[boards..2 * boards].iter();
        let single = of_two_boards
            .chain(&outliers)
            .chain(&by_class[3 * boards..])
            .cloned();
        all.extend(single.map(PairClass::of_single_courses));
        let node = nodes(graph, pairs, &all, boards);
        let layers = graph.layers.iter().zip(&node);
        let shares = |l: usize| {
            let [one, next] = [&graph.layers[l], &graph.layers[l + 1]];
            one.long != next.long && dual.sharing.could_share(one.row, next.row)
        };
        let shared = (0..graph.met.len()).any(shares);
        let is_run = |class: usize| class >= 3 * boards;
        let shift = problem.weights.shift * least_apart(problem, graph);
        let rates = |charge: usize, one: usize, other: usize| {
            // Two short courses cut from one strip are out of register.
            let out = |p: u32, q: u32| match is_run(one) && is_run(other) && pairs.touch(charge) {
                true if pairs.share_slice(p, q) => {
                    shift * f64::from(pairs.sides(p).max(pairs.sides(q)))
                }
                _ => 0.0,
            };
            let may_meet = |p: u32, q: u32| match (is_run(one), is_run(other)) {
                // A strip that goes on is in one run.
                (true, true) => p != q,
                (false, false) => !pairs.share_slice(p, q),
                _ => shared || !pairs.share_slice(p, q),
            };
            let rate = |p: u32, q: u32| match may_meet(p, q) {
                true => pairs.rates(charge, p)[q as usize] + out(p, q),
                false => f64::INFINITY,
            };
            let beside = |&p: &u32| all[other].pairs.iter().map(move |&q| rate(p, q));
            { all[one].pairs.iter() }
                .flat_map(beside)
                .collect::<Vec<f64>>()
        };
        let steps = 0..graph.met.len();
        Classes {
            slips: steps
                .map(|l| slips(problem, pairs, graph, &all[..boards], &node, l))
                .collect(),
            rates: (0..pairs.charges())
                .map(|charge| {
                    let row = |one| {
                        (0..all.len())
                            .map(|other| rates(charge, one, other))
                            .collect()
                    };
                    (0..all.len()).map(row).collect()
                })
                .collect(),
            charge: graph.charge.clone(),
            boards,
            cost: layers.map(|(layer, node)| costs(layer, node)).collect(),
            node,
            met: graph.met.clone(),
            strips: graph.layers.iter().map(|layer| layer.sides).collect(),
            slices: pairs.boards.iter().map(|board| board.slices).collect(),
            runs: runs(dual, graph, &all[3 * boards..]),
            stays: stays(problem, pairs, graph, &all[3 * boards..]),
            shorts: Shorts::of(&dual.sharing, graph),
            pays_whole: graph.pays_whole(),
            rows: graph.layers.iter().map(|layer| layer.row).collect(),
            all,
        }
    }

    /// How many layers there are.
    pub fn layers(&self) -> usize {
        self.cost.len()
    }

    /// How many pairs a class has.
    pub fn size(&self, class: usize) -> usize {
        self.all[class].pairs.len()
    }

    /// The board whose slices a class takes, where they are remembered.
    pub fn home(&self, class: usize) -> Option<usize> {
        match self.kind(class) {
            Kind::Board(board) | Kind::Outliers(board) => Some(board),
            Kind::TwoBoards | Kind::Runs(_) => None,
        }
    }

    /// The board whose strips the pairs of a class are.
    pub fn board(&self, class: usize) -> Option<usize> {
        match self.kind(class) {
            Kind::Board(board) | Kind::Outliers(board) | Kind::Runs(board) => Some(board),
            Kind::TwoBoards => None,
        }
    }

    /// What sort of class it is.
    pub fn kind(&self, class: usize) -> Kind {
        let board = class % self.boards.max(1);
        match class / self.boards.max(1) {
            0 => Kind::Board(board),
            1 => Kind::TwoBoards,
            2 => Kind::Outliers(board),
            _ => Kind::Runs(board),
        }
    }

    /// Over how many courses a run of a pair can go from a layer on; at least one.
    pub fn run(&self, class: usize, layer: usize, pair: usize) -> usize {
        self.runs[layer][class - 3 * self.boards][pair]
    }

    /// What the seam of a layer with the next costs at least where the same pair lies on both.
    pub fn stay(&self, class: usize, layer: usize, pair: usize) -> f64 {
        self.stays[layer][class - 3 * self.boards][pair]
    }

    /// What a seam between two pairs of one board costs at least, on a layer and the next.
    pub fn seam(&self, board: usize, layer: usize, one: usize, next: usize) -> f64 {
        if self.met[layer] <= 0.0 {
            return 0.0;
        }
        let at = one * self.size(board) + next;
        let slip = self.slips[layer][board]
            .as_ref()
            .map_or(0.0, |slips| slips[at]);
        self.met[layer] * self.rates[self.charge[layer][0]][board][board][at] + slip
    }

    /// Courses that a segment in a class can have, when it begins on this layer and goes down.
    pub fn longest(&self, class: usize, layer: usize) -> usize {
        if class >= self.boards {
            return 1;
        }
        let mut used = 0;
        let fits = |strips: &&u32| {
            used += **strips;
            used <= self.slices[class]
        };
        self.strips[layer..].iter().take_while(fits).count()
    }
}

/// The class of a board, and its outliers.
fn of_board(problem: &Problem, pairs: &Pairs, all: &[u32]) -> (PairClass, Vec<u32>) {
    let whole = PairClass::of_board(pairs, all.to_vec()).map(|class| (class, Vec::new()));
    let mut reduced = CLOSE.into_iter().filter_map(|most| {
        let close = |pair: &u32| apart(problem, &pairs.all[*pair as usize]) <= most;
        let (near, far) = all.iter().partition(|pair| close(pair));
        Some((PairClass::of_board(pairs, near)?, far))
    });
    let none = || (PairClass::of_single_courses(Vec::new()), all.to_vec());
    whole.or_else(|| reduced.next()).unwrap_or_else(none)
}

/// How many slices further on in the board the second strip of a pair was sawn.
fn apart(problem: &Problem, pair: &Pair) -> i64 {
    match pair.wood {
        [_, NONE] => 0,
        [a, b] => (problem.woods[a as usize].seq - problem.woods[b as usize].seq).abs(),
    }
}

/// By layer, class of runs and pair, over how many courses from there on a run can go.
fn runs(dual: &DualState, graph: &LayeredGraph, classes: &[PairClass]) -> Vec<Vec<Vec<usize>>> {
    let layers = &graph.layers;
    let run = |l: usize, pair: &u32| {
        let strips = dual.pairs.all[*pair as usize].strips();
        let mut rows = Vec::new();
        for layer in layers[l..].iter().take_while(|layer| !layer.long) {
            rows.push(layer.row);
            let fit = |strip| dual.sharing.fit(&rows, strip);
            if !strips.clone().all(fit) {
                return (rows.len() - 1).max(1);
            }
        }
        rows.len().max(1)
    };
    let on = |l: usize| {
        let runs = |class: &PairClass| class.pairs.iter().map(|pair| run(l, pair)).collect();
        classes.iter().map(runs).collect()
    };
    (0..layers.len()).map(on).collect()
}

/// How far the figure of two courses cut from one strip is out of register at least. Unit: m, as far as it counts.
fn apart_on_strip(problem: &Problem, rows: [usize; 2]) -> f64 {
    let [one, next] = rows.map(|row| Part::whole(problem, row));
    let on_strip = (one.length().min(next.length()) + problem.saw).mm();
    (on_strip - (one.x_tip - next.x_tip).abs()).clamp(0.0, 1000.0) / 1000.0
}

/// The least of that for any two short courses beside each other.
fn least_apart(problem: &Problem, graph: &LayeredGraph) -> f64 {
    let beside = graph
        .layers
        .windows(2)
        .filter(|both| both.iter().all(|layer| !layer.long));
    let apart = |both: &[Layer]| apart_on_strip(problem, [both[0].row, both[1].row]);
    beside.map(apart).fold(1.0, f64::min)
}

/// By layer, class of runs and pair, what the seam with the next costs at least where the same pair lies on both. Two
/// cuts of one strip lie apart on it, so that their figure is out of register.
fn stays(
    problem: &Problem,
    pairs: &Pairs,
    graph: &LayeredGraph,
    classes: &[PairClass],
) -> Vec<Vec<Vec<f64>>> {
    let stay = |l: usize, &pair: &u32| {
        let rows = [graph.layers[l].row, graph.layers[l + 1].row];
        let Some(seam) = between(problem, rows[0], rows[1]).filter(|_| graph.met[l] > 0.0) else {
            return 0.0;
        };
        let shift = match seam.charge.steps {
            Steps::Apart => 0.0,
            _ => problem.weights.shift * apart_on_strip(problem, rows),
        };
        let rate = |a: u32, b: u32| problem.rate(seam.charge, a, b);
        let least = match pairs.all[pair as usize].wood {
            [a, NONE] => rate(a, a) + shift,
            [a, b] => (rate(a, a) + rate(b, b)).min(rate(a, b) + rate(b, a)) + 2.0 * shift,
        };
        graph.met[l] * least
    };
    let on = |l: usize| {
        let stays = |class: &PairClass| class.pairs.iter().map(|pair| stay(l, pair)).collect();
        classes.iter().map(stays).collect()
    };
    (0..graph.met.len()).map(on).collect()
}

/// By layer and class, the node of every pair.
fn nodes(
    graph: &LayeredGraph,
    pairs: &Pairs,
    classes: &[PairClass],
    boards: usize,
) -> Vec<Vec<Vec<u32>>> {
    let places = |which: &dyn Fn(usize) -> bool| {
        let mut place = vec![(0, 0); pairs.all.len()];
        for (number, class) in classes
            .iter()
            .enumerate()
            .filter(|(number, _)| which(*number))
        {
            for (at, &pair) in class.pairs.iter().enumerate() {
                place[pair as usize] = (number, at);
            }
        }
        place
    };
    let on_long = places(&|class| class < 3 * boards);
    let on_short = places(&|class| (boards..2 * boards).contains(&class) || class >= 3 * boards);
    let each = graph.layers.iter().map(|layer| {
        let blank = classes.iter().map(|class| vec![NO_NODE; class.pairs.len()]);
        let mut number: Vec<Vec<u32>> = blank.collect();
        for (i, node) in layer.nodes.iter().enumerate() {
            let place = if layer.long { &on_long } else { &on_short };
            let (class, at) = place[node.pair as usize];
            number[class][at] = i as u32;
        }
        number
    });
    each.collect()
}

/// What the nodes of a layer cost, by class and pair.
fn costs(layer: &Layer, node: &[Vec<u32>]) -> Vec<Vec<f64>> {
    let cost = |i: &u32| {
        let node = layer.nodes.get(*i as usize);
        node.map_or(f64::INFINITY, |node| node.cost)
    };
    let of_crew = |nodes: &Vec<u32>| nodes.iter().map(cost).collect();
    node.iter().map(of_crew).collect()
}

/// By board, what figure out of register adds at least to the seams of a layer with the next.
fn slips(
    problem: &Problem,
    pairs: &Pairs,
    graph: &LayeredGraph,
    boards: &[PairClass],
    node: &[Vec<Vec<u32>>],
    l: usize,
) -> Vec<Option<Vec<f64>>> {
    if !graph.slips[l] || graph.met[l] <= 0.0 {
        return vec![None; boards.len()];
    }
    let mut seams = Vec::new();
    let mut of_board = |(board, class): (usize, &PairClass)| {
        let mut slips = Vec::with_capacity(class.pairs.len().pow(2));
        for (one, p) in node[l][board].iter().zip(&class.pairs) {
            if *one != NO_NODE {
                graph.seams(problem, pairs, l, *one as usize, &mut seams);
            }
            let rates = pairs.rates(graph.charge[l][0], *p);
            for (next, q) in node[l + 1][board].iter().zip(&class.pairs) {
                let both = *one != NO_NODE && *next != NO_NODE;
                let slip = || seams[*next as usize] - graph.met[l] * rates[*q as usize];
                slips.push(if both { slip().max(0.0) } else { 0.0 });
            }
        }
        Some(slips)
    };
    boards.iter().enumerate().map(&mut of_board).collect()
}
