//! The wants of boat.toml, and whether each of them can be met at all.

use super::Job;
use super::complaint::Complaint;
use super::found::Found;
use super::keys::{FILE, Keys};
use super::nearest::{NO_SUCH_PANEL, advice, did_you_mean};
use super::values::Least;
use crate::hull::{Course, Hull, Kind, PanelId, Side};
use crate::plan::Want;
use crate::stock::{Stock, StripId};

/// A want as boat.toml has it, before its panel is looked up, and where each of its keys stands.
pub(super) struct WantKey {
    want: Want,
    panel: String,
    places: Vec<(&'static str, Complaint)>,
}

const KEYS: [&str; 10] = [
    "name", "panel", "course", "courses", "wood", "boards", "strips", "keep", "accent", "port",
];

/// No step between two woods is larger. Unit: ΔE00.
const MOST_ACCENT: f64 = 100.0;

impl WantKey {
    fn complaint(&self, key: &str, wrong: impl Into<String>, mend: impl Into<String>) -> Complaint {
        let place = self.places.iter().find(|(name, _)| *name == key);
        let place = place.map_or_else(|| Complaint::of(FILE, "", ""), |(_, place)| place.clone());
        Complaint {
            wrong: wrong.into(),
            mend: mend.into(),
            ..place
        }
    }

    /// The key under which it says its courses.
    fn courses_key(&self) -> &'static str {
        let course = self.places.iter().find(|(name, _)| *name == "course");
        match course {
            Some((_, place)) if place.seen.is_some() => "course",
            _ => "courses",
        }
    }

    /// The key under which it says its wood first.
    fn wood_key(&self) -> &'static str {
        match &self.want {
            Want { wood: Some(_), .. } => "wood",
            Want { boards, .. } if !boards.is_empty() => "boards",
            _ => "strips",
        }
    }
}

/// Reads the tables of the wants; `None` where any of them could not be read.
pub(super) fn keys(top: &Keys<'_>, found: &mut Found) -> Option<Vec<WantKey>> {
    let tables = top.tables("want", found);
    let all: Vec<Option<WantKey>> = tables.iter().map(|keys| want(keys, found)).collect();
    all.into_iter().collect()
}

fn want(keys: &Keys<'_>, found: &mut Found) -> Option<WantKey> {
    keys.warn_of_others(&KEYS, found);
    let name = keys.text("name", "\"accent line\"", found);
    let panel = keys.text("panel", "\"topside\"", found);
    let courses = courses(keys, found);
    let wood = keys.if_there("wood", || keys.text_if_there("wood", "\"walnut\"", found));
    let boards = keys.names("boards", "[\"N\"]", found);
    let strips = keys.names("strips", "[\"D3\", \"D4\"]", found);
    let accent = keys.if_there("accent", || {
        keys.number("accent", Least::MoreThanZero, found)
    });
    let port = keys.if_there("port", || keys.text_if_there("port", "\"D3\"", found));
    let kept = keys.get("strips").is_some() || keys.get("accent").is_some();
    let keep = keys.yes_or_no("keep", kept, found);
    let (wood, boards, strips, port) = (wood?, boards?, strips?, port?);
    if wood.is_none() && boards.is_empty() && strips.is_empty() {
        let mend = "Write wood = \"walnut\", boards = [\"N\"] or strips = [\"D3\", \"D4\"].";
        let mut complaint = keys.complaint("wood", "the want names no wood", mend);
        complaint.seen = None;
        found.complain(complaint);
        return None;
    }
    let accent = accent?;
    if accent.is_some_and(|accent| accent > MOST_ACCENT) {
        let wrong = "is a larger step than any two woods have";
        let mend = "Write the step in ΔE00 up to which contrast is welcome, as 12.";
        return keys.refuse(found, "accent", wrong, mend);
    }
    let want = Want {
        name: name?,
        panel: PanelId(0),
        courses: courses?,
        wood,
        boards,
        strips,
        keep: keep?,
        accent,
        port,
    };
    let place = |key: &&'static str| (*key, keys.complaint(key, "", ""));
    Some(WantKey {
        want,
        panel: panel?,
        places: KEYS.iter().map(place).collect(),
    })
}

/// Under `courses` a first and a last, under `course` one; `Some(None)` where both are left out.
fn courses(keys: &Keys<'_>, found: &mut Found) -> Option<Option<(u32, u32)>> {
    if keys.get("course").is_none() {
        return keys.courses(found);
    }
    if keys.get("courses").is_some() {
        let wrong = "stands beside courses, and only one of the two can count";
        let mend = "Leave course out, or courses.";
        return keys.refuse(found, "course", wrong, mend);
    }
    match keys.count("course", found)? {
        0 => {
            let mend = "Courses are numbered from 1 at the start line.";
            keys.refuse(found, "course", "is no course", mend)
        }
        number => Some(Some((number, number))),
    }
}

