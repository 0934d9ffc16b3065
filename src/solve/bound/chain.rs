//! A panel as a chain of courses, with every wood that could lie on each, and what each step costs at least.

use super::bits::Bits;
use crate::plan::BowEnd;
use crate::solve::price::meeting_sides;
use crate::solve::problem::{NONE, Problem};
use crate::solve::rack::{Rack, longest};
use crate::solve::timber::Part;

/// Wood that could lie on a course.
#[derive(Clone, Copy, Debug)]
pub struct Node {
    /// The strips, port first. Both [`NONE`] for any two strips of different boards: those are looked at as one, with
    /// the least seams that any of them could have.
    pub wood: [u32; 2],
    /// Match and thrift.
    pub cost: f64,
    /// The strips, as a set.
    pub bits: Bits,
    /// The end to the bow, where the edges dictate it.
    end: Option<BowEnd>,
}

/// A course of the chain.
#[derive(Clone, Debug)]
pub struct Link {
    /// Everything that could lie on it and still be part of a better plan.
    pub nodes: Vec<Node>,
    /// Seams to the nodes of the next link, a row for each node of this one; filled in by [`Chain::price_seams`].
    pub seams: Vec<f64>,
    row: usize,
    /// Where the part would lie, not cut from anything.
    part: Part,
}

/// A panel as a chain of courses.
#[derive(Clone, Debug)]
pub struct Chain {
    /// Its courses in order.
    pub links: Vec<Link>,
}

impl Chain {
    /// Every panel of the problem.
    pub fn all(problem: &Problem) -> Vec<Chain> {
        let first = (0..problem.rows.len()).filter(|&row| problem.rows[row].before.is_none());
        first
            .map(|first| {
                let rows = std::iter::successors(Some(first), |&row| problem.rows[row].after);
                Chain {
                    links: rows.map(|row| link(problem, row)).collect(),
                }
            })
            .collect()
    }

    /// Works out what every seam costs at least. To be called again when nodes were dropped.
    pub fn price_seams(&mut self, problem: &Problem) {
        let strange = Strange::new(problem);
        for i in 0..self.links.len().saturating_sub(1) {
            let (one, next) = (&self.links[i], &self.links[i + 1]);
            let met = problem.rows[one.row]
                .seam
                .as_ref()
                .map_or(0.0, |seam| seam.whole());
            let mut seams = Vec::with_capacity(one.nodes.len() * next.nodes.len());
            for p in &one.nodes {
                seams.extend(
                    next.nodes
                        .iter()
                        // Where nothing is met the rate may be infinite and costs nothing all the same.
                        .map(|q| {
                            if met > 0.0 {
                                met * seam_rate(problem, &strange, one, p, next, q)
                            } else {
                                0.0
                            }
                        }),
                );
            }
            self.links[i].seams = seams;
        }
    }
}

impl Chain {
    /// The chain with only the nodes of one kind.
    pub fn only(&self, problem: &Problem, keep: impl Fn(&Node) -> bool) -> Chain {
        let mut chain = self.clone();
        chain
            .links
            .iter_mut()
            .for_each(|link| link.nodes.retain(&keep));
        chain.price_seams(problem);
        chain
    }

    /// The same chain from its other end.
    pub fn reversed(&self) -> Chain {
        let mut links: Vec<Link> = self.links.iter().rev().cloned().collect();
        for (i, link) in links.iter_mut().enumerate() {
            link.seams.clear();
            if i + 1 < self.links.len() {
                let (fore, aft) = (self.links.len() - 2 - i, self.links.len() - 1 - i);
                let (fore, width) = (&self.links[fore], self.links[aft].nodes.len());
                for q in 0..width {
                    link.seams.extend(fore.seams.iter().skip(q).step_by(width));
                }
            }
        }
        Chain { links }
    }

    /// The chain without the nodes that are named by link and number.
    pub fn drop_nodes(&mut self, problem: &Problem, gone: &[Vec<bool>]) {
        for (link, gone) in self.links.iter_mut().zip(gone) {
            let mut gone = gone.iter();
            link.nodes
                .retain(|_| !gone.next().copied().unwrap_or(false));
        }
        self.price_seams(problem);
    }
}

