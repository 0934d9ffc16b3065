//! The slices in a picture: where each begins and ends across, all along.

use super::card;
use super::flatten::Picture;
use super::ill::{Cut, Ill};
use super::plane::Plane;

/// The slices as they lie, seen from straight above. Frame: millimetres; `s` along the slices from the left edge of
/// the card, `t` across them, down.
pub(super) struct Slices {
    frame: Frame,
    /// The edges between slices and at both sides, from the top, each through points with growing `s`.
    edges: Vec<Vec<(f64, f64)>>,
}

/// From along and across the slices to the card.
#[derive(Clone, Copy)]
struct Frame {
    cos: f64,
    sin: f64,
}

impl Frame {
    fn turned(degrees: f64) -> Frame {
        let (sin, cos) = degrees.to_radians().sin_cos();
        Frame { cos, sin }
    }

    fn card(&self, (s, t): (f64, f64)) -> (f64, f64) {
        (
            s * self.cos - t * self.sin,
            card::LEFT.1 + s * self.sin + t * self.cos,
        )
    }
}

/// How far the slices may be turned against the card. Unit: degrees.
const MOST_TURNED: f64 = 8.0;
/// How far to either side of the card its slices are looked for first. Unit: mm.
const NEAR: f64 = 300.0;
/// Between two columns that are looked at, and between two places in a column. Unit: mm.
const COLUMN: f64 = 4.0;
const FINE: f64 = 0.5;
/// Columns whose mean is taken before the median of all is.
const BLOCK: usize = 5;
/// Beyond this an edge is as good as any. Unit: values of a pixel, three colours and both sides together.
const STRONG: f64 = 200.0;
/// What part of the strength of good edges an edge must have, and how much at least.
const LEAST_PART: f64 = 0.2;
const LEAST: f64 = 8.0;
/// The gap between two slices. Unit: mm.
const GAP: f64 = 1.5;
/// How much wider or narrower slices may be than boat.toml says, as a part.
const OFF: f64 = 0.06;
/// Length of the steps in which edges are followed, and how far they may bend in one. Unit: mm.
const STEP: f64 = 40.0;
const BEND: f64 = 1.5;

/// What of a picture is looked at.
struct Eye<'p> {
    picture: &'p Picture,
    plane: &'p Plane,
}

impl Eye<'_> {
    /// How strong an edge along the slices is at a place; `None` outside the picture and where the card lies.
    fn edge(&self, frame: Frame, s: f64, t: f64) -> Option<f64> {
        let seen = |t: f64| {
            let place = frame.card((s, t));
            if on_the_card(place, 3.0) {
                return None;
            }
            self.picture.at(self.plane.at(place))
        };
        let (above, here, below) = (seen(t - 1.0)?, seen(t)?, seen(t + 1.0)?);
        let steps = (0..3).map(|n| (here[n] - above[n]).abs() + (below[n] - here[n]).abs());
        Some(steps.sum::<f64>().min(STRONG))
    }
}

/// Whether a place lies on the card, or this near it.
pub(super) fn on_the_card((x, y): (f64, f64), near: f64) -> bool {
    (-near..=card::SIZE.0 + near).contains(&x) && (-near..=card::SIZE.1 + near).contains(&y)
}

/// Looks for just so many slices of this width.
pub(super) fn find(
    picture: &Picture,
    plane: &Plane,
    named: usize,
    width: f64,
) -> Result<Slices, Ill> {
    let eye = Eye { picture, plane };
    let half = (named + 1) as f64 * (width + GAP) + card::SIZE.1;
    let turned = turned(&eye, half);
    let frame = Frame::turned(turned);
    let profile = profile(&eye, frame, half);
    let peaks = peaks(&profile, half, named);
    let chain = chain(&peaks, width);
    if chain.len() < 2 {
        return Err(Ill::NoSlices);
    }
    let seen = chain.len() - 1;
    let pitch = (chain[seen] - chain[0]) / seen as f64;
    if seen < named {
        for (next, cut) in [
            (chain[0] - pitch, Cut::Top),
            (chain[seen] + pitch, Cut::Foot),
        ] {
            let outside = |s: f64| !picture.holds(plane.at(frame.card((s, next))), 2.0);
            if outside(-NEAR / 2.0) || outside(card::SIZE.0 + NEAR / 2.0) {
                return Err(Ill::SlicesCutOff(cut));
            }
        }
    }
    if seen != named {
        return Err(Ill::Slices { named, seen });
    }
    if pitch < width * (1.0 - OFF) || pitch > width * (1.0 + OFF) + GAP {
        let (named, seen) = (width, pitch);
        return Err(Ill::OtherWidth { named, seen });
    }
    Ok(Slices {
        frame,
        edges: followed(&eye, frame, &chain),
    })
}

