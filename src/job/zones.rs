//! The zones of boat.toml, and whether each of them names anything on the boat.

use super::complaint::Complaint;
use super::found::Found;
use super::keys::Keys;
use super::nearest::{NO_SUCH_PANEL, advice};
use super::values::Least;
use crate::hull::{Course, Panel, PanelId, Show, Zone};
use crate::units::X;

/// A zone as boat.toml has it, before its panel is looked up; with the complaints it will give rise to if it names
/// nothing.
#[derive(Clone)]
pub(super) struct ZoneKey {
    panel: String,
    zone: Zone,
    times: f64,
    unknown_panel: Complaint,
    courses: Complaint,
    off_the_ends: Complaint,
}

/// All zones of boat.toml.
pub(super) struct ZoneKeys {
    pub(super) keep_clear: Vec<ZoneKey>,
    pub(super) show: Vec<ZoneKey>,
}

/// Reads the tables of both kinds of zone.
pub(super) fn keys(top: &Keys<'_>, found: &mut Found) -> ZoneKeys {
    let mut keep_clear = Vec::new();
    for keys in top.tables("keep_clear", found) {
        keys.warn_of_others(&["name", "panel", "courses", "from", "to"], found);
        keep_clear.extend(zone(&keys, Some(1.0), found));
    }
    let mut show = Vec::new();
    for keys in top.tables("show", found) {
        keys.warn_of_others(&["name", "panel", "courses", "from", "to", "times"], found);
        let times = keys.number("times", Least::Zero, found);
        show.extend(zone(&keys, times, found));
    }
    ZoneKeys { keep_clear, show }
}

fn zone(keys: &Keys<'_>, times: Option<f64>, found: &mut Found) -> Option<ZoneKey> {
    let name = keys.text_if_there("name", "\"mast\"", found);
    let panel = keys.text("panel", "\"topside\"", found);
    let courses = keys.courses(found);
    let from = keys.length("from", found).map(X::at);
    let to = keys.length("to", found).map(X::at);
    let (from, to) = (from?, to?);
    if from >= to {
        return keys.refuse(
            found,
            "to",
            "is not aft of from",
            "Write from and to as distances from the bow, the nearer first.",
        );
    }
    Some(ZoneKey {
        panel: panel?,
        zone: Zone {
            name,
            panel: PanelId(0),
            courses: courses?,
            from,
            to,
        },
        times: times?,
        unknown_panel: keys.complaint("panel", NO_SUCH_PANEL, ""),
        courses: keys.complaint(
            "courses",
            "",
            "Write the first and last of courses that are in courses.csv, or leave courses out for all.",
        ),
        off_the_ends: keys.complaint(
            "from",
            "begins a zone that meets none of its courses",
            "Write from and to as distances from the bow, in the units of the job.",
        ),
    })
}

/// Looks up panels and courses. Without `courses` (courses.csv could not be read) only the panels.
pub(super) fn settle(
    all: &[ZoneKey],
    panels: &[Panel],
    courses: Option<&[Course]>,
    found: &mut Found,
) -> Vec<Show> {
    let mut settled = Vec::new();
    for key in all {
        let mut key = key.clone();
        let Some(place) = panels.iter().position(|panel| panel.name == key.panel) else {
            let known: Vec<&str> = panels.iter().map(|panel| panel.name.as_str()).collect();
            found.complain(Complaint {
                mend: advice(&key.panel, &known),
                ..key.unknown_panel
            });
            continue;
        };
        key.zone.panel = PanelId(place);
        if let Some(courses) = courses {
            look_over_courses(&key, courses, found);
        }
        settled.push(Show {
            zone: key.zone,
            times: key.times,
        });
    }
    settled
}

fn look_over_courses(key: &ZoneKey, courses: &[Course], found: &mut Found) {
    let of_panel = courses
        .iter()
        .filter(|course| course.panel == key.zone.panel);
    let last = of_panel.map(|course| course.number).max().unwrap_or(0);
    let mut covered = courses
        .iter()
        .filter(|course| key.zone.covers(course))
        .peekable();
    if covered.peek().is_none() {
        let has = match last {
            0 => "none".to_owned(),
            _ => format!("1 to {last}"),
        };
        found.complain(Complaint {
            wrong: format!(
                "names no course of panel \"{}\", which has {has}",
                key.panel
            ),
            ..key.courses.clone()
        });
        return;
    }
    if key.zone.courses.is_some_and(|(_, end)| end > last) {
        found.warn(Complaint {
            wrong: format!(
                "reaches past the last course of panel \"{}\", which is {last}",
                key.panel
            ),
            ..key.courses.clone()
        });
    }
    if !covered.any(|course| course.from < key.zone.to && key.zone.from < course.to) {
        found.warn(key.off_the_ends.clone());
    }
}
