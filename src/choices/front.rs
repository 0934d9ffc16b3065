//! Which plans are worth choosing from: those that no other beats on all counts.

use super::Choice;
use crate::check::Verdict;
use crate::job::Job;
use crate::plan::Plan;
use crate::units::Length;

/// Looks that differ by less are the same. Unit: ΔE00·metre.
const SAME: f64 = 1e-6;

/// How a plan compares with others for the same job.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Criteria {
    /// Length of course left open.
    pub open: Length,
    /// Everything that meets the eye: seams, mates, joints and drift, by the job's own weights. Unit: ΔE00·metre.
    pub looks: f64,
    /// Joints; one on both sides counts once.
    pub joints: usize,
    /// Strips that stay whole, culls left out.
    pub whole: usize,
    /// The whole cost, by the job's own weights. Unit: ΔE00·metre.
    pub cost: f64,
    /// Whether it keeps every rule.
    pub good: bool,
}

impl Criteria {
    /// How a plan stands, by the checker's verdict.
    pub fn of(job: &Job, plan: &Plan, verdict: &Verdict) -> Criteria {
        let courses = plan.uncovered.iter();
        let strips = job.stock.strips.iter().filter(|strip| !strip.cull).count();
        let cost = verdict.cost;
        Criteria {
            open: courses.map(|id| job.hull.course(*id).length).sum(),
            looks: cost.seam + cost.matching + cost.joint + cost.drift,
            joints: verdict.joints,
            whole: strips.saturating_sub(verdict.strips_cut),
            cost: cost.total(),
            good: verdict.is_good(),
        }
    }

    /// Whether it is at least as good on all counts, and better on one.
    pub fn beats(&self, other: &Criteria) -> bool {
        let no_worse = self.looks <= other.looks + SAME
            && self.joints <= other.joints
            && self.whole >= other.whole;
        let better = self.looks < other.looks - SAME
            || self.joints < other.joints
            || self.whole > other.whole;
        no_worse && better
    }

    fn equals(&self, other: &Criteria) -> bool {
        (self.looks - other.looks).abs() <= SAME
            && (self.joints, self.whole) == (other.joints, other.whole)
    }

    /// The thriftier, the less: fewest joints first, then most strips left whole, then looks.
    fn thrift(&self) -> (usize, std::cmp::Reverse<usize>) {
        (self.joints, std::cmp::Reverse(self.whole))
    }
}

/// The plans that keep every rule, leave as little open as any, and that no other of them beats; by looks, the best
/// first.
///
/// Of plans that are equal on all counts, the first stays.
pub fn front(found: Vec<Choice>) -> Vec<Choice> {
    let least = found
        .iter()
        .filter(|c| c.standing.good)
        .map(|c| c.standing.open)
        .min();
    let found: Vec<Choice> = found
        .into_iter()
        .filter(|choice| choice.standing.good && Some(choice.standing.open) == least)
        .collect();
    let mut best: Vec<Choice> = Vec::new();
    for choice in &found {
        let beaten = found
            .iter()
            .any(|other| other.standing.beats(&choice.standing));
        let there = best
            .iter()
            .any(|other| other.standing.equals(&choice.standing));
        if !beaten && !there {
            best.push(choice.clone());
        }
    }
    best.sort_by(|a, b| a.standing.looks.total_cmp(&b.standing.looks));
    best
}

/// So many of them, spread as widely as they go: the best-looking and the thriftiest, then the cheapest, then whichever
/// is least like those taken.
pub fn spread(best: Vec<Choice>, many: usize) -> Vec<Choice> {
    if best.len() <= many {
        return best;
    }
    let by = |less: &dyn Fn(&Criteria, &Criteria) -> std::cmp::Ordering| {
        (0..best.len()).min_by(|a, b| less(&best[*a].standing, &best[*b].standing))
    };
    let cheapest = by(&|a, b| a.cost.total_cmp(&b.cost));
    let thriftiest = by(&|a, b| {
        a.thrift()
            .cmp(&b.thrift())
            .then(a.looks.total_cmp(&b.looks))
    });
    let wanted = match many {
        1 => vec![cheapest],
        _ => vec![Some(0), thriftiest, cheapest],
    };
    let mut taken: Vec<usize> = Vec::new();
    for one in wanted.into_iter().flatten() {
        if taken.len() < many && !taken.contains(&one) {
            taken.push(one);
        }
    }
    while taken.len() < many {
        let least_like = (0..best.len())
            .filter(|i| !taken.contains(i))
            .map(|i| {
                (
                    taken
                        .iter()
                        .map(|j| apart(&best, i, *j))
                        .fold(f64::INFINITY, f64::min),
                    i,
                )
            })
            .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
        match least_like {
            Some((_, i)) => taken.push(i),
            None => break,
        }
    }
    taken.sort_unstable();
    taken.into_iter().map(|i| best[i].clone()).collect()
}

/// How far two plans differ: each count as a part of how far it goes over all plans.
fn apart(best: &[Choice], one: usize, other: usize) -> f64 {
    let by = |count: &dyn Fn(&Criteria) -> f64| {
        let all = || best.iter().map(|choice| count(&choice.standing));
        let (low, high) = (
            all().fold(f64::INFINITY, f64::min),
            all().fold(f64::NEG_INFINITY, f64::max),
        );
        let apart = (count(&best[one].standing) - count(&best[other].standing)).abs();
        if high > low {
            apart / (high - low)
        } else {
            0.0
        }
    };
    by(&|s| s.looks) + by(&|s| s.joints as f64) + by(&|s| s.whole as f64)
}
