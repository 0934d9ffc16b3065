//! A job folder, read whole: every file, every complaint.

use super::complaint::{Complaint, Found};
use super::log::{self, Log};
use super::rack::{Against, Size};
use super::shape::{self, Shape};
use super::stationery::Stationery;
use super::{Job, boards, courses, forms, keys, offsets, rack, spreadsheet, strips, wants, zones};
use crate::disk;
use crate::hull::{Hull, Panel};
use crate::stock::Stock;
use sha2::{Digest as _, Sha256};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::Path;

/// A file that was read, and what it was.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Digest {
    /// Its name inside the job folder.
    pub file: String,
    /// SHA-256 of its bytes, in lower-case hexadecimal.
    pub sha256: String,
}

/// A job as it was read, and what somebody should look at.
#[derive(Clone, PartialEq, Debug)]
pub struct Reading {
    /// The job.
    pub job: Job,
    /// What is odd but can be read, sorted by file and line.
    pub warnings: Vec<Complaint>,
    /// The files that the job was read from, by name. The log is not among them: it grows while the plan stays in force.
    pub digests: Vec<Digest>,
    /// What it is printed on.
    pub stationery: Stationery,
    /// The rack as boards.csv and strips.csv have it, before anything happened.
    pub inventory: Stock,
    /// What has happened in the shop; `None` where there is no log.
    pub log: Option<Log>,
}

/// Reads a job folder: boat.toml, forms.csv and offsets.csv or courses.csv, boards.csv or strips.csv or both, and log.csv where
/// there is one. The rack is then what is left of it, and what is laid is laid.
///
/// Errors: everything that is wrong with all of its files, sorted by file and line.
pub fn read(dir: &Path) -> Result<Reading, Vec<Complaint>> {
    let mut found = Found::default();
    let mut digests = Vec::new();
    if let Some(complaint) = not_a_folder(dir) {
        return Err(vec![complaint]);
    }
    let job = files(dir, &mut digests, &mut found);
    let both = job.filter(|_| found.complaints.is_empty());
    let both = both.map(|(mut job, stationery)| {
        let log = logged(dir, &job, &mut found);
        let inventory = job.stock.clone();
        if let Some(log) = log.as_ref().filter(|_| found.complaints.is_empty()) {
            (job.stock, job.laid) = log.standing.wood_and_laid(job.rules.allow.saw);
            wants::warn_of_laid(&job, &mut found);
        }
        (job, stationery, inventory, log)
    });
    let (complaints, warnings) = found.told();
    match both {
        Some((job, stationery, inventory, log)) if complaints.is_empty() => Ok(Reading {
            job,
            warnings,
            digests,
            stationery,
            inventory,
            log,
        }),
        _ => Err(complaints),
    }
}

/// The log of a job, replayed; pieces that it says are laid as planned are looked up in the plan.
fn logged(dir: &Path, job: &Job, found: &mut Found) -> Option<Log> {
    let path = dir.join(log::FILE);
    if fs::symlink_metadata(&path).is_ok_and(|there| there.is_symlink()) {
        found.complaints.push(Complaint::of(
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
                found.complaints.push(Complaint::of(
                    name,
                    "is a spreadsheet, and the log can't be one: every command adds a line to it",
                    "Save it as log.csv, and take this file out of the folder.",
                ));
            }
            return None;
        }
        Err(error) => {
            found.complaints.push(unreadable(log::FILE, &error));
            return None;
        }
    };
    let mut read = log::read(&bytes, &job.hull, &job.stock, job.unit, found)?;
    log::settle(&mut read, dir, job, found);
    // A log in which nothing stands yet is none.
    (!read.entries.is_empty()).then_some(read)
}

fn files(dir: &Path, digests: &mut Vec<Digest>, found: &mut Found) -> Option<(Job, Stationery)> {
    let shape = shape::read(dir, digests, found);
    let against = against(&shape);
    let stock = rack::read(dir, &against, digests, found);
    let hull = hull(&shape, found);
    let all_there = shape.all;
    let boat = shape.boat?;
    let wants = match (&boat.wants, &hull) {
        (Some(keys), Some(hull)) if all_there => wants::settle(keys, hull, stock.as_ref(), found),
        _ => Vec::new(),
    };
    let stationery = boat.stationery?;
    let job = Job {
        name: boat.name?,
        unit: boat.unit?,
        hull: hull?,
        stock: stock?,
        rules: boat.rules?,
        weights: boat.weights?,
        wants,
        laid: Vec::new(),
        earlier: None,
    };
    Some((job, stationery))
}

