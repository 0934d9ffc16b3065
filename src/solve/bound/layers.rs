//! The boat as a graph of courses, with every pair that could lie on each, and what each step costs at least.

use super::pairs::{Pair, Pairs};
use super::sharing::Sharing;
use super::shorts::in_order;
use crate::plan::BowEnd;
use crate::solve::problem::{Charge, NONE, Problem, Seam};
use crate::solve::rack::{Rack, longest};
use crate::solve::timber::Part;
use crate::units::Length;
use std::ops::Range;

/// A pair that could lie on a course.
#[derive(Clone, Copy, Debug)]
pub struct Node {
    /// The pair, by its place in [`Pairs::all`].
    pub pair: u32,
    /// Match.
    pub cost: f64,
}

/// Nodes of one board, next to each other in a layer.
#[derive(Clone, Copy, Debug)]
pub struct Group {
    /// The board.
    pub board: usize,
    /// Its first node.
    pub from: usize,
    /// One past its last.
    pub to: usize,
}

/// A course of the graph.
#[derive(Clone, Debug)]
pub struct Layer {
    /// The course, by its row in the problem.
    pub row: usize,
    /// On how many sides of the boat it lies.
    pub sides: u32,
    /// Whether it is long, see [`Sharing`].
    pub long: bool,
    /// Everything that could lie on it and still be part of a better plan, by board.
    pub nodes: Vec<Node>,
    /// The boards of the nodes.
    pub groups: Vec<Group>,
    /// For each strip, the least and greatest register that it can have here, mark end and plain end to the bow. Unit:
    /// mm.
    pub registers: Vec<[(f64, f64); 2]>,
}

/// The boat as a graph of courses.
#[derive(Clone, Debug)]
pub struct LayeredGraph {
    /// Its courses in order.
    pub layers: Vec<Layer>,
    /// Metres that each course meets of the one after it, weighted by how much they show.
    pub met: Vec<f64>,
    /// The charge between each course and the one after it, see [`Pairs::charge`].
    pub charge: Vec<[usize; 2]>,
    /// Whether figure could be out of register in spite of all that the cuts can do.
    pub slips: Vec<bool>,
    /// Short courses one after the other of which all ways to lay them can be gone through; see [`in_order`].
    pub tail: Range<usize>,
}

impl LayeredGraph {
    /// The panels of the problem one after the other, some of them from their last course to their first; where one
    /// ends and the next begins nothing is met. Where a course has two neighbours on one edge, the seam to the second
    /// is left out, and so is shade that goes the wrong way across an accent band: neither costs less than nothing.
    ///
    /// Whether short courses of several panels are `joined` is [`in_order`]'s business.
    pub fn new(problem: &Problem, pairs: &Pairs, sharing: &Sharing, joined: bool) -> LayeredGraph {
        let next = |row: usize| {
            let after = problem.rows[row].after?;
            (problem.rows[after].before == Some(row)).then_some(after)
        };
        let followed: Vec<Option<usize>> = (0..problem.rows.len()).map(next).collect();
        let heads = (0..problem.rows.len()).filter(|row| !followed.contains(&Some(*row)));
        let panel = |first| std::iter::successors(Some(first), |&row| followed[row]).collect();
        let (rows, tail) = in_order(sharing, heads.map(panel).collect(), joined);
        let layers: Vec<Layer> = { rows.into_iter() }
            .map(|row| layer(problem, pairs, sharing, row))
            .collect();
        // Chains of one panel may touch where one ends and the next begins: what that costs is left out.
        let met = |both: &[Layer]| {
            let [one, other] = [both[0].row, both[1].row];
            match followed[one] == Some(other) || followed[other] == Some(one) {
                true => met(problem, one, other),
                false => 0.0,
            }
        };
        let charge = |both: &[Layer]| {
            let seam = between(problem, both[0].row, both[1].row);
            let shared = sharing.could_share(both[0].row, both[1].row);
            let charge = seam.map_or(Charge::PLAIN, |seam| match seam.upper == both[0].row {
                true => seam.charge,
                false => seam.charge.mirrored(),
            });
            pairs.charge(charge, shared)
        };
        let slips = |both: &[Layer]| slips(problem, &both[0], &both[1]);
        LayeredGraph {
            met: layers.windows(2).map(met).collect(),
            charge: layers.windows(2).map(charge).collect(),
            slips: layers.windows(2).map(slips).collect(),
            layers,
            tail,
        }
    }

    /// The first layer of the tail that is of another panel than its first; one past its last where there is none.
    /// Nothing is met there.
    pub fn middle(&self) -> usize {
        let mut others = (self.tail.start + 1..self.tail.end).filter(|l| self.met[l - 1] <= 0.0);
        others.next().unwrap_or(self.tail.end)
    }

