//! How far the boat is.

use super::summary::plain_table;
use super::{CARE, HEAD, many, styled};
use std::collections::BTreeSet;
use std::path::Path;
use twinstrake::check::Verdict;
use twinstrake::hull::Side;
use twinstrake::job::Reading;
use twinstrake::log::{Spot, place};
use twinstrake::out::Told;
use twinstrake::plan::{Piece, Plan};
use twinstrake::stock::StripId;
use twinstrake::units::{Length, Unit};

/// How many pieces are named that come next on each side.
const NEXT: usize = 3;

/// Done and to do, what comes next, the wood that is left, the cost now against the cost as planned.
pub(in crate::cli) fn standing(
    dir: &Path,
    reading: &Reading,
    plan: &Plan,
    verdict: &Verdict,
    told: Option<&Told>,
) -> String {
    let job = &reading.job;
    let laid: BTreeSet<Spot> = job.laid.iter().map(Spot::of).collect();
    let to_do: Vec<&Piece> = plan
        .pieces
        .iter()
        .filter(|piece| !laid.contains(&Spot::of(piece)))
        .collect();
    let mut table = plain_table();
    table.add_row(["Laid", &done(reading, plan, &laid)]);
    table.add_row(["To do", &left_to_do(&to_do)]);
    table.add_row(["Wood left", &wood(reading, plan, &to_do)]);
    table.add_row(["Cost", &cost(verdict, told)]);
    if let Some(told) = told {
        table.add_row(["Plan", &format!("number {}", told.number)]);
    }
    let mut text = format!("{}\n{}\n", styled(HEAD, &job.name), table.trim_fmt());
    if !verdict.is_good() {
        let breaches: Vec<String> = verdict
            .breaches
            .iter()
            .map(|breach| format!("  {breach}\n"))
            .collect();
        text += &format!(
            "\n{}\n{}Plan again: twinstrake lay {}\n",
            styled(CARE, "The plan does not hold any more:"),
            breaches.concat(),
            dir.display()
        );
    }
    if !to_do.is_empty() {
        text += &format!("\n{}\n{}", styled(HEAD, "Next"), next(reading, &to_do));
    }
    text
}

fn done(reading: &Reading, plan: &Plan, laid: &BTreeSet<Spot>) -> String {
    let whole = reading.job.hull.courses().filter(|(id, _)| {
        let mut here = plan
            .pieces
            .iter()
            .filter(|piece| piece.course == *id)
            .peekable();
        here.peek().is_some() && here.all(|piece| laid.contains(&Spot::of(piece)))
    });
    format!(
        "{} of {} pieces; {} of {} courses whole",
        laid.len(),
        plan.pieces.len(),
        whole.count(),
        reading.job.hull.courses.len()
    )
}

fn left_to_do(to_do: &[&Piece]) -> String {
    let on = |side| to_do.iter().filter(|piece| piece.side == side).count();
    let centre = match on(Side::Centre) {
        0 => String::new(),
        n => format!(", {n} on the centreline"),
    };
    let all = many(to_do.len(), "piece", "pieces");
    match to_do.len() {
        0 => "nothing".into(),
        _ => format!(
            "{all}: {} on port, {} on starboard{centre}",
            on(Side::Port),
            on(Side::Starboard)
        ),
    }
}

/// The strips that nothing is to be cut from, and how much wood that is.
fn wood(reading: &Reading, plan: &Plan, to_do: &[&Piece]) -> String {
    let stock = &reading.job.stock;
    let wanted: BTreeSet<StripId> = to_do.iter().map(|piece| piece.strip).collect();
    let used: BTreeSet<StripId> = plan.pieces.iter().map(|piece| piece.strip).collect();
    let whole: Vec<StripId> = (0..stock.strips.len())
        .map(StripId)
        .filter(|id| !used.contains(id) && !stock.strip(*id).cull)
        .filter(|id| stock.strip(*id).clear() > Length::ZERO)
        .collect();
    let length: Length = whole.iter().map(|id| stock.strip(*id).clear()).sum();
    let names: Vec<&str> = whole
        .iter()
        .map(|id| stock.strip(*id).name.as_str())
        .collect();
    let spare = match names.len() {
        0 => "no strip to spare".into(),
        n if n <= 24 => format!(
            "{} to spare: {}, {}",
            n,
            names.join(" "),
            metres(reading.job.unit, length)
        ),
        n => format!("{n} to spare, {}", metres(reading.job.unit, length)),
    };
    format!(
        "{} waiting to be laid; {spare}",
        many(wanted.len(), "strip", "strips")
    )
}

fn metres(unit: Unit, length: Length) -> String {
    match unit {
        Unit::Mm => format!("{:.1} m in all", length.metres()),
        Unit::Inch => format!("{:.0} ft in all", length.mm() / 304.8),
    }
}

fn cost(verdict: &Verdict, told: Option<&Told>) -> String {
    let now = verdict.cost.total();
    match told.map(|told| told.cost.total) {
        Some(planned) if (planned - now).abs() > 0.005 => {
            format!("{now:.2} now, {planned:.2} when it was planned")
        }
        _ => format!("{now:.2}, as planned"),
    }
}

fn next(reading: &Reading, to_do: &[&Piece]) -> String {
    let job = &reading.job;
    let mut text = String::new();
    for side in [Side::Port, Side::Starboard, Side::Centre] {
        for piece in to_do.iter().filter(|piece| piece.side == side).take(NEXT) {
            text += &format!(
                "  {}: {}, cut {} to {}, {} to the bow\n",
                place(&job.hull, &Spot::of(piece)),
                job.stock.strip(piece.strip).name,
                job.unit.shop(piece.cut_from.from_origin()),
                job.unit.shop(piece.cut_to.from_origin()),
                piece.bow_end.name()
            );
        }
    }
    text
}