/// What the sheets of the rack are read against.
pub(super) fn against(shape: &Shape) -> Against {
    // A course whose row could not be read must not make a zone look empty.
    let all_courses = shape.courses.as_deref().filter(|_| shape.all);
    let rules = shape.boat.as_ref().and_then(|boat| boat.rules);
    Against {
        unit: shape.unit(),
        size: rules.map(|rules| Size {
            width: rules.width,
            thickness: rules.thickness,
        }),
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

pub(super) fn not_a_folder(dir: &Path) -> Option<Complaint> {
    let name = dir.display().to_string();
    match fs::metadata(dir) {
        Ok(there) if there.is_dir() => None,
        Ok(_) => Some(Complaint::of(
            name,
            "the path leads to a file, not a folder",
            "Name the folder that has boat.toml in it.",
        )),
        Err(error) if error.kind() == ErrorKind::NotFound => Some(Complaint::of(
            name,
            "there is no such folder",
            "Name the folder that has boat.toml in it.",
        )),
        Err(error) => Some(Complaint::of(
            name,
            format!("the folder can't be opened: {error}"),
            "Look at its permissions.",
        )),
    }
}

/// Whether a file of the job is there, readable or not; a sheet may be a spreadsheet instead.
pub(super) fn is_there(dir: &Path, file: &str) -> bool {
    !all_named(dir, file).is_empty()
}

/// Which files of a job are in a folder that one is to be begun in.
pub fn files_there(dir: &Path) -> Vec<String> {
    let sheets = [
        forms::FILE,
        offsets::FILE,
        courses::FILE,
        boards::FILE,
        strips::FILE,
        log::FILE,
    ];
    let all = [keys::FILE].into_iter().chain(sheets);
    all.flat_map(|file| all_named(dir, file)).collect()
}

/// A file of the job, and the spreadsheets in place of a sheet, as far as they are there.
fn all_named(dir: &Path, file: &str) -> Vec<String> {
    let mut names = vec![file.to_owned()];
    if let Some(stem) = file.strip_suffix(".csv") {
        names.extend(spreadsheet::ENDINGS.map(|ending| format!("{stem}.{ending}")));
    }
    names.retain(|name| fs::symlink_metadata(dir.join(name)).is_ok());
    names
}

/// Reads the bytes of a file of the job and keeps their digest. A spreadsheet gives the bytes that it would have as CSV.
pub(super) fn input(
    dir: &Path,
    file: &str,
    digests: &mut Vec<Digest>,
    found: &mut Found,
) -> Option<Vec<u8>> {
    let there = all_named(dir, file);
    if let [first, .., last] = there.as_slice() {
        found.complaints.push(Complaint::of(
            first,
            format!("is there, and so is {last}: no telling which of them counts"),
            "Keep one of them in the folder.",
        ));
        return None;
    }
    let name = there.first().map_or(file, String::as_str);
    match disk::read(&dir.join(name)) {
        Ok(bytes) => {
            digests.push(Digest {
                file: name.into(),
                sha256: format!("{:x}", Sha256::digest(&bytes)),
            });
            if name == file {
                return Some(bytes);
            }
            match spreadsheet::read(name, &bytes) {
                Ok((bytes, spreadsheet)) => {
                    found.spreadsheets.insert(file.to_owned(), spreadsheet);
                    Some(bytes)
                }
                Err((wrong, mend)) => {
                    found.complaints.push(Complaint::of(name, wrong, mend));
                    None
                }
            }
        }
        Err(error) if error.kind() == ErrorKind::NotFound => {
            found.complaints.push(Complaint::of(
                file,
                "the file is not there",
                "Write it as docs/formats.md says; demo-stock has an example.",
            ));
            None
        }
        Err(error) => {
            found.complaints.push(unreadable(name, &error));
            None
        }
    }
}

/// The files of a job that are not what they were when they were read.
pub fn changed_since<'d>(dir: &Path, digests: &'d [Digest]) -> Vec<&'d str> {
    let is_same = |digest: &&Digest| {
        let now = disk::read(&dir.join(&digest.file));
        now.is_ok_and(|bytes| format!("{:x}", Sha256::digest(&bytes)) == digest.sha256)
    };
    let changed = digests.iter().filter(|digest| !is_same(digest));
    changed.map(|digest| digest.file.as_str()).collect()
}

/// A complaint about a file that is there and can't be read.
pub(super) fn unreadable(file: &str, error: &io::Error) -> Complaint {
    let why = match error.kind() {
        ErrorKind::IsADirectory => "it is a folder".into(),
        ErrorKind::PermissionDenied => "you may not read it".into(),
        _ => error.to_string(),
    };
    Complaint::of(
        file,
        format!("the file can't be read: {why}"),
        "Look whether it is a file, and at its permissions.",
    )
}
