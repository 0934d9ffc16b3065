//! The price of each rule, and of a little more wood: the job planned again with one thing made easier.
//!
//! Every plan for the job is a plan for the easier job, so that the search for the easier one begins from the plan there is, and
//! can only gain. What it gains is the price of the rule only where the new plan makes use of the ease: a plan that keeps every
//! rule as it is could have been had without. Where one turns up, it takes the place of the plan, and all is tried again.

use super::relaxed::Relaxed;
use crate::check::{Verdict, check};
use crate::hull::CourseId;
use crate::job::Job;
use crate::plan::Plan;
use crate::solve::{Asked, Watch, lay_from};
use crate::units::Length;

/// How often all is tried again because a better plan turned up on the way. After that, prices are told as they are.
const PASSES: usize = 3;
/// Costs that differ by less are the same. Unit: ΔE00·metre.
const SAME: f64 = 1e-6;

/// A plan, and what the checker says of it.
#[derive(Clone, PartialEq, Debug)]
pub struct Standing {
    /// The plan.
    pub plan: Plan,
    /// The checker's verdict.
    pub verdict: Verdict,
    /// Length of course that it leaves open.
    pub open: Length,
}

impl Standing {
    /// What a plan is worth for a job.
    pub fn of(job: &Job, plan: Plan) -> Standing {
        let verdict = check(job, &plan);
        let courses = plan.uncovered.iter();
        let open = courses.map(|id| job.hull.course(*id).length).sum();
        Standing {
            plan,
            verdict,
            open,
        }
    }

    /// What it costs, open courses aside. Unit: ΔE00·metre.
    pub fn cost(&self) -> f64 {
        self.verdict.cost.total()
    }

    /// Whether it beats another: less left open, or as much and cheaper.
    pub fn beats(&self, other: &Standing) -> bool {
        self.open < other.open || (self.open == other.open && self.cost() < other.cost() - SAME)
    }
}

/// What an ease brings.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Gain {
    /// No better plan was found that makes use of it. Not a proof that there is none.
    Nothing,
    /// So much less cost, with as much covered. Unit: ΔE00·metre.
    Cost(f64),
    /// So much more of the boat covered.
    Covered(Length),
}

/// What one ease would bring.
#[derive(Clone, PartialEq, Debug)]
pub struct Price {
    /// The ease.
    pub relaxed: Relaxed,
    /// The plan found with it.
    pub found: Standing,
    /// What it gains.
    pub gain: Gain,
    /// Courses with fewer joints than in the plan, with how many fewer.
    pub saved: Vec<(CourseId, usize)>,
}

/// The plan that the prices are held against, and the prices.
#[derive(Clone, PartialEq, Debug)]
pub struct Prices {
    /// The best plan known that keeps every rule as it is.
    pub plan: Standing,
    /// What each ease would bring.
    pub each: Vec<Price>,
}

/// Prices every ease of [`Relaxed::all`], from a plan for the job. `before` is told of each before it is tried.
///
/// All are planned with the rounds and the seed asked for. Ends early where the watcher says so, with what was found until then.
pub fn prices(
    job: &Job,
    plan: &Plan,
    asked: &Asked,
    watch: &dyn Watch,
    before: &dyn Fn(Option<&Relaxed>),
) -> Prices {
    let all = Relaxed::all(job);
    before(None);
    let mut base = settled(job, plan, asked, watch);
    let mut pass = 1;
    loop {
        let mut each = Vec::new();
        let mut better: Option<Standing> = None;
        for relaxed in &all {
            if watch.stop() {
                break;
            }
            before(Some(relaxed));
            let easier = relaxed.job(job);
            let found = lay_from(&easier, &base.plan, asked, watch).plan;
            if let Some(as_it_is) = kept(job, &found).filter(|found| found.beats(&base)) {
                if better.as_ref().is_none_or(|better| as_it_is.beats(better)) {
                    better = Some(as_it_is);
                }
                if pass < PASSES {
                    break;
                }
            }
            each.push(price(job, &base, *relaxed, Standing::of(&easier, found)));
        }
        match better {
            Some(better) if pass < PASSES => base = better,
            _ => return Prices { plan: base, each },
        }
        pass += 1;
    }
}

/// The plan searched on from with the same rounds and seed, until they bring nothing more: or else every ease would seem to gain
/// what a longer search gains.
fn settled(job: &Job, plan: &Plan, asked: &Asked, watch: &dyn Watch) -> Standing {
    let mut best = Standing::of(job, lay_from(job, plan, asked, watch).plan);
    for _ in 1..PASSES {
        if watch.stop() {
            break;
        }
        let found = Standing::of(job, lay_from(job, &best.plan, asked, watch).plan);
        if !found.beats(&best) {
            break;
        }
        best = found;
    }
    best
}

/// The plan judged by the job as it is; `None` where it makes use of an ease.
fn kept(job: &Job, plan: &Plan) -> Option<Standing> {
    let known = |piece: &crate::plan::Piece| piece.strip.0 < job.stock.strips.len();
    if !plan.pieces.iter().all(known) {
        return None;
    }
    let standing = Standing::of(job, plan.clone());
    standing.verdict.is_good().then_some(standing)
}

fn price(job: &Job, base: &Standing, relaxed: Relaxed, found: Standing) -> Price {
    let gain = if kept(job, &found.plan).is_some() || !found.beats(base) {
        Gain::Nothing
    } else if found.open < base.open {
        Gain::Covered(base.open - found.open)
    } else {
        Gain::Cost(base.cost() - found.cost())
    };
    let saved = match gain {
        Gain::Nothing => Vec::new(),
        _ => saved(job, &base.plan, &found.plan),
    };
    Price {
        relaxed,
        found,
        gain,
        saved,
    }
}

/// Courses covered in both plans that have fewer joints in the second.
fn saved(job: &Job, before: &Plan, after: &Plan) -> Vec<(CourseId, usize)> {
    let pieces = |plan: &Plan, id: CourseId| {
        let of_course = plan.pieces.iter().filter(|piece| piece.course == id);
        of_course.map(|piece| piece.number as usize).max()
    };
    let fewer = |id: CourseId| {
        let (was, is) = (pieces(before, id)?, pieces(after, id)?);
        (is < was).then(|| (id, was - is))
    };
    job.hull.courses().filter_map(|(id, _)| fewer(id)).collect()
}
