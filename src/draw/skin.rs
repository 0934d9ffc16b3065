//! The skin in true proportion: how far from the keel each course lies, all along the boat.
//!
//! Both sides are opened flat and laid against each other along the keel, as a hull is seen from below when its sides
//! are pressed flat. Courses run with the line that they start from, and run out against the other one. Where the forms
//! give widths, courses narrow as they say.

use super::scene::Point;
use super::sheet::ends;
use super::stack::Stack;
use crate::hull::{Course, CourseId, Hull, Side};
use crate::job::Job;
use crate::units::X;
use std::collections::BTreeMap;

/// In how many steps the boat is sounded from bow to stern.
const SOUNDINGS: usize = 320;
/// Over how many steps fore and aft a width is evened out, and how often. Why: a hull has no corners, where the end of
/// a course makes one. Why often rather than far: near the bow there is less to even out over, and that shows.
const EVENED: usize = 6;
const TIMES: usize = 14;
/// A course narrower than this is not there. Unit: millimetre.
const NOTHING: f64 = 0.001;

/// Distances from the keel line. Unit: millimetre of boat.
#[derive(Clone, Debug, Default)]
struct Edges {
    near: Vec<f64>,
    far: Vec<f64>,
}

/// Where each course lies. Unit of all: millimetre of boat.
pub struct Skin {
    /// Places along the boat where the skin is sounded, from the bow aft.
    places: Vec<f64>,
    /// Of courses on the sides, and of the halves of a centre course far from the keel.
    sides: BTreeMap<CourseId, Edges>,
    /// Of courses on the keel line: from port to starboard.
    middle: BTreeMap<CourseId, Edges>,
    /// Foremost and aftmost place.
    pub ends: (f64, f64),
    /// The greatest distance of any edge from the keel line.
    pub half: f64,
}

/// On which half of the picture a course is drawn.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Half {
    /// Above the keel line.
    Port,
    /// Below it.
    Starboard,
    /// Astride it.
    Astride,
}

/// Which edge of a course.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Edge {
    /// The one nearer the keel line; of a course astride it, the port one.
    Near,
    /// The other.
    Far,
}

impl Skin {
    /// The skin of this boat.
    pub fn of(job: &Job) -> Skin {
        let hull = &job.hull;
        let stack = Stack::of(hull);
        let ends = ends(hull);
        let ends = (ends.0.mm(), ends.1.mm());
        let step = (ends.1 - ends.0) / SOUNDINGS as f64;
        let places: Vec<f64> = (0..=SOUNDINGS).map(|n| ends.0 + n as f64 * step).collect();
        let sounded = |id: CourseId| {
            let nodes = widths(hull, hull.course(id), job.rules.width.mm());
            let widths: Vec<f64> = places.iter().map(|x| at(&nodes, *x)).collect();
            (0..TIMES).fold(widths, |widths, _| evened(&widths))
        };
        let middle: Vec<Vec<f64>> = stack.middle.iter().map(|id| sounded(*id)).collect();
        let astride = |n: usize| middle.iter().map(|widths| widths[n]).sum::<f64>() / 2.0;
        let half: Vec<f64> = (0..places.len()).map(astride).collect();
        let mut skin = Skin {
            sides: BTreeMap::new(),
            middle: BTreeMap::new(),
            ends,
            half: 0.0,
            places: places.clone(),
        };
        let mut reach: Vec<f64> = half.iter().map(|half| -half).collect();
        for (id, widths) in stack.middle.iter().zip(&middle) {
            skin.middle.insert(*id, stacked(&mut reach, widths, 1.0));
        }
        let mut reach = half;
        for id in &stack.half {
            let share = match hull.course(*id).sides() {
                [Side::Centre] => 0.5,
                _ => 1.0,
            };
            skin.sides
                .insert(*id, stacked(&mut reach, &sounded(*id), share));
        }
        skin.half = reach.into_iter().fold(0.0, f64::max);
        skin
    }