    /// Whether each strip that serves short courses is paid once, as a whole, where all they took is remembered: all of
    /// them lie in the tail.
    pub fn pays_whole(&self) -> bool {
        let short = self.layers.iter().filter(|layer| !layer.long).count();
        short > 0 && short == self.tail.len()
    }

    /// Whether short courses of several panels lie in the tail.
    pub fn joins_panels(&self) -> bool {
        self.middle() < self.tail.end
    }

    /// What the seams cost at least between a node of one layer and every node of the next.
    pub fn seams(&self, problem: &Problem, pairs: &Pairs, l: usize, i: usize, out: &mut Vec<f64>) {
        let (one, next) = (&self.layers[l], &self.layers[l + 1]);
        let (p, met) = (&one.nodes[i], self.met[l]);
        out.clear();
        // Where nothing is met the rate may be infinite and costs nothing all the same.
        if met <= 0.0 {
            out.resize(next.nodes.len(), 0.0);
            return;
        }
        let rates = pairs.rates(self.charge[l][0], p.pair);
        out.extend(next.nodes.iter().map(|q| met * rates[q.pair as usize]));
        if self.slips[l] {
            let board = pairs.all[p.pair as usize].board;
            for group in next.groups.iter().filter(|group| group.board == board) {
                let all = group.from..group.to;
                for (seam, q) in out[all.clone()].iter_mut().zip(&next.nodes[all]) {
                    *seam += met * slip(problem, pairs, one, p, next, q);
                }
            }
        }
    }

    /// The graph with only the pairs of one kind.
    pub fn only(&self, pairs: &Pairs, keep: impl Fn(&Pair) -> bool) -> LayeredGraph {
        self.with(pairs, |_, _, node| keep(&pairs.all[node.pair as usize]))
    }

    /// The graph without the nodes that are named by layer and number.
    pub fn without(&self, pairs: &Pairs, fixed: &[Vec<bool>]) -> LayeredGraph {
        let is_fixed = |l: usize, at: usize| fixed.get(l).and_then(|fixed| fixed.get(at));
        self.with(pairs, |l, at, _| !is_fixed(l, at).copied().unwrap_or(false))
    }

    /// The graph with the nodes that are kept, by layer and number.
    fn with(&self, pairs: &Pairs, keep: impl Fn(usize, usize, &Node) -> bool) -> LayeredGraph {
        let mut graph = self.clone();
        for (l, layer) in graph.layers.iter_mut().enumerate() {
            let mut at = 0..;
            layer
                .nodes
                .retain(|node| keep(l, at.next().unwrap_or(0), node));
            layer.groups = groups(pairs, &layer.nodes);
        }
        graph
    }
}

/// Weighted metres that a course meets of the next one.
fn met(problem: &Problem, upper: usize, lower: usize) -> f64 {
    between(problem, upper, lower).map_or(0.0, |seam| seam.look.whole())
}

/// The seam of a course with the next, whichever of them is the upper one.
pub fn between(problem: &Problem, one: usize, next: usize) -> Option<&Seam> {
    let mut seams = problem.seams.iter();
    let lies_between =
        |upper: usize, lower: usize| [[one, next], [next, one]].contains(&[upper, lower]);
    seams.find(|seam| lies_between(seam.upper, seam.lower))
}

/// The boards of nodes, which are in the order of [`Pairs::all`].
pub fn groups(pairs: &Pairs, nodes: &[Node]) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (i, node) in nodes.iter().enumerate() {
        let board = pairs.all[node.pair as usize].board;
        match groups.last_mut() {
            Some(group) if group.board == board => group.to = i + 1,
            _ => groups.push(Group {
                board,
                from: i,
                to: i + 1,
            }),
        }
    }
    groups
}

fn layer(problem: &Problem, pairs: &Pairs, sharing: &Sharing, row: usize) -> Layer {
    let r = &problem.rows[row];
    let part = Part::whole(problem, row);
    let rack = Rack::before(problem);
    let look = r.look.whole();
    let mut nodes = Vec::new();
    for (number, pair) in pairs.all.iter().enumerate() {
        let [a, b] = pair.wood;
        let rate = match (a == NONE, b == NONE) {
            (true, _) if r.mirrored => problem.weights.foster,
            (false, true) if !r.mirrored => 0.0,
            (false, false) if r.mirrored => problem.match_rate(a, b),
            _ => continue,
        };
        if !allowed(problem, pairs, row, pair) {
            continue;
        }
        let fits = || longest(&rack.room_on_both(problem, pair.wood, &[], &[])) >= part.length();
        if a != NONE && !fits() {
            continue;
        }
        nodes.push(Node {
            pair: number as u32,
            cost: look * rate,
        });
    }
    let strips = 0..problem.woods.len() as u32;
    Layer {
        groups: groups(pairs, &nodes),
        nodes,
        registers: strips
            .map(|strip| registers(problem, &part, strip))
            .collect(),
        row,
        sides: 1 + u32::from(r.mirrored),
        long: sharing.long[row],
    }
}

