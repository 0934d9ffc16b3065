//! boat.toml: sizes, rules, weights, panels and zones.

use super::found::Found;
use super::keys::{FILE, Keys, Need, curly_quotes, not_toml};
use super::panels::{PanelKeys, panels};
use super::stationery::{Stationery, stationery};
use super::text::decode;
use super::values::Least;
use super::wants::{self, WantKey};
use super::zones::{self, ZoneKeys};
use crate::mill::Mill;
use crate::plan::{Allow, Edge, Edges, Joints, Rules, Weights};
use crate::units::{Length, Unit};
use toml::de::DeTable;

const UNITS: [(&str, Unit); 2] = [("mm", Unit::Mm), ("in", Unit::Inch)];
const EDGE_SHAPES: [(&str, EdgeShape); 2] = [
    ("square", EdgeShape::Square),
    ("bead-and-cove", EdgeShape::BeadAndCove),
];
const EDGE_NAMES: [(&str, Edge); 2] = [("A", Edge::A), ("B", Edge::B)];

/// The word under `edges`, before `next_edge` is looked at.
#[derive(Clone, Copy, Default)]
enum EdgeShape {
    #[default]
    Square,
    BeadAndCove,
}

/// What boat.toml says; each part `None` where it could not be read.
pub(super) struct Boat {
    pub(super) name: Option<String>,
    pub(super) unit: Option<Unit>,
    pub(super) panels: Option<Vec<PanelKeys>>,
    pub(super) rules: Option<Rules>,
    /// How far a joint may gape before it is worth a word.
    pub(super) gape: Option<Length>,
    /// How far a bead lies in its cove; nothing with square edges.
    pub(super) overlap: Option<Length>,
    pub(super) weights: Option<Weights>,
    pub(super) zones: ZoneKeys,
    pub(super) wants: Option<Vec<WantKey>>,
    pub(super) stationery: Option<Stationery>,
    pub(super) mill: Option<Mill>,
    /// Whether boards that are not sawn yet are planned with.
    pub(super) promised: bool,
}

/// Reads boat.toml.
pub(super) fn read(bytes: &[u8], found: &mut Found) -> Option<Boat> {
    let text = decode(FILE, bytes, found)?;
    let (document, errors) = DeTable::parse_recoverable(&text);
    if !errors.is_empty() {
        match curly_quotes(&text) {
            Some(complaint) => found.complain(complaint),
            None => found
                .complaints
                .extend(errors.iter().map(|error| not_toml(&text, error))),
        }
        return None;
    }
    let top = Keys::top(&text, document.get_ref(), Unit::Mm);
    top.warn_of_others(
        &[
            "name",
            "units",
            "strip",
            "joint",
            "allow",
            "cost",
            "panel",
            "keep_clear",
            "show",
            "want",
            "paper",
            "mill",
        ],
        found,
    );
    let name = top.text("name", "\"a name\"", found);
    let unit = top.word("units", &UNITS, found);
    let top = top.in_unit(unit.unwrap_or_default());
    let (rules, gape, overlap) = rules(&top, found);
    let weights = match top.table("cost", Need::Optional, found) {
        Some(cost) => weights(&cost, found),
        None => Some(Weights::default()),
    };
    let panels = panels(&top, found);
    let zones = zones::keys(&top, found);
    let wants = wants::keys(&top, found);
    let stationery = stationery(&top, found);
    let mill = mill(&top, unit.unwrap_or_default(), found);
    // What is wrong with the table as a whole is told by now.
    let promised = top
        .table("mill", Need::Optional, &mut Found::default())
        .and_then(|keys| keys.yes_or_no("promised", false, found));
    Some(Boat {
        name,
        unit,
        panels,
        rules,
        gape,
        overlap,
        weights,
        zones,
        wants,
        stationery,
        mill,
        promised: promised.unwrap_or(false),
    })
}

/// Lost at each cut of the ripping saw where nothing is said. Unit: mm. Common practice, no source: a table saw's full
/// kerf of 1/8 in is 3.2 mm.
const KERF_MM: f64 = 3.2;