/// Looks up panels, courses and wood, and complains of what can't be met whatever the plan.
pub(super) fn settle(
    all: &[WantKey],
    hull: &Hull,
    stock: Option<&Stock>,
    found: &mut Found,
) -> Vec<Want> {
    let mut sound: Vec<(&WantKey, Want)> = Vec::new();
    for (i, key) in all.iter().enumerate() {
        if all[..i]
            .iter()
            .any(|other| other.want.name == key.want.name)
        {
            let mend = "Give every want its own name: it is said in every message about it.";
            found.complain(key.complaint("name", "is there twice", mend));
        }
        let Some(place) = hull.panels.iter().position(|panel| panel.name == key.panel) else {
            let known: Vec<&str> = hull
                .panels
                .iter()
                .map(|panel| panel.name.as_str())
                .collect();
            let mend = advice(&key.panel, &known);
            found.complain(key.complaint("panel", NO_SUCH_PANEL, mend));
            continue;
        };
        let want = Want {
            panel: PanelId(place),
            ..key.want.clone()
        };
        let before = found.complaints.len();
        look_over_courses(key, &want, hull, found);
        look_over_port(key, &want, hull, found);
        if let Some(stock) = stock {
            look_over_names(key, &want, stock, found);
        }
        if found.complaints.len() == before {
            sound.push((key, want));
        }
    }
    if let Some(stock) = stock {
        complain_of_clashes(&sound, hull, stock, found);
    }
    sound.into_iter().map(|(_, want)| want).collect()
}

fn look_over_courses(key: &WantKey, want: &Want, hull: &Hull, found: &mut Found) {
    let of_panel = hull
        .courses
        .iter()
        .filter(|course| course.panel == want.panel);
    let last = of_panel.map(|course| course.number).max().unwrap_or(0);
    let missing = match want.courses {
        Some((first, end)) => (end > last).then(|| first.max(last + 1)),
        None => (last == 0).then_some(1),
    };
    if let Some(missing) = missing {
        let has = match last {
            0 => "none".to_owned(),
            1 => "only course 1".to_owned(),
            _ => format!("1 to {last}"),
        };
        let wrong = format!(
            "names course {missing} of panel \"{}\", which has {has}",
            key.panel
        );
        let mend = "Write courses that are there, or leave courses out for the whole panel.";
        found.complain(key.complaint(key.courses_key(), wrong, mend));
    }
}

fn look_over_port(key: &WantKey, want: &Want, hull: &Hull, found: &mut Found) {
    let Some(port) = &want.port else { return };
    let alone = want.wood.is_none() && want.boards.is_empty();
    let one_course = want.courses.is_some_and(|(first, last)| first == last);
    let (wrong, mend) = if !want.strips.contains(port) {
        let known: Vec<&str> = want.strips.iter().map(String::as_str).collect();
        let mend = match known.is_empty() {
            true => "Name two strips under strips, and one of them here.".to_owned(),
            false => advice(port, &known),
        };
        ("is not one of the strips of this want", mend)
    } else if !(want.strips.len() == 2 && alone && one_course) {
        let wrong = "can be told only where a want names two strips and one course";
        (
            wrong,
            "Write course = 3 and strips = [\"D3\", \"D4\"], or leave port out.".to_owned(),
        )
    } else if hull
        .courses
        .iter()
        .any(|course| want.covers(course) && course.kind == Kind::Centre)
    {
        (
            "names a side of a course on the centreline, which has none",
            "Leave port out.".to_owned(),
        )
    } else {
        return;
    };
    found.complain(key.complaint("port", wrong, mend));
}

fn look_over_names(key: &WantKey, want: &Want, stock: &Stock, found: &mut Found) {
    let before = found.complaints.len();
    if let Some(wood) = &want.wood {
        let mut known: Vec<&str> = stock
            .strips
            .iter()
            .map(|strip| strip.wood.as_str())
            .collect();
        known.sort_unstable();
        known.dedup();
        known.retain(|word| !word.is_empty());
        if !known
            .iter()
            .any(|word| word.to_lowercase() == wood.to_lowercase())
        {
            let mend = match known.is_empty() {
                true => "Write the kind of each strip under wood in strips.csv or boards.csv, or \
                         name boards = [\"N\"] here."
                    .to_owned(),
                false => advice(wood, &known),
            };
            found.complain(key.complaint("wood", "is the wood of no strip in the rack", mend));
        }
    }
    let boards: Vec<&str> = stock.boards.iter().map(String::as_str).collect();
    let strips: Vec<&str> = stock
        .strips
        .iter()
        .map(|strip| strip.name.as_str())
        .collect();
    let named = [
        ("boards", &want.boards, boards, "is not a board of the rack"),
        ("strips", &want.strips, strips, "is not a strip of the rack"),
    ];
    for (column, names, known, wrong) in named {
        for name in names.iter().filter(|name| !known.contains(&name.as_str())) {
            let mend = did_you_mean(name, known.iter().copied())
                .unwrap_or_else(|| "Write it as strips.csv or boards.csv has it.".into());
            found.complain(key.complaint(column, wrong, mend).showing(name.as_str()));
        }
    }
    let usable = |strip: StripId| want.names(stock, strip) && !stock.strip(strip).cull;
    if found.complaints.len() == before && !stock.strips().any(|(strip, _)| usable(strip)) {
        let wrong = "names only strips that are too narrow or too thin to be laid";
        let mend = "Name wood of the size under [strip].";
        found.complain(key.complaint(key.wood_key(), wrong, mend));
    }
}

