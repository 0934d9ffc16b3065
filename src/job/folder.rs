//! A job folder, read whole: every file, every complaint.

use super::complaint::{Complaint, Found, in_order};
use super::log::{self, Log};
use super::strips::{Against, Size};
use super::{Job, boat, courses, keys, strips, zones};
use crate::hull::{Course, Hull, PanelId};
use crate::stock::Stock;
use sha2::{Digest as _, Sha256};
use std::fs;
use std::io::ErrorKind;
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
    /// The rack as strips.csv has it, before anything happened.
    pub inventory: Stock,
    /// What has happened in the shop; `None` where there is no log.
    pub log: Option<Log>,
}

/// Reads a job folder: boat.toml, courses.csv, strips.csv, and log.csv where there is one. The rack is then what is left of
/// it, and what is laid is laid.
///
/// Errors: everything that is wrong with all of its files, sorted by file and line.
pub fn read(dir: &Path) -> Result<Reading, Vec<Complaint>> {
    let mut found = Found::default();
    let mut digests = Vec::new();
    if let Some(complaint) = not_a_folder(dir) {
        return Err(vec![complaint]);
    }
    refuse_what_comes_later(dir, &mut found);
    let job = files(dir, &mut digests, &mut found);
    let both = job.filter(|_| found.complaints.is_empty()).map(|job| {
        let log = logged(dir, &job, &mut found);
        (job, log)
    });
    match both {
        Some((mut job, log)) if found.complaints.is_empty() => {
            let inventory = job.stock.clone();
            if let Some(log) = &log {
                (job.stock, job.laid) = log.standing.wood_and_laid();
            }
            Ok(Reading {
                job,
                warnings: in_order(found.warnings),
                digests,
                inventory,
                log,
            })
        }
        _ => Err(in_order(found.complaints)),
    }
}

/// The log of a job, replayed; pieces that it says are laid as planned are looked up in the plan.
fn logged(dir: &Path, job: &Job, found: &mut Found) -> Option<Log> {
    let bytes = match fs::read(dir.join(log::FILE)) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == ErrorKind::NotFound => return None,
        Err(error) => {
            found.complaints.push(Complaint::of(
                log::FILE,
                format!("the file can't be read: {error}"),
                "Look whether it is a file, and at its permissions.",
            ));
            return None;
        }
    };
    let mut read = log::read(&bytes, &job.hull, &job.stock, job.unit, found)?;
    log::settle(&mut read, dir, job, found);
    // A log in which nothing stands yet is none.
    (!read.entries.is_empty()).then_some(read)
}

fn files(dir: &Path, digests: &mut Vec<Digest>, found: &mut Found) -> Option<Job> {
    let boat = input(dir, keys::FILE, digests, found).and_then(|bytes| boat::read(&bytes, found));
    let unit = boat.as_ref().and_then(|boat| boat.unit).unwrap_or_default();
    let panels = boat.as_ref().and_then(|boat| boat.panels.as_deref());
    let names: Option<Vec<String>> =
        panels.map(|all| all.iter().map(|panel| panel.name.clone()).collect());

    let before = found.complaints.len();
    let courses = input(dir, courses::FILE, digests, found)
        .map(|bytes| courses::read(&bytes, names.as_deref(), unit, found));
    // A course whose row could not be read must not make a zone look empty.
    let all_courses = courses
        .as_deref()
        .filter(|_| found.complaints.len() == before);
    if let (Some(names), Some(courses)) = (&names, all_courses) {
        warn_of_bare_panels(names, courses, found);
    }

    let rules = boat.as_ref().and_then(|boat| boat.rules);
    let against = Against {
        unit,
        size: rules.map(|rules| Size {
            width: rules.width,
            thickness: rules.thickness,
        }),
        longest: all_courses.and_then(|all| all.iter().map(|course| course.length).max()),
    };
    let stock =
        input(dir, strips::FILE, digests, found).map(|bytes| strips::read(&bytes, &against, found));

    let all_courses = all_courses.map(<[Course]>::to_vec);
    let boat = boat?;
    let panels = boat.panels?;
    let keep_clear = zones::settle(
        boat.zones.keep_clear,
        &panels,
        all_courses.as_deref(),
        found,
    );
    let show = zones::settle(boat.zones.show, &panels, all_courses.as_deref(), found);
    Some(Job {
        name: boat.name?,
        unit: boat.unit?,
        hull: Hull {
            panels,
            courses: courses?,
            forms: Vec::new(),
            keep_clear: keep_clear.into_iter().map(|show| show.zone).collect(),
            show,
        },
        stock: stock?,
        rules: boat.rules?,
        weights: boat.weights?,
        laid: Vec::new(),
        earlier: None,
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

/// Reads the bytes of a file of the job and keeps their digest.
pub(super) fn input(
    dir: &Path,
    file: &str,
    digests: &mut Vec<Digest>,
    found: &mut Found,
) -> Option<Vec<u8>> {
    match fs::read(dir.join(file)) {
        Ok(bytes) => {
            digests.push(Digest {
                file: file.into(),
                sha256: format!("{:x}", Sha256::digest(&bytes)),
            });
            Some(bytes)
        }
        // Whoever has only forms.csv is told about that instead.
        Err(error)
            if error.kind() == ErrorKind::NotFound
                && file == courses::FILE
                && dir.join(FORMS).exists() =>
        {
            None
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
            found.complaints.push(Complaint::of(
                file,
                format!("the file can't be read: {error}"),
                "Look whether it is a file, and at its permissions.",
            ));
            None
        }
    }
}

const FORMS: &str = "forms.csv";

fn refuse_what_comes_later(dir: &Path, found: &mut Found) {
    if dir.join(FORMS).exists() {
        if dir.join(courses::FILE).exists() {
            found.warnings.push(Complaint::of(
                FORMS,
                "this version does not read forms, and goes by courses.csv alone",
                "Nothing to do.",
            ));
        } else {
            found.complaints.push(Complaint::of(
                FORMS,
                "this version does not read forms yet; a later one will",
                "Measure the courses and write courses.csv, as docs/formats.md says.",
            ));
        }
    }
}

fn warn_of_bare_panels(names: &[String], courses: &[Course], found: &mut Found) {
    for (place, name) in names.iter().enumerate() {
        if !courses.iter().any(|course| course.panel == PanelId(place)) {
            found.warnings.push(Complaint::of(
                courses::FILE,
                format!("panel \"{name}\" has no course"),
                "Write its courses, or take the panel out of boat.toml.",
            ));
        }
    }
}