/// What saw and plane take; the table and each key of it may be left out.
fn mill(top: &Keys<'_>, unit: Unit, found: &mut Found) -> Option<Mill> {
    let usual = Mill {
        kerf: match unit {
            Unit::Mm => Length::from_mm(KERF_MM),
            Unit::Inch => Length::from_mm(25.4 / 8.0),
        },
        planing: Length::ZERO,
    };
    let Some(keys) = top.table("mill", Need::Optional, found) else {
        return Some(usual);
    };
    keys.warn_of_others(&["kerf", "planing", "promised"], found);
    let kerf = keys.length_or("kerf", usual.kerf, found);
    let planing = keys.length_or("planing", usual.planing, found);
    Some(Mill {
        kerf: kerf?,
        planing: planing?,
    })
}

/// The rules, how far a joint may gape, and how far a bead lies in its cove.
fn rules(top: &Keys<'_>, found: &mut Found) -> (Option<Rules>, Option<Length>, Option<Length>) {
    let strip = top.table("strip", Need::Required, found);
    let joint = top.table("joint", Need::Required, found);
    let allow = top.table("allow", Need::Required, found);
    let sizes = strip.map(|strip| {
        strip.warn_of_others(
            &[
                "width",
                "thickness",
                "edges",
                "next_edge",
                "overlap",
                "gape",
            ],
            found,
        );
        let width = strip.length_from("width", Least::MoreThanZero, found);
        let thickness = strip.length_from("thickness", Least::MoreThanZero, found);
        look_at_size(&strip, width, thickness, found);
        let edges = edges(&strip, found);
        let overlap = overlap(&strip, edges, thickness, found);
        (width, thickness, edges, gape(&strip, found), overlap)
    });
    let thickness = sizes.and_then(|(_, thickness, ..)| thickness);
    let gape = sizes.and_then(|(.., gape, _)| gape);
    let overlap = sizes.and_then(|(.., overlap)| overlap);
    let joints = joint.and_then(|joint| joints(&joint, thickness, found));
    let allow = allow.and_then(|allow| {
        allow.warn_of_others(
            &["fitted_end", "free_end", "saw", "defect", "end_trim"],
            found,
        );
        let fitted_end = allow.length_from("fitted_end", Least::Zero, found);
        let free_end = allow.length_from("free_end", Least::Zero, found);
        let saw = allow.length_from("saw", Least::Zero, found);
        let defect = allow.length_or("defect", Length::ZERO, found);
        let end_trim = allow.length_or("end_trim", Length::ZERO, found);
        for (key, length) in [("defect", defect), ("end_trim", end_trim)] {
            if length.is_some_and(|length| length.mm() > MUCH_MM) {
                let wrong = "is more than the width of a hand, most likely a slip of units";
                found.warn(allow.complaint(key, wrong, MEND_UNITS));
            }
        }
        Some(Allow {
            fitted_end: fitted_end?,
            free_end: free_end?,
            saw: saw?,
            defect: defect?,
            end_trim: end_trim?,
        })
    });
    let rules = || {
        let (width, thickness, edges, ..) = sizes?;
        Some(Rules {
            width: width?,
            thickness: thickness?,
            edges: edges?,
            joints: joints?,
            allow: allow?,
        })
    };
    (rules(), gape, overlap)
}

/// How far a bead lies in its cove. Where nothing is said, its radius: half the thickness of a strip whose edge is a
/// half round. Common practice, no source.
fn overlap(
    strip: &Keys<'_>,
    edges: Option<Edges>,
    thickness: Option<Length>,
    found: &mut Found,
) -> Option<Length> {
    match edges? {
        Edges::Square => Some(Length::ZERO),
        Edges::BeadAndCove { .. } => strip.length_or("overlap", thickness? * 0.5, found),
    }
}

/// Where boat.toml says nothing: a joint that gapes by less is filled by the glue. Unit: mm. Common practice, no
/// source.
const GAPE_MM: f64 = 0.5;

fn gape(strip: &Keys<'_>, found: &mut Found) -> Option<Length> {
    strip.length_or("gape", Length::from_mm(GAPE_MM), found)
}

/// More than this beside a knot or at an end of a strip is hardly meant. Unit: mm. Common practice, no source.
const MUCH_MM: f64 = 100.0;
const MEND_UNITS: &str =
    "Bare numbers are in the job's units; a length may carry its own, as \"3/4 in\".";

/// A strip wider than this is a plank, or a slip of units. Unit: mm. Common practice, no source: strips are 12 to 40 mm
/// wide.
const WIDE_MM: f64 = 150.0;

