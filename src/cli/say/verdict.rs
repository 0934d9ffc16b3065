//! What `check` says of a plan.

use super::cost::{cost, terms};
use super::courses::courses;
use super::{BAD, head, look_at_this, many, styled};
use std::collections::BTreeSet;
use twinstrake::check::Verdict;
use twinstrake::check::tolerance::costs_agree;
use twinstrake::hull::Hull;
use twinstrake::job::{Job, Reading};
use twinstrake::out::PlanRecord;
use twinstrake::plan::Plan;

/// Every breach, a line each.
pub fn breaches(verdict: &Verdict) -> String {
    let lines = verdict.breaches.iter();
    lines.map(|breach| format!("  {breach}\n")).collect()
}

/// Every breach, or that there is none; the courses left open; the cost.
pub fn verdict(job: &Job, plan: &Plan, verdict: &Verdict) -> String {
    let mut text = if verdict.is_good() {
        head("The plan keeps every rule.")
    } else {
        let count = many(verdict.breaches.len(), "place", "places");
        let head = format!("The plan breaks the rules in {count}:");
        format!("{}\n{}", styled(BAD, &head), breaches(verdict))
    };
    let all = job.hull.courses.len();
    text += &match plan.uncovered.len() {
        0 => format!("It covers all {}.\n", many(all, "course", "courses")),
        open => format!(
            "It leaves {open} of {} open: {}.\n",
            many(all, "course", "courses"),
            courses(&job.hull, &plan.uncovered)
        ),
    };
    text += "\n";
    text += &cost(&verdict.cost);
    if !verdict.is_good() {
        text += "  reckoned from those rows that make sense\n";
    }
    text
}

/// Where plan.json tells of another job or another plan than the files here; empty where it does not.
pub fn beside(reading: &Reading, plan: &Plan, verdict: &Verdict, told: &PlanRecord) -> String {
    let label = look_at_this();
    let mut text = String::new();
    for digest in &reading.digests {
        if !told.inputs.contains(digest) {
            text += &format!(
                "{label} {} has changed since this plan was made.\n",
                digest.file
            );
        }
    }
    // What was logged since may have changed the wood, and with it what the plan is worth.
    if reading.entries().len() > told.again.log_entries {
        return text;
    }
    let (now, then) = (verdict.cost.total(), told.cost.total);
    let of_terms = terms(&verdict.cost)
        .into_iter()
        .zip(terms(&told.cost.terms));
    let differs = |((_, now), (_, then))| !costs_agree(now, then);
    if !costs_agree(now, then) || of_terms.into_iter().any(differs) {
        text += &format!(
            "{label} out/plan.json states a cost of {then:.3}, but the laying order as it is now costs {now:.3}.\n"
        );
    }
    if open(&reading.job.hull, plan) != left(told) {
        text += &format!(
            "{label} out/plan.json leaves {} open, the laying order as it is now {}.\n",
            many(told.uncovered.len(), "course", "courses"),
            plan.uncovered.len()
        );
    }
    text
}

fn open<'a>(hull: &'a Hull, plan: &Plan) -> BTreeSet<(&'a str, u32, Option<char>)> {
    let open = plan.uncovered.iter();
    open.map(|id| {
        let course = hull.course(*id);
        (
            hull.panel_of(*id).name.as_str(),
            course.number,
            course.stretch.letter(),
        )
    })
    .collect()
}

fn left(told: &PlanRecord) -> BTreeSet<(&str, u32, Option<char>)> {
    let left = told.uncovered.iter();
    left.map(|left| (left.panel.as_str(), left.course, left.stretch))
        .collect()
}

/// A plan.json that means nothing to us: the laying order is judged all the same.
pub fn not_understood(why: &str) -> String {
    format!(
        "{} out/plan.json can't be understood ({why}), and is not compared.\n",
        look_at_this()
    )
}