/// Whether wants let a pair lie on a course, one way round or the other.
fn allowed(problem: &Problem, pairs: &Pairs, row: usize, pair: &Pair) -> bool {
    let allowed = &problem.allowed;
    let on = |side: usize, board: usize| {
        let strips = &pairs.boards[board].strips;
        strips.iter().any(|&strip| allowed.on(row, side, strip))
    };
    match (pair.wood, pair.sides) {
        ([NONE, _], [a, b]) => (on(0, a) && on(1, b)) || (on(0, b) && on(1, a)),
        ([a, NONE], _) => allowed.wood(row, [a, NONE]),
        ([a, b], _) => allowed.wood(row, [a, b]) || allowed.wood(row, [b, a]),
    }
}

/// Whether two neighbouring courses could have figure of one board out of register whatever the cuts.
fn slips(problem: &Problem, one: &Layer, next: &Layer) -> bool {
    let strips = 0..problem.woods.len() as u32;
    let slips = |a: u32| {
        problem.mates[a as usize].iter().any(|&b| {
            (0..2).any(|end| {
                apart(
                    &one.registers[a as usize][end],
                    &next.registers[b as usize][end],
                ) > 0.0
            })
        })
    };
    problem.weights.shift > 0.0 && strips.into_iter().any(slips)
}

/// How far apart two registers are at least. Unit: mm.
fn apart(one: &(f64, f64), other: &(f64, f64)) -> f64 {
    (other.0 - one.1).max(one.0 - other.1).max(0.0)
}

/// What a metre of figure out of register costs at least between two pairs, each cut anywhere it fits.
fn slip(problem: &Problem, pairs: &Pairs, one: &Layer, p: &Node, next: &Layer, q: &Node) -> f64 {
    let (wood, other) = (
        pairs.all[p.pair as usize].wood,
        pairs.all[q.pair as usize].wood,
    );
    if wood[0] == NONE || other[0] == NONE {
        return 0.0;
    }
    let side = |i: usize, j: usize| {
        let (Some(one), Some(next)) = (
            one.registers.get(wood[i] as usize),
            next.registers.get(other[j] as usize),
        ) else {
            return 0.0;
        };
        let least = apart(&one[0], &next[0]).min(apart(&one[1], &next[1]));
        problem.weights.shift * (least / 1000.0).min(1.0)
    };
    (side(0, 0) + side(1, 1)).min(side(0, 1) + side(1, 0))
}

/// The least and greatest register that a strip can have on a course, mark end and plain end to the bow; a strip that
/// does not fit has any. Unit: mm. Source: model, "seam".
fn registers(problem: &Problem, part: &Part, strip: u32) -> [(f64, f64); 2] {
    let length = part.length();
    let clear = problem.woods[strip as usize].clear.iter();
    let fitting: Vec<Length> = clear
        .filter(|&&(a, b)| b - a >= length)
        .flat_map(|&(a, b)| [a, b - length])
        .collect();
    if fitting.is_empty() {
        return [(f64::NEG_INFINITY, f64::INFINITY); 2];
    }
    [BowEnd::Mark, BowEnd::Plain].map(|end| {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for &from in &fitting {
            let mut cut = Part {
                wood: [strip, NONE],
                ..*part
            };
            cut.bow[0] = end;
            cut.cut[0] = from;
            low = low.min(cut.register(0));
            high = high.max(cut.register(0));
        }
        (low, high)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::{Course, Stretch};
    use crate::invented::full_length;
    use crate::units::X;

    #[test]
    fn nothing_is_met_where_one_chain_of_a_panel_ends_and_the_next_begins() {
        let mut job = full_length(4, 10, 1);
        let whole = job.hull.courses[2].clone();
        let part = |from: X, to: X, part: u8| Course {
            from,
            to,
            length: to - from,
            stretch: Stretch::Part(part),
            ..whole.clone()
        };
        let cut = X::from_mm(2000.0);
        let parts = [part(whole.from, cut, 0), part(cut, whole.to, 1)];
        job.hull.courses.splice(2..3, parts);
        let problem = Problem::new(&job);
        let sharing = Sharing::of(&problem);
        let pairs = Pairs::new(&problem, &sharing).unwrap();
        let graph = LayeredGraph::new(&problem, &pairs, &sharing, true);
        let rows: Vec<usize> = graph.layers.iter().map(|layer| layer.row).collect();
        assert_eq!(rows, [0, 1, 2, 4, 3]);
        assert!(between(&problem, 4, 3).is_some());
        assert!(graph.met[..3].iter().all(|met| *met > 0.0));
        assert_eq!(graph.met[3], 0.0);
    }
}