/// Courses on which wants leave no wood at all: named once for each pair of wants.
fn complain_of_clashes(all: &[(&WantKey, Want)], hull: &Hull, stock: &Stock, found: &mut Found) {
    let mut told: Vec<(usize, usize)> = Vec::new();
    for course in &hull.courses {
        let sound = stock.strips().filter(|(_, strip)| !strip.cull);
        let mut left: Vec<StripId> = sound.map(|(id, _)| id).collect();
        for (i, (key, want)) in all
            .iter()
            .enumerate()
            .filter(|(_, (_, want))| want.covers(course))
        {
            let before = left.clone();
            left.retain(|strip| want.names(stock, *strip));
            let needed = course.sides().len();
            if left.len() >= needed {
                continue;
            }
            let covers = |(_, (_, other)): &(usize, &(&WantKey, Want))| other.covers(course);
            let named = stock.strips().filter(|(id, _)| want.names(stock, *id));
            let named = named.count();
            if named < needed {
                if !told.contains(&(i, i)) {
                    let wrong = format!(
                        "names one strip, but {} course {} is laid to port and to starboard",
                        key.panel,
                        course.name()
                    );
                    let mend = "Name two strips at least, best two sisters.";
                    found.complain(key.complaint(key.wood_key(), wrong, mend));
                    told.push((i, i));
                }
            } else if let Some((j, (other, _))) = all[..i].iter().enumerate().rfind(covers)
                && !told.contains(&(i, j))
            {
                let wrong = format!(
                    "and \"{}\" exclude each other: {} course {} is left {}",
                    other.want.name,
                    key.panel,
                    course.name(),
                    match left.len() {
                        0 => "no strip that both allow",
                        _ => "one strip that both allow, and needs two",
                    }
                );
                let mend = "Give each courses of its own, or name wood that both allow.";
                found.complain(key.complaint("name", wrong, mend));
                told.push((i, j));
            }
            left = before;
        }
        complain_of_kept(all, course, &left, stock, &mut told, found);
    }
}

/// A course of some wants whose wood is all kept by another.
fn complain_of_kept(
    all: &[(&WantKey, Want)],
    course: &Course,
    left: &[StripId],
    stock: &Stock,
    told: &mut Vec<(usize, usize)>,
    found: &mut Found,
) {
    let here = |(_, (_, want)): &(usize, &(&WantKey, Want))| want.covers(course);
    let Some((i, (key, _))) = all.iter().enumerate().rfind(here) else {
        return;
    };
    let keepers = || all.iter().enumerate().filter(|(_, (_, want))| want.keep);
    let keeper = |strip: &StripId| {
        let mut keepers = keepers().filter(|(_, (_, want))| want.names(stock, *strip));
        let first = keepers.next()?;
        let covers = |(_, (_, want)): (usize, &(&WantKey, Want))| want.covers(course);
        (!covers(first) && !keepers.any(covers)).then_some(first)
    };
    let free = left.iter().filter(|strip| keeper(strip).is_none()).count();
    let first = left.iter().find_map(keeper);
    if let Some((j, (other, _))) = first.filter(|_| free < course.sides().len()) {
        if told.contains(&(i, j)) {
            return;
        }
        let wrong = format!(
            "asks for wood on {} course {} that \"{}\" keeps for itself",
            key.panel,
            course.name(),
            other.want.name
        );
        let mend = format!(
            "Write keep = false in \"{}\", or name other wood here.",
            other.want.name
        );
        found.complain(key.complaint("name", wrong, mend));
        told.push((i, j));
    }
}

/// What is glued on stays, whatever is wanted: said, so that nobody wonders.
pub(super) fn warn_of_laid(job: &Job, found: &mut Found) {
    for want in &job.wants {
        for piece in &job.laid {
            let course = job.hull.course(piece.course);
            let against = match want.covers(course) {
                true => !want.allows(&job.stock, piece.strip, piece.side),
                false => {
                    want.keep
                        && want.names(&job.stock, piece.strip)
                        && kept_off(job, piece.strip, course)
                }
            };
            if against {
                let strip = &job.stock.strip(piece.strip).name;
                let panel = &job.hull.panel(course.panel).name;
                let side = match piece.side {
                    Side::Centre => String::new(),
                    side => format!(", {}", side.name()),
                };
                let wrong = format!(
                    "is not met on {panel} course {}{side}, where strip {strip} is laid already",
                    course.name()
                );
                let mend = "What is laid stays; the want holds for what is still to be laid.";
                let warning = Complaint::of(FILE, wrong, mend).under("want.name");
                found.warn(warning.showing(want.name.as_str()));
            }
        }
    }
}

/// Whether no want that keeps a strip has it for this course.
fn kept_off(job: &Job, strip: StripId, course: &Course) -> bool {
    let mut keepers = job
        .wants
        .iter()
        .filter(|want| want.keep && want.names(&job.stock, strip));
    !keepers.any(|want| want.covers(course))
}
