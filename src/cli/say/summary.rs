//! What `lay` says of its plan when it is done.

use super::TellPath as _;
use super::seams::worst_seams;
use super::tally::{Steps, Tally};
use super::{CARE, head, many, styled, written};
use comfy_table::{CellAlignment, ContentArrangement, Table, presets};
use std::path::Path;
use twinstrake::check::Verdict;
use twinstrake::job::Job;
use twinstrake::out;
use twinstrake::plan::{Plan, Want};
use twinstrake::solve::{Ended, Outcome};
use twinstrake::stock::StripId;
use twinstrake::units::to_the_eye;

/// A plan that is written, and all that is to be told of it.
pub struct Drawn<'a> {
    /// The job folder, as typed.
    pub dir: &'a Path,
    pub job: &'a Job,
    pub outcome: &'a Outcome,
    pub verdict: &'a Verdict,
}

/// How wide a line may get: what a sheet of A4 holds in a common type. Unit: characters.
const WIDTH: u16 = 100;
/// The line of the cost.
pub const COST: &str = "Cost";
/// How many strips are named one by one.
const NAMED: usize = 24;

/// The summary, the shortage statement in its place.
pub fn summary(drawn: &Drawn<'_>, shortage: Option<&str>) -> String {
    let mut text = head(&drawn.job.name);
    if drawn.outcome.ended == Ended::Stopped {
        let stopped = "Stopped by hand: this is the best plan so far.";
        text += &format!("{}\n", styled(CARE, stopped));
    }
    text += &format!("{}\n", listing(facts(drawn)));
    if let Some(shortage) = shortage {
        text += &format!("\n{shortage}");
    }
    if let Some(worst) = worst_seams(&drawn.job.hull, drawn.verdict) {
        text += &format!("\n{worst}");
    }
    text + "\n" + &next(drawn)
}

/// A table without lines, which wraps what is too wide.
pub fn plain_table() -> Table {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(WIDTH);
    table
}

/// Figures are set under each other.
pub fn to_the_right(table: &mut Table, columns: impl IntoIterator<Item = usize>) {
    for i in columns {
        if let Some(column) = table.column_mut(i) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
}

/// What there is to know, a word and what is said of it in each row.
pub fn listing(facts: impl IntoIterator<Item = (&'static str, String)>) -> String {
    let mut table = plain_table();
    for (word, fact) in facts {
        table.add_row([word, &fact]);
    }
    table.trim_fmt()
}

/// The plan in short, for the terminal and the report alike: a word, and what there is to it.
pub fn facts(drawn: &Drawn<'_>) -> Vec<(&'static str, String)> {
    let mut facts = of_the_plan(drawn.job, &drawn.outcome.plan, drawn.verdict);
    facts.extend(best_possible(drawn).map(|best| ("Best possible", best)));
    facts.push(("Search", search(drawn.outcome)));
    facts
}

/// What can be told of a plan whoever made it.
pub fn of_the_plan(job: &Job, plan: &Plan, verdict: &Verdict) -> Vec<(&'static str, String)> {
    let tally = Tally::of(job, plan);
    let all = job.hull.courses.len();
    let covered = all - plan.uncovered.len();
    let mut facts = vec![
        ("Courses", format!("{covered} of {all} covered")),
        ("Pairs", pairs(&tally)),
        ("Joints", verdict.joints.to_string()),
        (
            "Strips",
            format!("{} cut into, {}", verdict.strips_cut, whole(&tally)),
        ),
        ("Colour step", steps(verdict)),
        (COST, cost(verdict)),
    ];
    if !job.wants.is_empty() {
        let lines: Vec<String> = job
            .wants
            .iter()
            .map(|want| wanted(job, want, plan, verdict))
            .collect();
        facts.push(("Wants", lines.join("\n")));
    }
    facts
}

/// A want in a line: `accent line: walnut, on topside course 3; stands out by 14.2`.
fn wanted(job: &Job, want: &Want, plan: &Plan, verdict: &Verdict) -> String {
    let on = super::eased::stretch(job, want.panel, want.courses);
    let mut line = format!("{}: {}, on {on}", want.name, want.named());
    if want.accent.is_some() {
        let covers = |id| want.covers(job.hull.course(id));
        let edges = verdict
            .seams
            .iter()
            .filter(|seam| covers(seam.upper) != covers(seam.lower));
        if let Some(least) = edges.map(|seam| seam.step).reduce(f64::min) {
            line += &format!("; stands out by {least:.1} at least (ΔE00)");
        }
    }
    let idle = match want.keep {
        true => kept_idle(job, want, plan),
        false => Vec::new(),
    };
    if !idle.is_empty() {
        line += &format!(
            "\n  keeps {}, of which nothing is cut: keep = false frees them",
            idle.join(" ")
        );
    }
    line
}

/// Strips that a want keeps for its courses, and that are used nowhere.
fn kept_idle<'j>(job: &'j Job, want: &Want, plan: &Plan) -> Vec<&'j str> {
    let is_used = |strip: StripId| plan.pieces.iter().any(|piece| piece.strip == strip);
    let named = job
        .stock
        .strips()
        .filter(|(id, _)| want.names(&job.stock, *id));
    let idle = named.filter(|(id, strip)| !is_used(*id) && !strip.cull);
    idle.map(|(_, strip)| strip.name.as_str()).collect()
}