/// By how much the slices are turned against the card: where edges look sharpest from the side.
fn turned(eye: &Eye<'_>, half: f64) -> f64 {
    let straight = Frame::turned(0.0);
    let rows = (2.0 * half / FINE) as usize;
    // Seen once, and then sheared.
    let columns: Vec<(f64, Vec<f64>)> = near_columns()
        .map(|s| {
            let seen = (0..rows).map(|row| {
                eye.edge(straight, s, row as f64 * FINE - half)
                    .unwrap_or(f64::NAN)
            });
            (s, seen.collect())
        })
        .collect();
    let sharp = |degrees: f64| {
        let slope = degrees.to_radians().tan();
        let mut sums = vec![(0.0, 0.0); rows];
        for (s, seen) in &columns {
            let moved = (s * slope / FINE).round() as isize;
            let from = usize::try_from(moved).unwrap_or(0);
            let to = usize::try_from(-moved).unwrap_or(0);
            for (sum, value) in sums
                .iter_mut()
                .skip(to)
                .zip(seen.iter().skip(from))
                .filter(|(_, value)| !value.is_nan())
            {
                *sum = (sum.0 + value, sum.1 + 1.0);
            }
        }
        let enough = columns.len() as f64 / 4.0;
        let means: Vec<f64> = sums
            .iter()
            .filter(|sum| sum.1 >= enough)
            .map(|sum| sum.0 / sum.1)
            .collect();
        let middle = means.iter().sum::<f64>() / means.len().max(1) as f64;
        means
            .iter()
            .map(|mean| (mean - middle).powi(2))
            .sum::<f64>()
    };
    let best = |around: f64, most: f64, step: f64| {
        let many = (most / step).round() as i32;
        let all = (-many..=many).map(|n| around + f64::from(n) * step);
        let judged = all.map(|degrees| (sharp(degrees), degrees));
        judged
            .max_by(|one, other| one.0.total_cmp(&other.0))
            .map_or(around, |best| best.1)
    };
    best(best(0.0, MOST_TURNED, 0.1), 0.1, 0.02)
}

fn near_columns() -> impl Iterator<Item = f64> {
    let (from, to) = (-NEAR, card::SIZE.0 + NEAR);
    (0..((to - from) / COLUMN) as usize).map(move |n| from + n as f64 * COLUMN)
}

/// How strong an edge all along the slices is at each place across, near the card: the median of blocks, so that no
/// knot counts.
fn profile(eye: &Eye<'_>, frame: Frame, half: f64) -> Vec<f64> {
    let columns: Vec<f64> = near_columns().collect();
    let mut blocks = Vec::new();
    let rows = (2.0 * half / FINE) as usize;
    let at = |row: usize| {
        let t = row as f64 * FINE - half;
        blocks.clear();
        for block in columns.chunks(BLOCK) {
            let seen: Vec<f64> = block
                .iter()
                .filter_map(|s| eye.edge(frame, *s, t))
                .collect();
            if seen.len() * 2 > block.len() {
                blocks.push(seen.iter().sum::<f64>() / seen.len() as f64);
            }
        }
        match blocks.len() >= 4 {
            true => median(&mut blocks),
            false => f64::NAN,
        }
    };
    (0..rows).map(at).collect()
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(f64::NAN)
}

/// Places across with an edge, and how strong each is above the usual.
fn peaks(profile: &[f64], half: f64, named: usize) -> Vec<(f64, f64)> {
    let mut there: Vec<f64> = profile
        .iter()
        .copied()
        .filter(|value| !value.is_nan())
        .collect();
    let usual = median(&mut there);
    let reach = (1.5 / FINE) as usize;
    let mut peaks = Vec::new();
    for (row, value) in profile.iter().enumerate() {
        let around = &profile[row.saturating_sub(reach)..(row + reach + 1).min(profile.len())];
        // Of two of one height the first.
        let before = &profile[row.saturating_sub(reach)..row];
        let highest = around.iter().all(|other| other.is_nan() || other <= value);
        if value.is_nan() || !highest || before.iter().any(|other| other == value) {
            continue;
        }
        let (mut sum, mut weight) = (0.0, 0.0);
        let nearest = row.saturating_sub(2)..(row + 3).min(profile.len());
        for (row, value) in nearest
            .clone()
            .zip(&profile[nearest])
            .filter(|(_, value)| **value > usual)
        {
            sum += (row as f64 * FINE - half) * (value - usual);
            weight += value - usual;
        }
        if weight > 0.0 {
            peaks.push((sum / weight, value - usual));
        }
    }
    let mut heights: Vec<f64> = peaks.iter().map(|peak| peak.1).collect();
    heights.sort_by(|one, other| other.total_cmp(one));
    heights.truncate(named + 1);
    let least = (LEAST_PART * median(&mut heights)).max(LEAST);
    peaks.retain(|peak| peak.1 >= least);
    peaks
}