fn link(problem: &Problem, row: usize) -> Link {
    let r = &problem.rows[row];
    let part = Part::between(problem, row, 0, r.length);
    let rack = Rack::before(problem);
    let fits = |wood| longest(&rack.room_on_both(problem, wood, &[], &[])) >= part.length();
    let look = r.look.whole();
    let mut nodes = Vec::new();
    for a in 0..problem.woods.len() as u32 {
        if !r.mirrored {
            if fits([a, NONE]) {
                nodes.push(Node {
                    wood: [a, NONE],
                    cost: problem.weights.cut,
                    bits: Bits::of([a]),
                    end: None,
                });
            }
            continue;
        }
        for &b in problem.mates[a as usize].iter().filter(|&&b| fits([a, b])) {
            let end = match problem.bow_ends(row, [a, b]) {
                [only] => Some(*only),
                _ => None,
            };
            let cost = look * problem.match_rate(a, b) + 2.0 * problem.weights.cut;
            nodes.push(Node {
                wood: [a, b],
                cost,
                bits: Bits::of([a, b]),
                end,
            });
        }
    }
    if r.mirrored {
        let cost = look * problem.weights.foster + 2.0 * problem.weights.cut;
        nodes.push(Node {
            wood: [NONE, NONE],
            cost,
            bits: Bits::NONE,
            end: None,
        });
    }
    Link {
        nodes,
        seams: Vec::new(),
        row,
        part,
    }
}

/// For each strip, what a metre of seam beside any other strip costs at least: of its own board, and of another.
struct Strange {
    own: Vec<f64>,
    other: Vec<f64>,
}

impl Strange {
    fn new(problem: &Problem) -> Strange {
        let strips = 0..problem.woods.len() as u32;
        let least = |a: u32, own: bool| {
            let others = strips
                .clone()
                .filter(|&b| b != a && problem.one_board(a, b) == own);
            others
                .map(|b| problem.seam_rate(a, b))
                .fold(f64::INFINITY, f64::min)
        };
        Strange {
            own: strips.clone().map(|a| least(a, true)).collect(),
            other: strips.clone().map(|a| least(a, false)).collect(),
        }
    }

    /// A metre of seam between this wood and two strips of different boards.
    fn beside(&self, wood: [u32; 2]) -> f64 {
        let own = |strip: u32| self.own[strip as usize];
        let other = |strip: u32| self.other[strip as usize];
        match wood {
            // Two such pairs after each other: nothing is known of either.
            [NONE, _] => 0.0,
            [p, NONE] => own(p).min(other(p)) + other(p),
            // At most one of the two can be of the board that both of these are of.
            [p, q] => (own(p).min(other(p)) + other(q)).min(other(p) + own(q).min(other(q))),
        }
    }
}

/// What a metre of seam costs at least, whatever the cuts.
fn seam_rate(
    problem: &Problem,
    strange: &Strange,
    one: &Link,
    p: &Node,
    next: &Link,
    q: &Node,
) -> f64 {
    if q.wood[0] == NONE {
        return strange.beside(p.wood);
    }
    if p.wood[0] == NONE {
        return strange.beside(q.wood);
    }
    let side = |&(i, j): &(usize, usize)| {
        let (a, b) = (p.wood[i], q.wood[j]);
        problem.seam_rate(a, b) + shift_rate(problem, one, p, a, next, q, b)
    };
    meeting_sides(p.wood, q.wood).iter().map(side).sum()
}

/// What figure out of register costs at least between two strips, each cut anywhere it fits.
fn shift_rate(
    problem: &Problem,
    one: &Link,
    p: &Node,
    a: u32,
    next: &Link,
    q: &Node,
    b: u32,
) -> f64 {
    if !problem.one_board(a, b) {
        return 0.0;
    }
    let apart = |end: BowEnd| {
        let (low, high) = registers(problem, one, a, end);
        let (other_low, other_high) = registers(problem, next, b, end);
        (other_low - high).max(low - other_high).max(0.0)
    };
    let least = match (p.end, q.end) {
        (Some(one), Some(other)) if one != other => 1000.0,
        (Some(end), _) | (_, Some(end)) => apart(end),
        (None, None) => apart(BowEnd::Mark).min(apart(BowEnd::Plain)),
    };
    problem.weights.shift * (least / 1000.0).min(1.0)
}

/// The least and greatest register that a strip can have on a course. Unit: mm. Source: model, "seam".
fn registers(problem: &Problem, link: &Link, strip: u32, end: BowEnd) -> (f64, f64) {
    let length = link.part.length();
    let fitting = problem.woods[strip as usize]
        .clear
        .iter()
        .filter(|(a, b)| b - a >= length);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for &(a, b) in fitting {
        for from in [a, b - length] {
            let mut cut = Part {
                wood: [strip, NONE],
                ..link.part
            };
            cut.bow[0] = end;
            cut.cut[0] = from;
            low = low.min(cut.register(0));
            high = high.max(cut.register(0));
        }
    }
    (low, high)
}
