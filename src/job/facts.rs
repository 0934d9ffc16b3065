//! How a piece is cut and how it lies, as the laying order and the log both tell it.

use super::found::Found;
use super::table::Row;
use crate::hull::Side;
use crate::log::Facts;
use crate::plan::{BowEnd, Edge, Face};
use crate::units::{S, U};

pub(super) const SIDES: [(&str, Side); 3] = [
    ("port", Side::Port),
    ("starboard", Side::Starboard),
    ("centre", Side::Centre),
];
const BOW_ENDS: [(&str, BowEnd); 2] = [("mark", BowEnd::Mark), ("plain", BowEnd::Plain)];
const EDGES: [(&str, Edge); 2] = [("A", Edge::A), ("B", Edge::B)];
const FACES: [(&str, Face); 2] = [("high", Face::High), ("low", Face::Low)];

/// The columns that say how a piece of a strip lies.
pub(super) const COLUMNS: [&str; 7] = [
    "from",
    "to",
    "cut_from",
    "cut_to",
    "bow_end",
    "next_edge",
    "face_out",
];

/// Reads those columns. Whether the strip is one is asked elsewhere.
pub(super) fn facts(row: &Row<'_>, found: &mut Found) -> Option<Facts> {
    let from = row.cell("from").length(found).map(S::at);
    let to = row.cell("to").length(found).map(S::at);
    let cut_from = row.cell("cut_from").length(found).map(U::at);
    let cut_to = row.cell("cut_to").length(found).map(U::at);
    let bow_end = row.cell("bow_end").word(&BOW_ENDS, found);
    let next_edge = row.cell("next_edge").word(&EDGES, found);
    let face_out = row.cell("face_out").word(&FACES, found);
    Some(Facts {
        strip: row.cell("strip").text.to_owned(),
        from: from?,
        to: to?,
        cut_from: cut_from?,
        cut_to: cut_to?,
        bow_end: bow_end?,
        next_edge: next_edge?,
        face_out: face_out?,
    })
}