/// The strongest row of edges with a slice's width between each and the next.
fn chain(peaks: &[(f64, f64)], width: f64) -> Vec<f64> {
    let apart = width * (1.0 - OFF) - 0.5..=width * (1.0 + OFF) + GAP;
    let mut best: Vec<(f64, Option<usize>)> = Vec::new();
    for (n, (place, strong)) in peaks.iter().enumerate() {
        let before = (0..n).filter(|m| apart.contains(&(place - peaks[*m].0)));
        let before = before.max_by(|one, other| best[*one].0.total_cmp(&best[*other].0));
        best.push((strong + before.map_or(0.0, |before| best[before].0), before));
    }
    let last = (0..best.len()).max_by(|one, other| best[*one].0.total_cmp(&best[*other].0));
    let mut chain: Vec<f64> = std::iter::successors(last, |n| best[*n].1)
        .map(|n| peaks[n].0)
        .collect();
    chain.reverse();
    chain
}

/// Edges followed from the card outwards, all together, since the slices lie against each other.
fn followed(eye: &Eye<'_>, frame: Frame, chain: &[f64]) -> Vec<Vec<(f64, f64)>> {
    let mut edges: Vec<Vec<(f64, f64)>> = vec![Vec::new(); chain.len()];
    for out in [-1.0, 1.0] {
        let start = if out < 0.0 {
            -STEP / 2.0
        } else {
            card::SIZE.0 + STEP / 2.0
        };
        let mut at: Vec<f64> = chain.to_vec();
        let (mut slope, mut s) = (0.0, start);
        let mut branch: Vec<Vec<(f64, f64)>> = vec![Vec::new(); chain.len()];
        while s.abs() < 20_000.0 {
            let strong = |t: f64| {
                let columns = (-4..=4).map(|n| s + f64::from(n) * STEP / 8.0);
                let seen: Vec<f64> = columns.filter_map(|s| eye.edge(frame, s, t)).collect();
                (seen.len() >= 5).then(|| seen.iter().sum::<f64>() / seen.len() as f64)
            };
            let visible = at.iter().filter(|t| strong(**t).is_some()).count();
            if visible == 0 {
                break;
            }
            let moves = |most: f64| {
                let many = (most / 0.25) as i32;
                (-many..=many).map(|n| f64::from(n) * 0.25)
            };
            let all = |by: f64| at.iter().filter_map(|t| strong(t + by)).sum::<f64>();
            let by = best_of(moves(BEND), all);
            slope = (slope + 0.5 * by / STEP * out).clamp(-0.1, 0.1);
            for (t, points) in at.iter_mut().zip(&mut branch) {
                *t += by;
                let own = best_of(moves(0.75), |by| strong(*t + by).unwrap_or(0.0));
                points.push((s, *t + own));
                // An edge that can't be seen for a while goes with the others.
                *t += own * 0.5 + slope * STEP * out;
            }
            s += STEP * out;
        }
        for (edge, mut branch) in edges.iter_mut().zip(branch) {
            if out < 0.0 {
                branch.reverse();
            }
            edge.extend(branch);
        }
    }
    edges
}

/// The move that is best, of equals the smallest.
fn best_of(moves: impl Iterator<Item = f64>, strong: impl Fn(f64) -> f64) -> f64 {
    let mut all: Vec<(f64, f64)> = moves.map(|by| (by, strong(by))).collect();
    all.sort_by(|one, other| {
        other
            .1
            .total_cmp(&one.1)
            .then(one.0.abs().total_cmp(&other.0.abs()))
    });
    all.first().map_or(0.0, |best| best.0)
}

impl Slices {
    /// Where a place of a slice is on the card's frame: along it, and across it from its upper edge, 0, to its
    /// lower, 1.
    pub(super) fn card(&self, slice: usize, s: f64, across: f64) -> (f64, f64) {
        let edge = |n: usize| self.edges.get(n).map_or(0.0, |points| between(points, s));
        let (upper, lower) = (edge(slice), edge(slice + 1));
        self.frame.card((s, upper + across * (lower - upper)))
    }

    /// From where to where the edges could be followed.
    pub(super) fn reach(&self) -> (f64, f64) {
        let of = |points: &Vec<(f64, f64)>| Some((points.first()?.0, points.last()?.0));
        self.edges
            .first()
            .and_then(of)
            .map_or((0.0, 0.0), |(from, to)| {
                (from - STEP / 2.0, to + STEP / 2.0)
            })
    }
}

/// The line through points at a place; beyond its ends as it ends.
fn between(points: &[(f64, f64)], s: f64) -> f64 {
    let after = points
        .partition_point(|point| point.0 < s)
        .clamp(1, points.len().max(2) - 1);
    match points.get(after - 1..=after) {
        Some([(s0, t0), (s1, t1)]) if s1 > s0 => t0 + (t1 - t0) * (s - s0) / (s1 - s0),
        _ => points.first().map_or(0.0, |point| point.1),
    }
}
