//! The files of a job folder: which are there, their bytes and digests, and what is said where one can't be read.

use super::complaint::Complaint;
use super::found::Found;
use super::spreadsheet;
use crate::disk;
use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::Path;

/// A file that was read, and what it was; also as it stands in plan.json.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Digest {
    /// Its name inside the job folder.
    pub file: String,
    /// SHA-256 of its bytes, in lower-case hexadecimal.
    pub sha256: String,
}

/// Errors: a complaint where there is no folder of a job to read.
pub(super) fn is_a_folder(dir: &Path) -> Result<(), Vec<Complaint>> {
    let mend = "Name the folder that has boat.toml in it.";
    let (wrong, mend) = match fs::metadata(dir) {
        Ok(there) if there.is_dir() => return Ok(()),
        Ok(_) => ("the path leads to a file, not a folder".into(), mend),
        Err(error) if error.kind() == ErrorKind::NotFound => {
            ("there is no such folder".into(), mend)
        }
        Err(error) => (
            format!("the folder can't be opened: {error}"),
            "Look at its permissions.",
        ),
    };
    let name = dir.display().to_string();
    Err(vec![Complaint::of(name, wrong, mend)])
}

/// Whether a file of the job is there, readable or not; a sheet may be a spreadsheet instead.
pub(super) fn is_there(dir: &Path, file: &str) -> bool {
    !all_named(dir, file).is_empty()
}

/// A file of the job, and the spreadsheets in place of a sheet, as far as they are there.
pub(super) fn all_named(dir: &Path, file: &str) -> Vec<String> {
    let mut names = vec![file.to_owned()];
    if let Some(stem) = file.strip_suffix(".csv") {
        names.extend(spreadsheet::ENDINGS.map(|ending| format!("{stem}.{ending}")));
    }
    names.retain(|name| fs::symlink_metadata(dir.join(name)).is_ok());
    names
}

/// The spreadsheets in place of a sheet, as far as they are there.
pub(super) fn others_named(dir: &Path, file: &str) -> Vec<String> {
    let mut names = all_named(dir, file);
    names.retain(|name| name != file);
    names
}

/// Reads the bytes of a file of the job and keeps their digest. A spreadsheet gives the bytes that it would have as
/// CSV.
pub(super) fn input(
    dir: &Path,
    file: &str,
    digests: &mut Vec<Digest>,
    found: &mut Found,
) -> Option<Vec<u8>> {
    let there = all_named(dir, file);
    if let [first, .., last] = there.as_slice() {
        found.complain(Complaint::of(
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
                    found.complain(Complaint::of(name, wrong, mend));
                    None
                }
            }
        }
        Err(error) if error.kind() == ErrorKind::NotFound => {
            found.complain(Complaint::of(
                file,
                "the file is not there",
                "Write it as docs/formats.md says; demo-stock has an example.",
            ));
            None
        }
        Err(error) => {
            found.complain(unreadable(name, &error));
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
