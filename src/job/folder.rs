//! A job folder, read whole: every file, every complaint.

use super::complaint::Complaint;
use super::files::{Digest, all_named, is_a_folder, unreadable};
use super::found::Found;
use super::log::{self, Log};
use super::measured::Pictured;
use super::rack::{Against, StripSize};
use super::shape::{self, Shape};
use super::stationery::Stationery;
use super::{BY_HAND, Bench, Job, rack, wants, zones};
use crate::disk;
use crate::hull::{Hull, Panel};
use crate::log::Entry;
use crate::stock::Stock;
use std::fs;
use std::io::ErrorKind;
use std::path::Path;

/// A job as it was read, and what somebody should look at.
#[derive(Clone, PartialEq, Debug)]
pub struct Reading {
    /// The job.
    pub job: Job,
    /// What is odd but can be read, sorted by file and line.
    pub warnings: Vec<Complaint>,
    /// The files that the job was read from, by name. The log is not among them: it grows while the plan stays in
    /// force.
    pub digests: Vec<Digest>,
    /// What it is printed on.
    pub stationery: Stationery,
    /// Pictures of strips that colours.csv names.
    pub pictured: Vec<Pictured>,
    /// What the bench asks of the courses besides.
    pub bench: Bench,
    /// The rack as boards.csv and strips.csv have it, before anything happened.
    pub inventory: Stock,
    /// What has happened in the shop; `None` where there is no log.
    pub log: Option<Log>,
}

impl Reading {
    /// What has happened in the shop, entry by entry.
    pub fn entries(&self) -> &[Entry] {
        self.log.as_ref().map_or(&[], |log| &log.entries)
    }
}

/// Reads a job folder: boat.toml, forms.csv and offsets.csv or courses.csv, boards.csv or strips.csv or both, and
/// colours.csv and log.csv where they are there. The rack is then what is left of it, and what is laid is laid.
///
/// Errors: everything that is wrong with all of its files, sorted by file and line.
pub fn read(dir: &Path) -> Result<Reading, Vec<Complaint>> {
    let mut found = Found::default();
    let mut digests = Vec::new();
    is_a_folder(dir)?;
    let job = files(dir, &mut digests, &mut found);
    let both = job.filter(|_| found.complaints.is_empty());
    let both = both.map(|(mut job, stationery, pictured, bench)| {
        let log = logged(dir, &job, &mut found);
        let inventory = job.stock.clone();
        if let Some(log) = log.as_ref().filter(|_| found.complaints.is_empty()) {
            (job.stock, job.laid) = log.standing.wood_and_laid(job.rules.allow.saw);
            wants::warn_of_laid(&job, &mut found);
        }
        (job, stationery, pictured, bench, inventory, log)
    });
    let ((job, stationery, pictured, bench, inventory, log), warnings) = found.whole(both)?;
    Ok(Reading {
        job,
        warnings,
        digests,
        stationery,
        pictured,
        bench,
        inventory,
        log,
    })
}

/// The log of a job, replayed; pieces that it says are laid as planned are looked up in the plan.
fn logged(dir: &Path, job: &Job, found: &mut Found) -> Option<Log> {
    let path = dir.join(log::FILE);
    if fs::symlink_metadata(&path).is_ok_and(|there| there.is_symlink()) {
        found.complain(Complaint::of(
            log::FILE,
            "the file is a link, and what is logged would be written wherever it leads",
            "Put the log itself into the folder of the job.",
        ));
        return None;
    }
    let bytes = match disk::read(&path) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == ErrorKind::NotFound => {
            if let Some(name) = all_named(dir, log::FILE).first() {
                found.complain(Complaint::of(
                    name,
                    "is a spreadsheet, and the log can't be one: every command adds a line to it",
                    "Save it as log.csv, and take this file out of the folder.",
                ));
            }
            return None;
        }
        Err(error) => {
            found.complain(unreadable(log::FILE, &error));
            return None;
        }
    };
    let mut read = log::read(&bytes, &job.hull, &job.stock, job.unit, found)?;
    log::settle(&mut read, dir, job, found);
    // A log in which nothing stands yet is none.
    (!read.entries.is_empty()).then_some(read)
}

fn files(
    dir: &Path,
    digests: &mut Vec<Digest>,
    found: &mut Found,
) -> Option<(Job, Stationery, Vec<Pictured>, Bench)> {
    let shape = shape::read(dir, digests, found);
    let against = against(&shape);
    let (stock, pictured) = rack::read(dir, &against, digests, found).unzip();
    let hull = hull(&shape, found);
    let all_there = shape.all;
    let boat = shape.boat?;
    let wants = match (&boat.wants, &hull) {
        (Some(keys), Some(hull)) if all_there => wants::settle(keys, hull, stock.as_ref(), found),
        _ => Vec::new(),
    };
    let stationery = boat.stationery?;
    let stock = stock?;
    let bench = Bench {
        laid: shape.lined.laid,
        gape: boat.gape?,
    };
    let job = Job {
        name: named(boat.name?, &stock),
        unit: boat.unit?,
        hull: hull?,
        stock,
        rules: boat.rules?,
        weights: boat.weights?,
        wants,
        laid: Vec::new(),
        earlier: None,
    };
    Some((job, stationery, pictured.unwrap_or_default(), bench))
}

/// The name of the job; where boards are planned with that are not sawn yet it says so, and with it everything that
/// bears it.
fn named(name: String, stock: &Stock) -> String {
    let boards = stock.promised();
    match boards.len() {
        0 => name,
        1 => format!("{name} (with board {}, not sawn yet)", boards[0]),
        2..=4 => format!("{name} (with boards {}, not sawn yet)", boards.join(", ")),
        many => format!("{name} (with {many} boards not sawn yet)"),
    }
}

/// What the sheets of the rack are read against.
pub(super) fn against(shape: &Shape) -> Against {
    // A course whose row could not be read must not make a zone look empty.
    let all_courses = shape.courses.as_deref().filter(|_| shape.all);
    let rules = shape.boat.as_ref().and_then(|boat| boat.rules);
    Against {
        unit: shape.unit(),
        size: rules.as_ref().map(StripSize::of),
        promised: shape
            .boat
            .as_ref()
            .filter(|boat| boat.promised)
            .and_then(|boat| boat.mill),
        longest: all_courses.and_then(|all| all.iter().map(|course| course.length).max()),
    }
}

/// The boat as the planner sees it.
pub(super) fn hull(shape: &Shape, found: &mut Found) -> Option<Hull> {
    let boat = shape.boat.as_ref()?;
    let keys = boat.panels.as_ref()?;
    let panels: Vec<Panel> = keys.iter().map(|keys| keys.panel.clone()).collect();
    let courses = shape.courses.as_deref().filter(|_| shape.all);
    let mut settle = |keys: &[zones::ZoneKey]| zones::settle(keys, &panels, courses, found);
    let keep_clear = settle(&boat.zones.keep_clear);
    let show = settle(&boat.zones.show);
    Some(Hull {
        panels,
        courses: shape.courses.clone()?,
        forms: shape.forms.forms.clone(),
        keep_clear: keep_clear.into_iter().map(|show| show.zone).collect(),
        show,
    })
}

/// Which files of a job are in a folder that one is to be begun in.
pub fn files_there(dir: &Path) -> Vec<String> {
    let all = BY_HAND.into_iter().chain([log::FILE]);
    all.flat_map(|file| all_named(dir, file)).collect()
}
