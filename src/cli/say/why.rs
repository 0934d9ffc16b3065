//! What `why` says: the price of each rule, what more wood would gain, and what clashes.

use super::TellPath as _;
use super::clashes::clashing;
use super::courses::courses;
use super::eased::eased;
use super::summary::{plain_table, to_the_right};
use super::{CARE, by_part, head, many, styled};
use crate::cli::why::Answer;
use std::path::Path;
use twinstrake::hull::CourseId;
use twinstrake::job::Job;
use twinstrake::units::{Length, Unit};
use twinstrake::why::{Gain, Price, Relaxed};

/// The whole answer. `offered` is whether a better plan than the one in out/ is; `dir` is the job folder, as typed,
/// where there is a terminal to type on.
pub fn reasons(job: &Job, reasons: &Answer, offered: bool, dir: Option<&Path>) -> String {
    let mut text = head(&job.name);
    if reasons.stopped {
        let stopped = "Stopped by hand: this is what was found so far.";
        text += &format!("{}\n", styled(CARE, stopped));
    }
    text += &against(job, reasons);
    if let Some(clashes) = &reasons.clashes {
        text += &format!("\n{}", clashing(job, clashes));
    }
    text += &format!("\n{}", prices(job, reasons));
    if offered {
        text += "The better plan is kept as number 1.";
        text += &match dir {
            Some(dir) => format!(" To take it: twinstrake pick {} 1\n", dir.told()),
            None => "\n".into(),
        };
    }
    text
}

/// Which plan the prices are held against.
fn against(job: &Job, reasons: &Answer) -> String {
    let (written, plan) = (&reasons.written, &reasons.prices.plan);
    let unit = job.unit;
    if !written.verdict.is_good() {
        return format!(
            "The plan in out/ breaks rules of the job as it is now (twinstrake check tells which). The search began \
             from what still holds of it, and found a plan that {}. What follows is against that one.\n",
            covers(unit, plan.open)
        );
    }
    let in_out = format!("The plan in out/ {}.\n", covers(unit, written.open));
    if !plan.beats(written) {
        return in_out + "What follows is against it.\n";
    }
    let found = match plan.open == written.open {
        true => format!("is {}", by_part(plan.cost(), written.cost())),
        false => covers(unit, plan.open),
    };
    format!(
        "{in_out}Searching on with the same rules found one that {found}. What follows is against that one.\n"
    )
}

fn covers(unit: Unit, open: Length) -> String {
    match open {
        Length::ZERO => "covers every course".into(),
        open => format!("leaves {} of course open", unit.running(open)),
    }
}

fn prices(job: &Job, reasons: &Answer) -> String {
    let each = &reasons.prices.each;
    if each.is_empty() {
        return "No rule was tried.\n".into();
    }
    let rounds = many(
        reasons.asked.rounds.unwrap_or(0) as usize,
        "round",
        "rounds",
    );
    let mut text = head(&format!(
        "Planned again with one thing made easier ({rounds} each, seed {})",
        reasons.asked.seed
    ));
    let mut table = plain_table();
    let plan = reasons.prices.plan.cost();
    table.add_row(["  with", "would be", ""]);
    for price in each {
        table.add_row([
            format!("  {}", eased(job, &price.relaxed)),
            gain(job.unit, price, plan),
            saved(job, price),
        ]);
    }
    if let Some(first) = table.column_mut(0) {
        first.set_constraint(comfy_table::ColumnConstraint::ContentWidth);
    }
    to_the_right(&mut table, [1]);
    text += &format!("{}\n\n", table.trim_fmt());
    text + &in_words(job, each, plan)
}

fn gain(unit: Unit, price: &Price, plan: f64) -> String {
    match price.gain {
        Gain::Nothing => "-".into(),
        Gain::Cost(gain) => by_part(plan - gain, plan),
        Gain::Covered(length) => format!("{} covered", unit.running(length)),
    }
}

/// `3 joints less: topside courses 9 to 11`; the courses only where no other has more joints instead.
fn saved(job: &Job, price: &Price) -> String {
    let ids: Vec<CourseId> = price.saved.iter().map(|(id, _)| *id).collect();
    match (price.joints_less, ids.is_empty()) {
        (0, _) => String::new(),
        (less, true) => format!("{} less", many(less, "joint", "joints")),
        (less, false) => format!(
            "{} less: {}",
            many(less, "joint", "joints"),
            courses(&job.hull, &ids)
        ),
    }
}

/// The rules that cost most, in a sentence or two, and what a dash means.
fn in_words(job: &Job, each: &[Price], plan: f64) -> String {
    let mut text = String::new();
    let mut dear: Vec<(&Price, f64)> = each
        .iter()
        .filter_map(|price| match price.gain {
            Gain::Cost(gain) if gain > 0.0 => Some((price, gain)),
            _ => None,
        })
        .collect();
    dear.sort_by(|a, b| b.1.total_cmp(&a.1));
    let rule = dear
        .iter()
        .find(|(price, _)| !matches!(price.relaxed, Relaxed::MorePairs(_)));
    if let Some((price, gain)) = rule {
        let by = by_part(plan - gain, plan);
        text += &match price.relaxed.zone(job) {
            Some(zone) => format!(
                "The rule that costs most looks: {}. Without it the plan would be {by}.\n",
                super::eased::zone_of(job, zone)
            ),
            None => format!(
                "The rule that costs most looks: with {} the plan would be {by}.\n",
                eased(job, &price.relaxed)
            ),
        };
    }
    let wood = dear
        .iter()
        .find(|(price, _)| matches!(price.relaxed, Relaxed::MorePairs(_)));
    if let Some((price, gain)) = wood {
        let ids: Vec<CourseId> = price.saved.iter().map(|(id, _)| *id).collect();
        let joints = many(price.joints_less, "joint", "joints");
        let joints = match (price.joints_less, ids.is_empty()) {
            (0, _) => String::new(),
            (_, true) => format!(", and have {joints} less"),
            (_, false) => format!(", and have {joints} less on {}", courses(&job.hull, &ids)),
        };
        text += &format!(
            "More wood: with {} the plan would be {}{joints}.\n",
            eased(job, &price.relaxed),
            by_part(plan - gain, plan)
        );
    }
    let is_accent = |price: &Price| !price.relaxed.keeps_costs(job) && price.gain != Gain::Nothing;
    if each.iter().any(is_accent) {
        text +=
            "Without a want its accent goes too: the seams along it count like any others again.\n";
    }
    if each.iter().any(|price| price.gain == Gain::Nothing) {
        text += "A dash: nothing better was found that makes use of it. That is no proof; more --rounds look longer.\n";
    }
    text
}
