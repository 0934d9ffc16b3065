//! The panels of boat.toml: what the planner needs to know of them, and what their courses are worked out by.

use super::complaint::Complaint;
use super::found::Found;
use super::keys::{FILE, Keys};
use super::values::Least;
use crate::hull::{Drift, LayOrder, Panel, Shade, Toward};
use crate::lines::{Centre, Fit};
use crate::units::Length;

const KEYS: [&str; 14] = [
    "name",
    "toward",
    "look",
    "lay",
    "shade",
    "against",
    "bow_end",
    "stern_end",
    "stop",
    "bow_end_to",
    "stern_end_from",
    "centre",
    "start_length",
    "stop_length",
];

const TOWARD: [(&str, Toward); 2] = [("keel", Toward::Keel), ("deck", Toward::Deck)];
const LAY: [(&str, LayOrder); 3] = [
    ("alternate", LayOrder::Alternate),
    ("port-first", LayOrder::PortFirst),
    ("starboard-first", LayOrder::StarboardFirst),
];
const SHADES: [(&str, Shade); 2] = [("darker", Shade::Darker), ("lighter", Shade::Lighter)];
const FITS: [(&str, Fit); 5] = [
    (Fit::Fitted.name(), Fit::Fitted),
    (Fit::Stem.name(), Fit::Stem),
    (Fit::Edge.name(), Fit::Edge),
    (Fit::Centreline.name(), Fit::Centreline),
    (Fit::Free.name(), Fit::Free),
];
const CENTRES: [(&str, Centre); 3] = [
    ("none", Centre::None),
    ("first", Centre::First),
    ("last", Centre::Last),
];

/// A panel of boat.toml.
pub(super) struct PanelKeys {
    pub(super) panel: Panel,
    pub(super) lines: LineKeys,
}

/// What boat.toml says of a panel's edges.
pub(super) struct LineKeys {
    pub(super) bow_end: Fit,
    pub(super) stern_end: Fit,
    pub(super) stop: Fit,
    pub(super) bow_end_to: Option<Length>,
    pub(super) stern_end_from: Option<Length>,
    pub(super) centre: Centre,
    pub(super) start_length: Option<Length>,
    pub(super) stop_length: Option<Length>,
}

fn line_keys(keys: &Keys<'_>, found: &mut Found) -> Option<LineKeys> {
    let bow_end = keys.word_or_default("bow_end", &FITS, found);
    let stern_end = keys.word_or_default("stern_end", &FITS, found);
    let stop = keys.word_or_default("stop", &FITS, found);
    let centre = keys.word_or_default("centre", &CENTRES, found);
    let mut place = |key: &str| keys.if_there(key, || keys.length(key, found));
    let (bow_end_to, stern_end_from) = (place("bow_end_to"), place("stern_end_from"));
    let mut long =
        |key: &str| keys.if_there(key, || keys.length_from(key, Least::MoreThanZero, found));
    let (start_length, stop_length) = (long("start_length"), long("stop_length"));
    Some(LineKeys {
        bow_end: bow_end?,
        stern_end: stern_end?,
        stop: stop?,
        bow_end_to: bow_end_to?,
        stern_end_from: stern_end_from?,
        centre: centre?,
        start_length: start_length?,
        stop_length: stop_length?,
    })
}

/// Which way the colour goes; `Some(None)` where either will do.
fn drift(keys: &Keys<'_>, found: &mut Found) -> Option<Option<Drift>> {
    let against = keys.number_or("against", 1.0, found);
    if keys.get("shade").is_none() {
        if keys.get("against").is_some() {
            found.warn(keys.complaint(
                "against",
                "is passed over, as the panel says no shade",
                "Write shade = \"darker\" or shade = \"lighter\", or leave against out.",
            ));
        }
        return Some(None);
    }
    let (shade, against) = (keys.word("shade", &SHADES, found)?, against?);
    Some(Some(Drift { shade, against }))
}

/// Reads the tables of the panels; `None` where any of them could not be read.
pub(super) fn panels(top: &Keys<'_>, found: &mut Found) -> Option<Vec<PanelKeys>> {
    let tables = top.tables("panel", found);
    if tables.is_empty()
        && top
            .get("panel")
            .is_none_or(|value| value.get_ref().is_array())
    {
        let mend = "Add [[panel]] with name = \"topside\" and toward = \"keel\".";
        let complaint = Complaint::of(FILE, "there is no panel", mend);
        found.complain(complaint.under("panel"));
        return None;
    }
    let mut panels: Vec<Option<PanelKeys>> = Vec::new();
    for keys in &tables {
        keys.warn_of_others(&KEYS, found);
        let name = keys.text("name", "\"topside\"", found);
        let toward = keys.word("toward", &TOWARD, found);
        let look = keys.number_or("look", 1.0, found);
        let lay = keys.word_or_default("lay", &LAY, found);
        let drift = drift(keys, found);
        let twice = panels
            .iter()
            .flatten()
            .any(|keys| Some(&keys.panel.name) == name.as_ref());
        if twice {
            found.complain(keys.complaint(
                "name",
                "is there twice",
                "Give every panel its own name.",
            ));
        }
        let lines = line_keys(keys, found);
        let panel = || {
            Some(PanelKeys {
                panel: Panel {
                    name: name?,
                    toward: toward?,
                    look: look?,
                    lay: lay?,
                    drift: drift?,
                },
                lines: lines?,
            })
        };
        panels.push(panel());
    }
    let listed = top
        .get("panel")
        .and_then(|value| value.get_ref().as_array());
    let complete = listed.is_some_and(|items| items.len() == panels.len());
    panels
        .into_iter()
        .collect::<Option<Vec<PanelKeys>>>()
        .filter(|_| complete)
}
