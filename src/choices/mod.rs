//! A choice of plans for one job, from the best-looking to the thriftiest, none of which beats another on all counts.
//!
//! Each is planned with other weights, and judged by the job's own: how it looks, how many joints it has, how many
//! strips it leaves whole. Knows neither files nor screen. Start with `choices`, then `front`.

mod front;
mod leaning;

pub use front::{Criteria, front, spread};
pub use leaning::Leaning;

use crate::check::check;
use crate::job::Job;
use crate::plan::Plan;
use crate::solve::{Asked, Outcome, Watch, lay, lay_from};

/// One plan to choose.
#[derive(Clone, PartialEq, Debug)]
pub struct Choice {
    /// The plan.
    pub plan: Plan,
    /// How it compares.
    pub standing: Criteria,
}

/// The plans to choose from, and the one that the job's own weights ask for.
#[derive(Clone, PartialEq, Debug)]
pub struct Choices {
    /// From the best-looking to the thriftiest.
    pub all: Vec<Choice>,
    /// The cheapest by the job's own weights.
    pub cheapest: Outcome,
}

/// Rounds for each plan where none were asked for.
const ROUNDS: u64 = 3;

/// So many plans to choose from, or fewer where there are not so many that differ to the point: `first` is one of them,
/// unless another is better on all counts.
///
/// `before` is told of each leaning before it is planned. Ends early where the watcher says so.
pub fn choices(
    job: &Job,
    first: Outcome,
    many: usize,
    asked: &Asked,
    watch: &dyn Watch,
    before: &dyn Fn(Leaning),
) -> Choices {
    let leanings = Leaning::all();
    let each = Asked {
        rounds: Some(asked.rounds.unwrap_or(ROUNDS)),
        seconds: asked.seconds.map(|s| s / leanings.len() as f64),
        trial: true,
        ..*asked
    };
    let mut found = vec![choice(job, first.plan.clone())];
    let mut last = first.plan.clone();
    for leaning in leanings {
        if watch.stop() {
            break;
        }
        before(leaning);
        let leant = leaning.job(job);
        last = lay_from(&leant, &last, &each, watch).plan;
        found.push(choice(job, last.clone()));
        if leaning.is_far() {
            // What is laid from nothing does not carry the looks of the plan before with it.
            found.push(choice(job, lay(&leant, &each, watch).plan));
        }
    }
    let best = front(found);
    let cheapest = cheapest(job, &best, first, asked, watch);
    Choices {
        all: spread(best, many),
        cheapest,
    }
}

fn choice(job: &Job, plan: Plan) -> Choice {
    let verdict = check(job, &plan);
    let standing = Criteria::of(job, &plan, &verdict);
    Choice { plan, standing }
}

/// The cheapest of the plans, with the search's own reckoning of it.
fn cheapest(
    job: &Job,
    best: &[Choice],
    first: Outcome,
    asked: &Asked,
    watch: &dyn Watch,
) -> Outcome {
    let costs = best.iter().map(|choice| (choice.standing.cost, choice));
    let Some((_, cheapest)) = costs.min_by(|a, b| a.0.total_cmp(&b.0)) else {
        return first;
    };
    if cheapest.plan == first.plan {
        return first;
    }
    let as_it_is = Asked {
        rounds: Some(0),
        trial: true,
        ..*asked
    };
    let again = lay_from(job, &cheapest.plan, &as_it_is, watch);
    let (bound, bound_reason) = match (first.bound, again.bound) {
        (Some(one), Some(other)) if one < other => (Some(other), again.bound_reason),
        (None, Some(other)) => (Some(other), again.bound_reason),
        (one, _) => (one, first.bound_reason),
    };
    Outcome {
        bound,
        bound_without_joints: first.bound_without_joints,
        bound_reason,
        rounds: first.rounds,
        ended: first.ended,
        ..again
    }
}
