//! The price of each rule, and of a little more wood: the job planned again with one thing made easier.
//!
//! Every plan for the job is a plan for the easier job, so that the search for the easier one begins from the plan
//! there is, and can only gain. What it gains may be the ease's doing or the luck of the search. To tell them apart,
//! the way back is gone as well: what holds of the easier job's plan is taken up for the job as it is, and searched on
//! from. Where that gives a better plan than there was, it takes its place, and all is tried again.

use super::relaxed::Relaxed;
use crate::check::{Verdict, check};
use crate::hull::CourseId;
use crate::job::Job;
use crate::plan::Plan;
use crate::solve::{Asked, Watch, lay_from};
use crate::units::Length;

/// How often all is tried because a better plan turned up on the way. In the last pass, each price is held against the
/// better of the plan and what came back from the easier job.
const PASSES: usize = 4;
/// Costs that differ by less are the same. Unit: ΔE00·metre.
const SAME: f64 = 1e-6;

/// A plan, and what the checker says of it.
#[derive(Clone, PartialEq, Debug)]
pub struct Judged {
    /// The plan.
    pub plan: Plan,
    /// The checker's verdict.
    pub verdict: Verdict,
    /// Length of course that it leaves open.
    pub open: Length,
}

impl Judged {
    /// What a plan is worth for a job.
    pub fn of(job: &Job, plan: Plan) -> Judged {
        let verdict = check(job, &plan);
        let courses = plan.uncovered.iter();
        let open = courses.map(|id| job.hull.course(*id).length).sum();
        Judged {
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
    pub fn beats(&self, other: &Judged) -> bool {
        self.open < other.open || (self.open == other.open && self.cost() < other.cost() - SAME)
    }
}

/// What an ease brings.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Gain {
    /// No better plan was found that makes use of it. Not a proof that there is none.
    Nothing,
    /// So much less cost, with as much covered; below 0 where a want goes whose accent is welcome to the eye. Unit:
    /// ΔE00·metre.
    Cost(f64),
    /// So much more of the boat covered.
    Covered(Length),
}

/// What one ease would bring.
#[derive(Clone, PartialEq, Debug)]
pub struct Price {
    /// The ease.
    pub relaxed: Relaxed,
    /// The plan that the search for it began from.
    pub from: Plan,
    /// The plan found with it.
    pub found: Judged,
    /// What the plan costs that it is held against: the one that all are held against, unless a better one came back
    /// from this ease in the last pass. Unit: ΔE00·metre.
    pub against: f64,
    /// What it gains.
    pub gain: Gain,
    /// How many joints fewer there are than in the plan; nothing where there are as many or more.
    pub joints_less: usize,
    /// The courses that they are missing from, with how many each; empty where other courses have more than before
    /// instead.
    pub saved: Vec<(CourseId, usize)>,
}

/// The plan that the prices are held against, and the prices.
#[derive(Clone, PartialEq, Debug)]
pub struct Prices {
    /// The best plan known that keeps every rule as it is.
    pub plan: Judged,
    /// What each ease would bring.
    pub each: Vec<Price>,
}

/// Prices every ease of [`Relaxed::all`], from a plan for the job. `before` is told of each before it is tried.
///
/// All are planned with the rounds and the seed asked for. Ends early where the watcher says so, with what was found
/// until then.
pub fn prices(
    job: &Job,
    plan: &Plan,
    asked: &Asked,
    watch: &dyn Watch,
    before: &dyn Fn(Option<&Relaxed>),
) -> Prices {
    let all = Relaxed::all(job);
    before(None);
    let asked = &Asked {
        trial: true,
        ..*asked
    };
    let mut base = settled(job, plan, asked, watch);
    let mut pass = 1;
    loop {
        let mut each = Vec::new();
        let mut moved = false;
        for relaxed in &all {
            if watch.stop() {
                break;
            }
            before(Some(relaxed));
            let easier = relaxed.job(job);
            let from = begin(&base, relaxed, &each);
            let found = lay_from(&easier, &from, asked, watch).plan;
            let found = Judged::of(&easier, found);
            match back(job, &found.plan, asked, watch).filter(|back| back.beats(&base)) {
                Some(back) if pass < PASSES => {
                    base = back;
                    moved = true;
                }
                Some(back) => each.push(price(job, &back, *relaxed, from, found)),
                None => each.push(price(job, &base, *relaxed, from, found)),
            }
        }
        if !moved || watch.stop() {
            return Prices { plan: base, each };
        }
        pass += 1;
    }
}

/// Where the search for an easier job begins: the best plan known for it, be it for a job that is less easy.
fn begin(base: &Judged, relaxed: &Relaxed, each: &[Price]) -> Plan {
    let mut best = base;
    for price in each.iter().filter(|price| relaxed.includes(&price.relaxed)) {
        if price.found.beats(best) {
            best = &price.found;
        }
    }
    best.plan.clone()
}

/// The best plan for the job as it is that comes out of a plan for an easier one; `None` where that breaks a rule.
fn back(job: &Job, plan: &Plan, asked: &Asked, watch: &dyn Watch) -> Option<Judged> {
    if let Some(kept) = kept(job, plan) {
        return Some(kept);
    }
    let back = Judged::of(job, lay_from(job, plan, asked, watch).plan);
    back.verdict.is_good().then_some(back)
}

/// The plan searched on from with the same rounds and seed, until they bring nothing more: or else every ease would
/// seem to gain what a longer search gains.
fn settled(job: &Job, plan: &Plan, asked: &Asked, watch: &dyn Watch) -> Judged {
    let mut best = Judged::of(job, lay_from(job, plan, asked, watch).plan);
    for _ in 1..PASSES {
        if watch.stop() {
            break;
        }
        let found = Judged::of(job, lay_from(job, &best.plan, asked, watch).plan);
        if !found.beats(&best) {
            break;
        }
        best = found;
    }
    best
}

/// The plan judged by the job as it is; `None` where it makes use of an ease.
fn kept(job: &Job, plan: &Plan) -> Option<Judged> {
    let known = |piece: &crate::plan::Piece| piece.strip.0 < job.stock.strips.len();
    if !plan.pieces.iter().all(known) {
        return None;
    }
    let standing = Judged::of(job, plan.clone());
    standing.verdict.is_good().then_some(standing)
}

fn price(job: &Job, base: &Judged, relaxed: Relaxed, from: Plan, found: Judged) -> Price {
    let dearer = found.open > base.open || (relaxed.keeps_costs(job) && !found.beats(base));
    let gain = if kept(job, &found.plan).is_some() || dearer {
        Gain::Nothing
    } else if found.open < base.open {
        Gain::Covered(base.open - found.open)
    } else {
        Gain::Cost(base.cost() - found.cost())
    };
    let joints_less = match gain {
        Gain::Nothing => 0,
        _ => base.verdict.joints.saturating_sub(found.verdict.joints),
    };
    let saved = match gain {
        Gain::Nothing => Vec::new(),
        _ => saved(job, &base.plan, &found.plan, joints_less),
    };
    Price {
        relaxed,
        against: base.cost(),
        from,
        found,
        gain,
        joints_less,
        saved,
    }
}

/// Courses covered in both plans that have fewer joints in the second, if they account for all that is saved.
fn saved(job: &Job, before: &Plan, after: &Plan, less: usize) -> Vec<(CourseId, usize)> {
    let pieces = |plan: &Plan, id: CourseId| {
        let of_course = plan.pieces.iter().filter(|piece| piece.course == id);
        of_course.map(|piece| piece.number as usize).max()
    };
    let fewer = |id: CourseId| {
        let (was, is) = (pieces(before, id)?, pieces(after, id)?);
        (is < was).then(|| (id, was - is))
    };
    let all: Vec<(CourseId, usize)> = job.hull.courses().filter_map(|(id, _)| fewer(id)).collect();
    let sum: usize = all.iter().map(|(_, joints)| joints).sum();
    if sum == less { all } else { Vec::new() }
}
