//! What a new plan changes against the one before it.

use super::TellPath as _;
use super::summary::{Drawn, plain_table};
use super::{HEAD, by_part, listed, looks_beside, many, styled};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use twinstrake::check::{Verdict, check};
use twinstrake::hull::Hull;
use twinstrake::job::Job;
use twinstrake::log::{Spot, place};
use twinstrake::plan::{Piece, Plan};
use twinstrake::solve::Grounds;
use twinstrake::stock::StripId;

/// What to relabel, what to take from the rack and what to put back, and what it costs in looks.
pub fn changes(drawn: &Drawn<'_>, earlier: &Plan) -> String {
    let how = format!(": twinstrake labels {} --changed", drawn.dir.told());
    let after = (&drawn.outcome.plan, drawn.verdict);
    let (moved, more) = differences(drawn.job, earlier, after, &how);
    let lines = moved.iter().chain(&more);
    let lines: String = lines.map(|line| format!("  {line}\n")).collect();
    format!("{}\n{lines}\n", styled(HEAD, "What changes"))
}

/// The same, a line each: every place that changes, and what that comes to. `how` labels are printed stands behind how
/// many.
pub fn differences(
    job: &Job,
    before: &Plan,
    (after, verdict): (&Plan, &Verdict),
    how: &str,
) -> (Vec<String>, Vec<String>) {
    let moved = moved_and_recut(job, before, after);
    if moved.is_empty() {
        let nothing = "Nothing: every piece keeps its place and its cuts.";
        return (moved, vec![nothing.into()]);
    }
    let mut lines = Vec::new();
    let (taken, back) = (used(after), used(before));
    lines.extend(strips(job, "Take from the rack", taken.difference(&back)));
    lines.extend(strips(job, "Not needed any more", back.difference(&taken)));
    let pieces = verdict.relabelled;
    if pieces > 0 {
        lines.push(format!(
            "{} to print, for {}{how}",
            many(2 * pieces, "label", "labels"),
            many(pieces, "piece", "pieces"),
        ));
    }
    lines.push(looks(job, verdict, before));
    (moved, lines)
}

fn by_spot(plan: &Plan) -> BTreeMap<Spot, &Piece> {
    plan.pieces
        .iter()
        .map(|piece| (Spot::of(piece), piece))
        .collect()
}

/// Every label that changes from one plan to the other, a line each.
pub fn moved_and_recut(job: &Job, before: &Plan, after: &Plan) -> Vec<String> {
    let (then, now) = (by_spot(before), by_spot(after));
    let mut lines = relabelled(job, &then, &now);
    let recut = recut(&then, &now);
    if !recut.is_empty() {
        lines.push(format!(
            "Same place, other cuts: {}",
            places(&job.hull, &recut)
        ));
    }
    lines
}

/// A line for each place that has another strip now.
fn relabelled(
    job: &Job,
    then: &BTreeMap<Spot, &Piece>,
    now: &BTreeMap<Spot, &Piece>,
) -> Vec<String> {
    let name = |piece: &&Piece| job.stock.strip(piece.strip).name.as_str();
    let spots: BTreeSet<&Spot> = then.keys().chain(now.keys()).collect();
    let line = |spot: &Spot| {
        let there = place(&job.hull, spot);
        match (then.get(spot), now.get(spot)) {
            (Some(was), Some(is)) if was.strip != is.strip => {
                Some(format!("{there}: {} instead of {}", name(is), name(was)))
            }
            (Some(was), None) => Some(format!(
                "{there}: no piece there any more, {} was to go there",
                name(was)
            )),
            (None, Some(is)) => Some(format!("{there}: {}, new", name(is))),
            _ => None,
        }
    };
    spots.into_iter().filter_map(line).collect()
}

/// The places that keep their strip but are cut or laid otherwise.
fn recut(then: &BTreeMap<Spot, &Piece>, now: &BTreeMap<Spot, &Piece>) -> Vec<Spot> {
    let differs = |was: &Piece, is: &Piece| {
        was.strip == is.strip
            && (
                was.from,
                was.to,
                was.cut_from,
                was.cut_to,
                was.bow_end,
                was.face_out,
            ) != (
                is.from,
                is.to,
                is.cut_from,
                is.cut_to,
                is.bow_end,
                is.face_out,
            )
    };
    let both = now
        .iter()
        .filter_map(|(spot, is)| Some((spot, then.get(spot)?, is)));
    both.filter(|(_, was, is)| differs(was, is))
        .map(|(spot, ..)| *spot)
        .collect()
}