fn look_at_size(
    strip: &Keys<'_>,
    width: Option<Length>,
    thickness: Option<Length>,
    found: &mut Found,
) {
    if let Some(width) = width.filter(|width| width.mm() > WIDE_MM) {
        let wrong = format!("is {}, most likely a slip of units", strip.unit.shop(width));
        found.warn(strip.complaint("width", wrong, MEND_UNITS));
    }
    if thickness
        .zip(width)
        .is_some_and(|(thickness, width)| thickness > width)
    {
        found.warn(strip.complaint("thickness", "is more than the strip is wide", MEND_UNITS));
    }
}

fn edges(strip: &Keys<'_>, found: &mut Found) -> Option<Edges> {
    match strip.word_or_default("edges", &EDGE_SHAPES, found)? {
        EdgeShape::BeadAndCove => {
            let next_edge = strip.word("next_edge", &EDGE_NAMES, found)?;
            Some(Edges::BeadAndCove { next_edge })
        }
        EdgeShape::Square => {
            for (key, wrong) in [
                ("next_edge", "either edge may look to the next course"),
                ("overlap", "no edge lies in another"),
            ] {
                if strip.get(key).is_some() {
                    let wrong = format!("is passed over: with square edges {wrong}");
                    let mend = "Leave it out, or write edges = \"bead-and-cove\".";
                    found.warn(strip.complaint(key, wrong, mend));
                }
            }
            Some(Edges::Square)
        }
    }
}

/// Steeper scarfs than this are too weak to be meant. Source: scarfs of 8:1 for many boatbuilding joints, M. Gougeon,
/// The Gougeon Brothers on Boat Construction, ch. 12; 4:1 the least for traditional planks, J.-B. R. G. Souppez, "The
/// Strength of Scarf Joints".
const STEEPEST: f64 = 4.0;
/// A longer scarf than this is no scarf but a slip of the pen. Unit: times the thickness.
const FLATTEST: f64 = 100.0;

fn joints(joint: &Keys<'_>, thickness: Option<Length>, found: &mut Found) -> Option<Joints> {
    joint.warn_of_others(
        &["slope", "clear", "clear_courses", "shortest_piece", "most"],
        found,
    );
    let slope = joint.number("slope", Least::MoreThanZero, found);
    let clear = joint.length_from("clear", Least::Zero, found);
    let clear_courses = joint.count("clear_courses", found);
    let shortest_piece = joint.length_from("shortest_piece", Least::Zero, found);
    let most = joint.count("most", found);
    match slope {
        Some(slope) if slope > FLATTEST => found.complain(joint.complaint(
            "slope",
            "makes a scarf more than a hundred times as long as the strip is thick",
            "Write how many times its thickness a scarf is long, as 8.",
        )),
        Some(slope) if slope < STEEPEST => found.warn(joint.complaint(
            "slope",
            "makes a scarf less than four times as long as the strip is thick",
            "Write how many times its thickness a scarf is long, as 8.",
        )),
        _ => {}
    }
    let slope = slope.filter(|slope| *slope <= FLATTEST);
    // Such a piece could begin behind the next one.
    if let (Some(slope), Some(thickness), Some(shortest)) = (slope, thickness, shortest_piece)
        && thickness * slope > shortest
        && most.is_some_and(|most| most > 0)
    {
        found.complain(joint.complaint(
            "shortest_piece",
            "is shorter than a scarf, so that a piece could be all scarf",
            "Write a length of several scarfs.",
        ));
    }
    Some(Joints {
        slope: slope?,
        clear: clear?,
        clear_courses: clear_courses?,
        shortest_piece: shortest_piece?,
        most: most?,
    })
}

fn weights(cost: &Keys<'_>, found: &mut Found) -> Option<Weights> {
    cost.warn_of_others(
        &[
            "board", "skip", "shift", "foster", "joint", "cut", "relabel",
        ],
        found,
    );
    let usual = Weights::default();
    let board = cost.number_or("board", usual.board, found);
    let skip = cost.number_or("skip", usual.skip, found);
    let shift = cost.number_or("shift", usual.shift, found);
    let foster = cost.number_or("foster", usual.foster, found);
    let joint = cost.number_or("joint", usual.joint, found);
    let cut = cost.number_or("cut", usual.cut, found);
    let relabel = cost.number_or("relabel", usual.relabel, found);
    Some(Weights {
        board: board?,
        skip: skip?,
        shift: shift?,
        foster: foster?,
        joint: joint?,
        cut: cut?,
        relabel: relabel?,
    })
}
