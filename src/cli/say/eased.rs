//! Rules, demands and eases in the builder's words.

use super::courses::courses;
use super::many;
use super::shortage::at_least;
use twinstrake::hull::{CourseId, PanelId, Zone};
use twinstrake::job::Job;
use twinstrake::units::Length;
use twinstrake::why::{Demand, Relaxed};

/// What is tried at this moment.
pub fn trying(job: &Job, relaxed: Option<&Relaxed>) -> String {
    match relaxed {
        None => "the plan as it is, for a while longer".into(),
        Some(relaxed) => eased(job, relaxed),
    }
}

/// The demands that are tried at this moment.
pub fn demanding(job: &Job, demands: &[Demand]) -> String {
    let (rules, courses) = parted(demands);
    let of = many(courses.len(), "course", "courses");
    match rules.len() {
        0 => format!("{of}, with no rule that could be dropped"),
        _ => {
            let rules: Vec<String> = rules.iter().map(|rule| demand(job, *rule)).collect();
            format!("{of}: {}", rules.join("; "))
        }
    }
}

/// An ease, as what there would be: `no zone "rowlocks" (topside courses 1 to 4)`.
pub fn eased(job: &Job, relaxed: &Relaxed) -> String {
    let joints = &job.rules.joints;
    match relaxed {
        Relaxed::NoZone(zone) => match job.hull.keep_clear.get(*zone) {
            Some(zone) => format!("no {}", zone_of(job, zone)),
            None => "no zone".into(),
        },
        Relaxed::NoWant(want) => format!("no {}", want_of(job, *want)),
        Relaxed::Clear(Length::ZERO) => "joints as near each other as they like".into(),
        Relaxed::Clear(clear) => format!(
            "joints {} apart instead of {}",
            job.unit.shop(*clear),
            job.unit.shop(joints.clear)
        ),
        Relaxed::OneMoreJoint => {
            format!(
                "{} in a course instead of {}",
                many(joints.most as usize + 1, "joint", "joints"),
                joints.most
            )
        }
        Relaxed::MorePairs(more) => format!(
            "{} of {}, in colour like {}",
            many(more.pairs, "more pair", "more pairs"),
            at_least(job.unit, more.length),
            job.stock.strip(more.like).name
        ),
    }
}

/// A demand as a builder would put it.
pub fn demand(job: &Job, demand: Demand) -> String {
    let rules = &job.rules;
    match demand {
        Demand::Zone(zone) => match job.hull.keep_clear.get(zone) {
            Some(zone) => format!("{} kept clear of joints", zone_of(job, zone)),
            None => "a zone kept clear of joints".into(),
        },
        Demand::Want(want) => match job.wants.get(want) {
            Some(named) => format!("{}: {}", want_of(job, want), named.named()),
            None => want_of(job, want),
        },
        Demand::Clear => format!(
            "joints of near courses {} apart",
            job.unit.shop(rules.joints.clear)
        ),
        Demand::Most => match rules.joints.most {
            0 => "no joint in a course".into(),
            most => format!(
                "{} in a course at most",
                many(most as usize, "joint", "joints")
            ),
        },
        Demand::ShortestPiece => format!(
            "no piece shorter than {}",
            job.unit.shop(rules.joints.shortest_piece)
        ),
        Demand::Allowances => "allowances at the ends".into(),
        Demand::Defects => "defects cut out".into(),
        Demand::EndTrim => format!(
            "{} left at each end of a strip",
            job.unit.shop(rules.allow.end_trim)
        ),
        Demand::Course(id) => format!("{} covered", courses(&job.hull, &[id])),
    }
}

/// Rules, and courses.
pub fn parted(demands: &[Demand]) -> (Vec<Demand>, Vec<CourseId>) {
    let mut rules = Vec::new();
    let mut courses = Vec::new();
    for demand in demands {
        match demand {
            Demand::Course(id) => courses.push(*id),
            rule => rules.push(*rule),
        }
    }
    (rules, courses)
}

/// `want "accent line" (topside course 3)`.
pub fn want_of(job: &Job, want: usize) -> String {
    match job.wants.get(want) {
        Some(want) => {
            let of = stretch(job, want.panel, want.courses);
            format!("want \"{}\" ({of})", want.name)
        }
        None => "want".into(),
    }
}

/// `topside courses 1 to 4`, or the panel alone.
pub fn stretch(job: &Job, panel: PanelId, courses: Option<(u32, u32)>) -> String {
    let panel = &job.hull.panel(panel).name;
    match courses {
        None => panel.clone(),
        Some((first, last)) if first == last => format!("{panel} course {first}"),
        Some((first, last)) => format!("{panel} courses {first} to {last}"),
    }
}

/// `zone "rowlocks"`, or where it lies when it has no name.
pub fn zone_of(job: &Job, zone: &Zone) -> String {
    let of = stretch(job, zone.panel, zone.courses);
    match &zone.name {
        Some(name) => format!("zone \"{name}\" ({of})"),
        None => format!(
            "zone from {} to {} ({of})",
            job.unit.shop(zone.from.from_origin()),
            job.unit.shop(zone.to.from_origin())
        ),
    }
}
