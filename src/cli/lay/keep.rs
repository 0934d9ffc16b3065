//! A plan that was found is kept: as the plan in `out/`, or among those to choose from.

use super::find::{Begun, Found};
use crate::cli::again::{self, Back};
use crate::cli::args::Lay;
use crate::cli::say::{self, Drawn};
use crate::cli::shown::shown;
use twinstrake::check::{Verdict, check};
use twinstrake::draw;
use twinstrake::job;
use twinstrake::log::Book;
use twinstrake::out::{self, Again, Fault, Made};
use twinstrake::plan::Plan;
use twinstrake::solve::{self, Ended};

/// Whether the plan was written.
pub enum Written {
    Yes,
    /// Something was logged while the plan was made, which it does not know of.
    LogHasGrown,
    /// These files were changed meanwhile.
    JobHasChanged(Vec<String>),
}

/// Makes it the plan in `out/`; one that comes back, as it was made then.
///
/// Errors: the disk can't be written to.
pub fn write(
    typed: &Lay,
    begun: &Begun,
    found: &Found,
    back: Option<&Back>,
) -> Result<Written, Fault> {
    let (reading, before) = (&begun.reading, &begun.before);
    let verdict = back.map_or(&found.verdict, |back| &back.verdict);
    let drawn = Drawn {
        verdict,
        ..found.drawn(&typed.dir, &reading.job)
    };
    let (job, outcome) = (drawn.job, drawn.outcome);
    let made = match back {
        Some(back) => Made {
            again: Again {
                earlier: back.earlier,
                ..before.again(reading)
            },
            inputs: reading.digests.clone(),
            cost: verdict.cost,
            ..back.made.clone()
        },
        None => made(typed, begun, found, verdict, true),
    };
    let shortage = say::shortage(job, outcome).as_deref().map(say::plain);
    let shown = shown(
        &typed.dir,
        reading,
        &outcome.plan,
        drawn.verdict,
        &say::facts(&drawn),
        shortage.as_deref(),
    )?;
    // Held until the plan is written: whoever logs meanwhile waits, and goes by the new plan.
    let mut book = Book::open_if_there(&typed.dir)?;
    let changed = job::changed_since(&typed.dir, &reading.digests);
    if typed.dir.exists() && !changed.is_empty() {
        let changed = changed.into_iter().map(str::to_owned);
        return Ok(Written::JobHasChanged(changed.collect()));
    }
    if let Some(book) = &mut book {
        if before.has_grown(book) {
            return Ok(Written::LogHasGrown);
        }
        again::settle(&typed.dir, before, reading, book)?;
    }
    out::write(&typed.dir, job, &outcome.plan, &made, shown)?;
    Ok(Written::Yes)
}

/// The plan that was found and those on either side of it, that with the fewest labels first; each keeps every rule.
pub fn beside(begun: &Begun, found: &Found) -> Vec<(Plan, Verdict)> {
    let job = &begun.reading.job;
    let plans = found.outcome.others.iter().chain([&found.outcome.plan]);
    let mut all: Vec<(Plan, Verdict)> = plans
        .map(|plan| (plan.clone(), check(job, plan)))
        .filter(|(_, verdict)| verdict.is_good())
        .collect();
    all.sort_by(|(_, a), (_, b)| {
        a.relabelled
            .cmp(&b.relabelled)
            .then(b.looks().total_cmp(&a.looks()))
    });
    all
}

/// Writes plans to choose from, numbered in this order. Those offered before go: they don't know what happened since.
///
/// Errors: the disk can't be written to.
pub fn offer<'p>(
    typed: &Lay,
    begun: &Begun,
    found: &Found,
    plans: impl Iterator<Item = &'p Plan>,
) -> Result<(), Fault> {
    let job = &begun.reading.job;
    let all: Vec<(&Plan, Made, String)> = plans
        .map(|plan| {
            let verdict = check(job, plan);
            let drawing = draw::planking(job, plan, &verdict);
            let as_short = plan.uncovered == found.outcome.plan.uncovered;
            let made = made(typed, begun, found, &verdict, as_short);
            (plan, made, drawing)
        })
        .collect();
    out::offer(&typed.dir, job, &all)
}

/// How a plan was made: what was asked for and found is the outcome's, what it costs the verdict's.
fn made(typed: &Lay, begun: &Begun, found: &Found, verdict: &Verdict, as_short: bool) -> Made {
    let outcome = &found.outcome;
    Made {
        inputs: begun.reading.digests.clone(),
        seed: typed.seed,
        rounds: outcome.rounds,
        seconds: ceiling(typed.seconds, outcome.ended),
        ended: outcome.ended.name().into(),
        cost: verdict.cost,
        bound: outcome.bound,
        bound_without_joints: outcome.bound_without_joints,
        bound_reason: say::bound_reason(outcome.bound_reason).into(),
        again: begun.before.again(&begun.reading),
        shortage: found.missing.clone().filter(|_| as_short),
    }
}

/// The ceiling on the time that was asked for, or the usual one where that is what ended the search.
fn ceiling(asked: Option<f64>, ended: Ended) -> Option<f64> {
    let usual = (ended == Ended::Seconds).then_some(solve::CEILING);
    asked.or(usual)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_search_that_the_usual_time_ended_says_which_time_that_was() {
        assert_eq!(ceiling(None, Ended::Seconds), Some(solve::CEILING));
        assert_eq!(ceiling(Some(1.0), Ended::Seconds), Some(1.0));
        assert_eq!(ceiling(None, Ended::Stalled), None);
    }
}