fn places(hull: &Hull, spots: &[Spot]) -> String {
    let named: Vec<String> = spots.iter().map(|spot| place(hull, spot)).collect();
    named.join("; ")
}

fn used(plan: &Plan) -> BTreeSet<StripId> {
    plan.pieces.iter().map(|piece| piece.strip).collect()
}

fn strips<'a>(job: &Job, what: &str, which: impl Iterator<Item = &'a StripId>) -> Option<String> {
    let names: Vec<&str> = which.map(|id| job.stock.strip(*id).name.as_str()).collect();
    (!names.is_empty()).then(|| format!("{what}: {}", names.join(" ")))
}

/// What the eye will meet, against what it would have met.
fn looks(job: &Job, verdict: &Verdict, before: &Plan) -> String {
    let bare = Job {
        earlier: None,
        ..job.clone()
    };
    let before = check(&bare, before).looks();
    format!(
        "In looks: {}",
        looks_beside(verdict.looks(), before, "before")
    )
}

/// The plan in force needs no planning again.
pub fn stands(dir: &Path, number: u32) -> String {
    format!(
        "{}\nTo look for a better one all the same, give --seconds or --rounds: twinstrake lay {} --seconds 10\n",
        it_stands(number),
        dir.told()
    )
}

/// The same in a sentence.
pub fn it_stands(number: u32) -> String {
    format!(
        "Plan {number} stands: since it was made nothing has happened but cutting and laying as planned."
    )
}

/// A plan of before comes back.
pub fn back(number: u32) -> String {
    format!("Everything is again as it was under plan {number}: that plan comes back.\n")
}

/// Somebody logged while the plan was made.
pub fn log_has_grown(dir: &Path) -> String {
    format!(
        "Something was logged while the plan was made, and it does not know of that. Nothing was written. Run it once \
        more: twinstrake lay {}\n",
        dir.told()
    )
}

/// Somebody changed the job's files while the plan was made.
pub fn job_has_changed(dir: &Path, files: &[String]) -> String {
    format!(
        "{} changed while the plan was made, so it would not be for this job. Nothing was written. Run it once more: \
        twinstrake lay {}\n",
        listed(files),
        dir.told()
    )
}

/// That no wood was left for a course, and whether that is certain.
pub fn no_replacement(dir: &Path, grounds: Grounds) -> String {
    match grounds {
        Grounds::NotFound => format!(
            "No other wood was found in the rack that can take its place, which does not prove that there is none. \
            What stands in the way: twinstrake why {}\n",
            dir.told()
        ),
        proven => format!(
            "No other wood in the rack can take its place. That is proven: {}.\n",
            because(proven)
        ),
    }
}

/// How it is known that the wood does not cover every course.
pub const fn because(grounds: Grounds) -> &'static str {
    match grounds {
        Grounds::Lengths => "its lengths alone rule it out",
        Grounds::OneCourse => "a course could not be laid were the whole rack there for it alone",
        Grounds::Joints => "joints of near courses can't be kept far enough apart",
        Grounds::AllTried => "every way to lay what is not glued was gone through",
        Grounds::AllTriedInPlace => {
            "every way was gone through that leaves the other courses in their places"
        }
        Grounds::NotFound => "not proven: no way was found",
    }
}

/// The plans on either side of the one that was taken: what fewer labels cost in looks, and what better looks cost in
/// labels.
pub fn trade(dir: &Path, plans: &[&Verdict], taken: usize) -> String {
    let mut table = plain_table();
    table.add_row(["  plan", "labels to print", "looks", ""]);
    for (i, verdict) in plans.iter().enumerate() {
        let note = match i == taken {
            true => "taken: looks and labels together cost least",
            false => "",
        };
        let labels = (2 * verdict.relabelled).to_string();
        let looks = match plans.get(taken) {
            Some(taken_one) if i != taken => by_part(verdict.looks(), taken_one.looks()),
            _ => String::new(),
        };
        table.add_row([&format!("  {}", i + 1), &labels, &looks, note]);
    }
    format!(
        "\n{}\n{}\nTo take another: twinstrake pick {} 1\n",
        styled(HEAD, "Fewer labels, or better looks"),
        table.trim_fmt(),
        dir.told()
    )
}
