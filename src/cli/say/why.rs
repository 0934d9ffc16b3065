//! What `why` says: the price of each rule, what more wood would gain, and what clashes.

use super::TellPath as _;
use super::clashes::clashing;
use super::courses::courses;
use super::eased::eased;
use super::summary::plain_table;
use super::{CARE, HEAD, many, styled};
use std::path::Path;
use twinstrake::hull::CourseId;
use twinstrake::job::Job;
use twinstrake::solve::Asked;
use twinstrake::units::{Length, Unit};
use twinstrake::why::{Clashes, Gain, Judged, Price, Prices, Relaxed};

/// All that `why` found out.
pub(in crate::cli) struct Reasons<'a> {
    pub(in crate::cli) job: &'a Job,
    pub(in crate::cli) asked: &'a Asked,
    /// The plan in out/.
    pub(in crate::cli) written: &'a Judged,
    pub(in crate::cli) prices: &'a Prices,
    /// Where the wood does not cover every course.
    pub(in crate::cli) clashes: Option<&'a Clashes>,
    /// The job folder, as typed, where there is a terminal to type on.
    pub(in crate::cli) dir: Option<&'a Path>,
    /// Whether a better plan than the one in out/ is offered.
    pub(in crate::cli) offered: bool,
    /// Whether somebody stopped it before it was done.
    pub(in crate::cli) stopped: bool,
}

/// The whole answer.
pub(in crate::cli) fn reasons(reasons: &Reasons<'_>) -> String {
    let mut text = format!("{}\n", styled(HEAD, &reasons.job.name));
    if reasons.stopped {
        let stopped = "Stopped by hand: this is what was found so far.";
        text += &format!("{}\n", styled(CARE, stopped));
    }
    text += &against(reasons);
    if let Some(clashes) = reasons.clashes {
        text += &format!("\n{}", clashing(reasons.job, clashes));
    }
    text += &format!("\n{}", prices(reasons));
    if reasons.offered {
        text += "The better plan is kept as number 1.";
        text += &match reasons.dir {
            Some(dir) => format!(" To take it: twinstrake pick {} 1\n", dir.told()),
            None => "\n".into(),
        };
    }
    text
}

/// Which plan the prices are held against.
fn against(reasons: &Reasons<'_>) -> String {
    let (written, plan) = (reasons.written, &reasons.prices.plan);
    let mut text = if written.verdict.is_good() {
        format!(
            "The plan in out/ costs {:.2}{}.\n",
            written.cost(),
            left(reasons.job.unit, written.open)
        )
    } else {
        "The plan in out/ breaks rules of the job as it is now (twinstrake check tells which); what still holds of it \
        is where \
         the search begins.\n"
            .to_string()
    };
    if plan.beats(written) || !written.verdict.is_good() {
        text += &format!(
            "Searching on with the same rules found one for {:.2}{}; the figures below are against that.\n",
            plan.cost(),
            left(reasons.job.unit, plan.open)
        );
    }
    text
}

fn left(unit: Unit, open: Length) -> String {
    match open {
        Length::ZERO => String::new(),
        open => format!(", with {} of course open", unit.running(open)),
    }
}

fn prices(reasons: &Reasons<'_>) -> String {
    let (job, each) = (reasons.job, &reasons.prices.each);
    if each.is_empty() {
        return "No rule was tried.\n".into();
    }
    let rounds = many(
        reasons.asked.rounds.unwrap_or(0) as usize,
        "round",
        "rounds",
    );
    let mut text = format!(
        "{}\n",
        styled(
            HEAD,
            &format!(
                "Planned again with one thing made easier ({rounds} each, seed {})",
                reasons.asked.seed
            )
        )
    );
    let mut table = plain_table();
    table.add_row(["  with", "cost", "saves", ""]);
    for price in each {
        table.add_row([
            format!("  {}", eased(job, &price.relaxed)),
            found(price),
            gain(job.unit, price),
            saved(job, price),
        ]);
    }
    if let Some(first) = table.column_mut(0) {
        first.set_constraint(comfy_table::ColumnConstraint::ContentWidth);
    }
    for column in [1, 2] {
        if let Some(column) = table.column_mut(column) {
            column.set_cell_alignment(comfy_table::CellAlignment::Right);
        }
    }
    text += &format!("{}\n\n", table.trim_fmt());
    text + &in_words(job, each)
}

fn found(price: &Price) -> String {
    match price.gain {
        Gain::Nothing => String::new(),
        _ => format!("{:.2}", price.found.cost()),
    }
}

fn gain(unit: Unit, price: &Price) -> String {
    match price.gain {
        Gain::Nothing => "-".into(),
        Gain::Cost(gain) => format!("{gain:.2}"),
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
fn in_words(job: &Job, each: &[Price]) -> String {
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
        text += &match price.relaxed.zone(job) {
            Some(zone) => format!(
                "The rule that costs most looks: {}, {gain:.1}.\n",
                super::eased::zone_of(job, zone)
            ),
            None => format!(
                "The rule that costs most looks: {} would save {gain:.1}.\n",
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
            (_, true) => format!(", and {joints}"),
            (_, false) => format!(", and {joints} on {}", courses(&job.hull, &ids)),
        };
        text += &format!(
            "More wood: {} would save {gain:.1}{joints}.\n",
            eased(job, &price.relaxed)
        );
    }
    let is_accent = |price: &Price| !price.relaxed.keeps_costs(job) && price.gain != Gain::Nothing;
    if each.iter().any(is_accent) {
        text += "Without a want its accent goes too: the seams along it cost like any others again. Below 0 means \
            that the plan would cost more without it.\n";
    }
    if each.iter().any(|price| price.gain == Gain::Nothing) {
        text += "A dash: nothing better was found that makes use of it. That is no proof; more --rounds look longer.\n";
    }
    text
}
