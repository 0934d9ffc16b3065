//! How far the boat is.

use super::TellPath as _;
use super::summary::listing;
use super::verdict::breaches;
use super::{CARE, HEAD, looks_beside, many, styled};
use std::collections::BTreeSet;
use std::path::Path;
use twinstrake::check::Verdict;
use twinstrake::hull::Side;
use twinstrake::job::{Reading, Stage};
use twinstrake::log::{Spot, place};
use twinstrake::out::PlanRecord;
use twinstrake::plan::{Piece, Plan};
use twinstrake::stock::{Strip, StripId};
use twinstrake::units::{Length, U};

/// How many pieces are named that come next.
const NEXT: usize = 6;

/// Done and to do, what comes next, the wood that is left, the looks now against those planned.
pub fn standing(
    dir: &Path,
    reading: &Reading,
    plan: &Plan,
    verdict: &Verdict,
    told: Option<&PlanRecord>,
) -> String {
    let job = &reading.job;
    let to_do = to_do(reading, plan);
    let rows = listing(standing_rows(reading, plan, verdict, told));
    let mut text = format!("{}\n{rows}\n", styled(HEAD, &job.name));
    if !verdict.is_good() {
        text += &format!(
            "\n{}\n{}Find other wood: twinstrake lay {}\n",
            styled(CARE, "The plan can't be laid as it is any more:"),
            breaches(verdict),
            dir.told()
        );
    }
    if !to_do.is_empty() {
        text += &format!("\n{}\n{}", styled(HEAD, "Next"), next(reading, &to_do));
    }
    text
}

/// The pieces that are not laid yet.
fn to_do<'p>(reading: &Reading, plan: &'p Plan) -> Vec<&'p Piece> {
    let pieces = plan.pieces.iter();
    pieces
        .filter(|piece| reading.job.stage(piece) != Stage::Laid)
        .collect()
}

/// The same in short: a word, and what is said of it.
pub fn standing_rows(
    reading: &Reading,
    plan: &Plan,
    verdict: &Verdict,
    told: Option<&PlanRecord>,
) -> Vec<(&'static str, String)> {
    let job = &reading.job;
    let laid: BTreeSet<Spot> = job.laid.iter().map(Spot::of).collect();
    let to_do = to_do(reading, plan);
    let cut = to_do
        .iter()
        .filter(|piece| job.stage(piece) == Stage::Cut)
        .count();
    let mut rows = vec![
        ("Laid", done(reading, plan, &laid)),
        (
            "Cut",
            format!("{} ready to lay", many(cut, "piece", "pieces")),
        ),
        ("To do", left_to_do(&to_do)),
        ("Wood left", wood(reading, plan, &to_do)),
        ("Looks", looks(verdict, told)),
    ];
    rows.extend(told.map(|told| ("Plan", format!("number {}", told.again.number))));
    rows
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
    let whole = stock
        .strips()
        .filter(|(id, strip)| !used.contains(id) && strip.is_whole());
    let whole: Vec<&Strip> = whole.map(|(_, strip)| strip).collect();
    let length: Length = whole.iter().map(|strip| strip.clear()).sum();
    let names: Vec<&str> = whole.iter().map(|strip| strip.name.as_str()).collect();
    let spare = match names.len() {
        0 => "no strip to spare".into(),
        n => format!(
            "{n} whole to spare, {} in all: {}",
            reading.job.unit.running(length),
            names.join(" ")
        ),
    };
    format!(
        "{} waiting to be laid; {spare}",
        many(wanted.len(), "strip", "strips")
    )
}

fn looks(verdict: &Verdict, told: Option<&PlanRecord>) -> String {
    let planned = told.map_or(verdict.looks(), |told| {
        told.cost.total - told.cost.terms.moved
    });
    looks_beside(verdict.looks(), planned, "planned")
}

/// What comes next, in the order of laying.
fn next(reading: &Reading, to_do: &[&Piece]) -> String {
    let job = &reading.job;
    let line = |piece: &&Piece| {
        let strip = job.stock.strip(piece.strip);
        let at = |place: U| job.unit.shop(place.from_origin());
        let cut = match job.stage(piece) {
            _ if !strip.has(piece.cut_from, piece.cut_to) => "its wood is gone: plan again".into(),
            Stage::Cut => "is cut".into(),
            _ => format!("cut {} to {}", at(piece.cut_from), at(piece.cut_to)),
        };
        format!(
            "  {}: {}, {cut}, {} end to the bow\n",
            place(&job.hull, &Spot::of(piece)),
            strip.name,
            piece.bow_end.spoken()
        )
    };
    to_do.iter().take(NEXT).map(line).collect()
}