fn pairs(tally: &Tally<'_>) -> String {
    let kinds: Vec<String> = [
        (tally.sisters, "sisters"),
        (tally.near, "other slices of one board"),
        (tally.foster, "from two boards"),
    ]
    .into_iter()
    .filter(|(count, _)| *count > 0)
    .map(|(count, kind)| format!("{count} {kind}"))
    .collect();
    match tally.pairs() {
        0 => "none".into(),
        all => format!("{all} used: {}", kinds.join(", ")),
    }
}

fn whole(tally: &Tally<'_>) -> String {
    let names = &tally.whole;
    let head = format!("{} left whole", names.len());
    match names.len() {
        0 => head,
        n if n <= NAMED => format!("{head}: {}", names.join(" ")),
        n => format!(
            "{head}: {} and {} more; twinstrake status names them all",
            names[..NAMED].join(" "),
            n - NAMED
        ),
    }
}

fn steps(verdict: &Verdict) -> String {
    match Steps::of(verdict) {
        Some(steps) => format!(
            "{:.1} between neighbours on average (CIEDE2000): {}\n{:.1} at the worst: {}",
            steps.mean,
            to_the_eye(steps.mean),
            steps.worst,
            steps.worst_is
        ),
        None => "no two courses meet".into(),
    }
}

fn cost(verdict: &Verdict) -> String {
    let cost = verdict.cost;
    let labels = match cost.moved {
        moved if moved > 0.0 => format!(", labels changed {moved:.2}"),
        _ => String::new(),
    };
    let drift = match cost.drift {
        drift if drift > 0.0 => format!(", shade the wrong way {drift:.2}"),
        _ => String::new(),
    };
    format!(
        "{:.2}: seams {:.2}, mates {:.2}, joints {:.2}, strips cut {:.2}{drift}{labels}",
        cost.total(),
        cost.seam,
        cost.matching,
        cost.joint,
        cost.thrift
    )
}

/// How far the plan may be from the best; nothing where no bound says so.
fn best_possible(drawn: &Drawn<'_>) -> Option<String> {
    let outcome = drawn.outcome;
    let of_these = match outcome.plan.uncovered.len() {
        0 => "",
        _ => ", for the courses that it covers",
    };
    let total = drawn.verdict.cost.total();
    let above = |gap: f64| (1000.0 * gap).ceil() / 10.0;
    if let Some(gap) = out::gap(total, outcome.bound) {
        return Some(match gap {
            0.0 => format!("this is it: no plan costs less{of_these}"),
            gap => format!(
                "this plan is at most {:.1} % above the best possible{of_these}",
                above(gap)
            ),
        });
    }
    let gap = out::gap(total, outcome.bound_without_joints)?;
    Some(match gap {
        0.0 => format!("no plan without joints is better: proven{of_these}"),
        gap => format!(
            "this plan is at most {:.1} % above the best possible without joints{of_these}",
            above(gap)
        ),
    })
}

fn search(outcome: &Outcome) -> String {
    let why = match outcome.ended {
        Ended::Proven => "no plan can be better",
        Ended::Stalled => "nothing better turned up",
        Ended::Rounds => "as many as were asked for",
        Ended::Seconds => "the time was up",
        Ended::Stopped => "stopped by hand",
    };
    format!(
        "{}; {why}",
        many(outcome.rounds as usize, "round", "rounds")
    )
}

fn next(drawn: &Drawn<'_>) -> String {
    let dir = drawn.dir.told();
    let files = written(drawn.dir, out::FILES);
    let more = match (drawn.outcome.ended, drawn.outcome.plan.uncovered.len()) {
        (_, 1..) => {
            "When there is more wood, write it into strips.csv and plan anew. Until then the open courses have no row and \
            no piece.\n"
        }
        (Ended::Seconds | Ended::Stopped, _) => {
            "A longer search may find better: give it --seconds, or --rounds to be able to repeat it.\n"
        }
        _ => "",
    };
    format!(
        "{files}\
         Look at the drawing, then take the strips in the order of laying-order.csv: pencil each row's mark on\n\
         its strip, and cut at cut_from and cut_to, measured from the strip's marked end.\n\
         On paper: twinstrake labels {dir}\n\
         for the ends of the strips, and twinstrake sheets {dir}\n\
         for the wall and the rack.\n\
         {more}After a change by hand, judge the plan anew: twinstrake check {dir}\n"
    )
}