    /// On which halves the pieces of a side of a course are drawn.
    pub fn halves(&self, course: CourseId, side: Side) -> &'static [Half] {
        match side {
            Side::Port => &[Half::Port],
            Side::Starboard => &[Half::Starboard],
            Side::Centre if self.middle.contains_key(&course) => &[Half::Astride],
            Side::Centre => &[Half::Port, Half::Starboard],
        }
    }

    /// How far below the keel line an edge of a course lies at a place along the boat; port is negative.
    pub fn offset(&self, course: CourseId, half: Half, edge: Edge, x: f64) -> f64 {
        let (all, sign) = match half {
            Half::Port => (&self.sides, -1.0),
            Half::Starboard => (&self.sides, 1.0),
            Half::Astride => (&self.middle, 1.0),
        };
        let Some(edges) = all.get(&course) else {
            return 0.0;
        };
        let offsets = match edge {
            Edge::Near => &edges.near,
            Edge::Far => &edges.far,
        };
        sign * between(&self.places, offsets, x)
    }

    /// From where to where a course has a width, evened out as it is.
    pub fn reach(&self, course: CourseId, half: Half) -> (f64, f64) {
        let all = match half {
            Half::Astride => &self.middle,
            _ => &self.sides,
        };
        let wide = |n: &usize| {
            all.get(&course)
                .is_some_and(|edges| edges.far[*n] - edges.near[*n] > NOTHING)
        };
        let first = (0..self.places.len()).find(wide);
        let last = (0..self.places.len()).rev().find(wide);
        match (first, last) {
            (Some(first), Some(last)) => {
                let end = self.places.len() - 1;
                (
                    self.places[first.saturating_sub(1)],
                    self.places[(last + 1).min(end)],
                )
            }
            _ => (self.ends.0, self.ends.0),
        }
    }

    /// The places sounded between two places along the boat, with the two themselves.
    pub fn soundings(&self, from: f64, to: f64) -> Vec<f64> {
        let inside = |x: &&f64| from < **x && **x < to;
        let mut all = vec![from];
        all.extend(self.places.iter().filter(inside));
        all.push(to);
        all
    }
}

/// The edges of a course laid beyond what is there.
fn stacked(reach: &mut [f64], widths: &[f64], share: f64) -> Edges {
    let near = reach.to_vec();
    for (reach, width) in reach.iter_mut().zip(widths) {
        *reach += share * width;
    }
    Edges {
        near,
        far: reach.to_vec(),
    }
}

/// The mean over some steps fore and aft; over as many as there are on the shorter side.
fn evened(widths: &[f64]) -> Vec<f64> {
    let last = widths.len().saturating_sub(1);
    let mean = |n: usize| {
        let by = EVENED.min(n).min(last - n);
        let around = &widths[n - by..=n + by];
        around.iter().sum::<f64>() / around.len() as f64
    };
    (0..widths.len()).map(mean).collect()
}

/// How wide a course is along the boat: places and widths, from the bow aft. It is as wide as the forms say, or as a
/// strip, and comes to a point at its ends over as long as the next course is shorter.
fn widths(hull: &Hull, course: &Course, wide: f64) -> Vec<Point> {
    let (from, to) = (course.from.mm(), course.to.mm());
    let measured: Vec<Point> = course
        .crossings
        .iter()
        .map(|crossing| (course.x_at(crossing.at).mm(), crossing.width.mm()))
        .filter(|(x, _)| from < *x && *x < to)
        .collect();
    let (first, last) = match (measured.first(), measured.last()) {
        (Some(first), Some(last)) => (*first, *last),
        _ => ((to, wide), (from, wide)),
    };
    let bow = run(hull, course, |c| c.from, 1.0).min((first.0 - from) / 2.0);
    let stern = run(hull, course, |c| c.to, -1.0).min((to - last.0) / 2.0);
    let mut nodes = vec![(from, 0.0), (from + bow, first.1)];
    nodes.extend(measured);
    nodes.extend([(to - stern, last.1), (to, 0.0)]);
    nodes
}

/// Over which length a course runs out at an end: how much further in its neighbour ends.
fn run(hull: &Hull, course: &Course, end: impl Fn(&Course) -> X, inward: f64) -> f64 {
    let here = end(course).mm();
    let nearest = |runs: &mut dyn Iterator<Item = f64>| {
        let inside = runs.filter(|run| *run > 0.0);
        inside.min_by(f64::total_cmp)
    };
    let all = &hull.courses;
    let next = all.iter().filter(|other| course.lies_before(other));
    let before = all.iter().filter(|other| other.lies_before(course));
    nearest(&mut next.map(|next| (end(next).mm() - here) * inward))
        .or_else(|| nearest(&mut before.map(|last| (here - end(last).mm()) * inward)))
        .unwrap_or(0.0)
}

/// A line through nodes, and nothing beyond them. Where two nodes share a place, the line steps.
fn at(nodes: &[Point], x: f64) -> f64 {
    let part = |two: &[Point]| {
        let ((x0, y0), (x1, y1)) = (two[0], two[1]);
        if !(x0..=x1).contains(&x) {
            return None;
        }
        Some(if x1 > x0 {
            y0 + (y1 - y0) * (x - x0) / (x1 - x0)
        } else {
            y0.max(y1)
        })
    };
    nodes.windows(2).filter_map(part).fold(0.0, f64::max)
}

fn between(places: &[f64], values: &[f64], x: f64) -> f64 {
    let after = places.partition_point(|place| *place < x);
    let clamped = |n: usize| values.get(n).copied().unwrap_or(0.0);
    match after {
        0 => clamped(0),
        n if n >= places.len() => clamped(places.len().saturating_sub(1)),
        n => {
            let part = (x - places[n - 1]) / (places[n] - places[n - 1]);
            clamped(n - 1) + (clamped(n) - clamped(n - 1)) * part
        }
    }
}
