//! Plans to choose from, and the one that was picked.

use super::TellPath as _;
use super::summary::{COST, listing, of_the_plan, plain_table, to_the_right};
use super::{by_part, head, many, written};
use std::path::Path;
use twinstrake::check::Verdict;
use twinstrake::choices::{Choices, Criteria, Leaning};
use twinstrake::job::{Complaint, Job};
use twinstrake::out;
use twinstrake::plan::Plan;

/// What is planned at this moment.
pub fn leaning(leaning: Leaning) -> String {
    match leaning {
        Leaning::Looks => "for looks alone",
        Leaning::Thrift(_) => "a bit thriftier",
        Leaning::FewJoints => "for as few joints as can be",
        Leaning::FewStrips => "for as few strips as can be",
    }
    .into()
}

/// The plans to choose from in a small table, and how one is picked.
pub fn choices(dir: &Path, asked: usize, choices: &Choices) -> String {
    let all = &choices.all;
    let dir_told = dir.told();
    let mut text = head("To choose from, the best-looking first");
    let mut table = plain_table();
    table.add_row([
        "  plan",
        "looks",
        "joints",
        "strips left whole",
        "all told",
        "",
    ]);
    let rows: Vec<(&Criteria, bool)> = all
        .iter()
        .map(|choice| (&choice.standing, choice.plan == choices.cheapest.plan))
        .collect();
    for [number, cells @ ..] in choice_rows(&rows) {
        table.add_row([format!("  {number}")].iter().chain(&cells));
    }
    to_the_right(&mut table, 1..=4);
    text += &format!("{}\n", table.trim_fmt());
    text += "Looks: seams, mates and joints. All told: with strips cut into, and labels that change.\n\
             Both by your weights, against the best of these.\n";
    if all.len() < asked {
        text += &format!(
            "Only {} turned up that differ to the point: every other was beaten on all counts.\n",
            many(all.len(), "plan", "plans")
        );
    }
    let picture = dir.join(out::choice_folder(1)).join("planking.svg");
    text += &format!("A picture of each: {} and so on.\n", picture.told());
    text + &format!("To make one the plan: twinstrake pick {dir_told} NUMBER\n")
}

/// Plans to choose from, a row each: its number, looks, joints, strips left whole, all told, and what is to be said of
/// it; looks and all told against the best of them. Each is told with whether it is the plan in `out/`.
pub fn choice_rows(all: &[(&Criteria, bool)]) -> Vec<[String; 6]> {
    let least = |of: &dyn Fn(&Criteria) -> f64| {
        let each = all.iter().map(|(standing, _)| of(standing));
        each.fold(f64::INFINITY, f64::min)
    };
    let (looks, cost) = (least(&|one| one.looks), least(&|one| one.cost));
    let against = |now: f64, best: f64| match now <= best {
        true => "the best".into(),
        false => by_part(now, best),
    };
    let row = |(i, (standing, written)): (usize, &(&Criteria, bool))| {
        [
            (i + 1).to_string(),
            against(standing.looks, looks),
            standing.joints.to_string(),
            standing.whole.to_string(),
            against(standing.cost, cost),
            notes(all.len(), i, standing, cost, *written),
        ]
    };
    all.iter().enumerate().map(row).collect()
}

fn notes(count: usize, i: usize, standing: &Criteria, least: f64, written: bool) -> String {
    let mut notes = Vec::new();
    if i == 0 {
        notes.push("the best-looking");
    }
    if i + 1 == count && count > 1 {
        notes.push("the thriftiest");
    }
    if standing.cost <= least {
        notes.push("the cheapest by your weights");
    }
    if written {
        notes.push("in out/ now");
    }
    notes.join(", ")
}

/// That a plan was picked.
pub fn picked(dir: &Path, number: usize, job: &Job, plan: &Plan, verdict: &Verdict) -> String {
    let facts = of_the_plan(job, plan, verdict).into_iter();
    let facts = listing(facts.filter(|(word, _)| *word != COST));
    let is_now = head(&format!("Plan {number} is the plan now"));
    let files = written(dir, out::FILES);
    format!("{is_now}{facts}\n\n{files}")
}

/// What closes the complaints of `pick`.
pub fn nothing_picked() -> String {
    "Nothing was written; the plan in out/ is as it was.\n".into()
}

const AGAIN: &str = "Lay the job with --choices again.";

/// A plan.json of a plan to choose from that means nothing to us.
pub fn unreadable_choice(file: &Path, why: &str) -> Complaint {
    let wrong = format!("can't be understood: {why}");
    Complaint::of(file.told(), wrong, AGAIN)
}

/// A file of the job that is not what it was when the plans were laid.
pub fn changed_since(file: &str) -> Complaint {
    Complaint::of(
        file,
        "has changed since the plans to choose from were laid",
        AGAIN,
    )
}

/// A plan to choose from that breaks rules.
pub fn changed_by_hand(file: &Path) -> Complaint {
    Complaint::of(
        file.told(),
        "the plan breaks rules: something has happened since it was laid, or somebody has changed it",
        AGAIN,
    )
}

/// A plan to choose from that is not the one that was looked at.
pub fn another_choice(number: usize) -> Complaint {
    Complaint::of(
        out::choice_folder(number).told(),
        "is another plan than was shown",
        "Look at it again.",
    )
}
