//! What could lie on each course of the tail, and what the courses after it cost at least.

use crate::solve::bound::classes::{Classes, Kind};
use crate::solve::bound::dual::DualState;
use crate::solve::bound::labelling::{CompletionBounds, Direction, seam};
use crate::solve::bound::layers::between;
use crate::solve::bound::register::room;
use crate::solve::bound::segments::Segments;
use crate::solve::bound::subset_dp::PairClass;
use crate::solve::problem::{Problem, Span, Steps};
use crate::solve::tuning::tails::ROOM_STEP;

/// What could lie on a course.
#[derive(Clone)]
pub struct Choice {
    pub pair: u32,
    pub at: (usize, usize),
    /// The board of both strips; `None` for a pair of two boards.
    pub board: Option<usize>,
    pub strips: Vec<u32>,
    /// Match.
    pub cost: f64,
    /// The price of the parts that it takes.
    pub parts: f64,
    /// What the courses after it cost at least, paid by parts.
    pub rest: f64,
    /// Where both strips can be cut.
    pub room: Span,
}

impl Choice {
    /// What it costs at least, with the courses after it.
    pub fn least(&self) -> f64 {
        self.cost + self.parts + self.rest
    }
}

/// A short course.
pub struct Course {
    /// Its number in the tail.
    pub number: usize,
    /// Metres met of the course before it, and the charge.
    pub met: f64,
    pub charge: usize,
    /// In the order of what they cost at least, with what comes after.
    pub choices: Vec<Choice>,
}

/// What a metre out of register costs on the seam of a layer with the next.
pub fn shift(classes: &Classes, problem: &Problem, upper: usize) -> f64 {
    let sides = classes.strips[upper].max(classes.strips[upper + 1]);
    let touches = between(problem, classes.rows[upper], classes.rows[upper + 1])
        .is_some_and(|seam| seam.charge.steps != Steps::Apart);
    match touches {
        true => classes.met[upper] * f64::from(sides) * problem.weights.shift,
        false => 0.0,
    }
}

/// A short course with all that could lie on it. `rests` is what the courses after it cost at least, by class and pair.
pub fn course(
    classes: &Classes,
    dual: &DualState,
    (l, way): (usize, Direction),
    parts: &[f64],
    rests: &[Vec<f64>],
) -> Course {
    let problem = dual.problem;
    let mut choices = Vec::new();
    for (class, pairs) in classes.all.iter().enumerate() {
        for (i, &pair) in pairs.pairs.iter().enumerate() {
            let (cost, rest) = (classes.cost[l][class][i], rests[class][i]);
            if !cost.is_finite() || !rest.is_finite() {
                continue;
            }
            let strips: Vec<u32> = dual.pairs.all[pair as usize].strips().collect();
            let rooms = strips.iter().map(|&strip| about(problem, strip));
            let room = rooms.reduce(|all, one| (all.0.max(one.0), all.1.min(one.1)));
            choices.push(Choice {
                pair,
                at: (class, i),
                board: match classes.kind(class) {
                    Kind::TwoBoards => None,
                    _ => classes.board(class),
                },
                room: room.unwrap_or_default(),
                parts: strips.iter().map(|&strip| parts[strip as usize]).sum(),
                strips,
                cost,
                rest,
            });
        }
    }
    choices.sort_by(|a, b| a.least().total_cmp(&b.least()));
    let (upper, from_below) = match way {
        Direction::Down => (l - 1, 0),
        Direction::Up => (l, 1),
    };
    Course {
        number: l - classes.shorts.tail.start,
        met: classes.met.get(upper).copied().unwrap_or(0.0),
        charge: classes
            .charge
            .get(upper)
            .map_or(0, |charge| charge[from_below]),
        choices,
    }
}

/// By course, class and pair, what the courses after it cost at least: another pair lies on the next, or the same
/// again.
pub fn rests(classes: &Classes, segments: &Segments, far: &CompletionBounds) -> Vec<Vec<Vec<f64>>> {
    let tail = classes.shorts.tail.clone();
    let mut rests: Vec<Vec<Vec<f64>>> = vec![Vec::new(); tail.len()];
    for (t, l) in tail.clone().enumerate().rev() {
        let mut rest = far.entry[l].clone();
        let of_runs = (0..rest.len()).filter(|&class| matches!(classes.kind(class), Kind::Runs(_)));
        if l + 1 < tail.end {
            for class in of_runs {
                for (i, rest) in rest[class].iter_mut().enumerate() {
                    let again = classes.stay(class, l, i)
                        + segments.entry[l + 1][class][i]
                        + rests[t + 1][class][i];
                    *rest = rest.min(again);
                }
            }
        }
        rests[t] = rest;
    }
    rests
}

/// By course, class and pair, what the courses of the tail before it in an order cost at least, strips paid by parts.
/// The order goes along the tail one way or the other.
pub fn chains(classes: &Classes, dual: &DualState, order: &[usize]) -> Vec<Vec<Vec<f64>>> {
    let mut chains = Vec::new();
    // What could lie on the course before, and what that costs with all before it.
    let mut before: Option<(usize, Vec<(u32, f64)>)> = None;
    for &l in order {
        let prices = dual.prices.on(&dual.sharing, &dual.pairs, classes.rows[l]);
        let least = |pair: u32| match &before {
            Some((last, all)) => {
                let upper = l.min(*last);
                let charge = classes.charge[upper][usize::from(l > *last)];
                let rates = dual.pairs.rates(charge, pair);
                let all = all.iter();
                let costs = all
                    .map(|&(other, cost)| seam(classes.met[upper], rates[other as usize]) + cost);
                costs.fold(f64::INFINITY, f64::min)
            }
            None => 0.0,
        };
        let mut here = Vec::new();
        let mut of_class = |(pairs, costs): (&PairClass, &Vec<f64>)| {
            let all = pairs.pairs.iter().zip(costs);
            let of_pair = |(&pair, cost): (&u32, &f64)| match cost.is_finite() {
                true => {
                    let least = least(pair);
                    let paid = prices.of(&dual.pairs.all[pair as usize]);
                    here.push((pair, cost + paid + least));
                    least
                }
                false => f64::INFINITY,
            };
            all.map(of_pair).collect::<Vec<f64>>()
        };
        let all = classes.all.iter().zip(&classes.cost[l]);
        chains.push(all.map(&mut of_class).collect::<Vec<_>>());
        before = Some((l, here));
    }
    chains
}

/// Between which places a strip is clear, and a little beyond.
///
/// With more room than there is, figure costs no more. So strips of nearly the same length are as one, and what they
/// cost out of register is worked out once.
pub fn about(problem: &Problem, strip: u32) -> Span {
    let (from, to) = room(problem, strip);
    (ROOM_STEP * (from / ROOM_STEP), to.rounded_up(ROOM_STEP))
}
