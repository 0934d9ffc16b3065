//! A file of the job saved: where it is still the version that was changed, and the job can be read with it.

use super::versions::{OnDisk, keep};
use super::{Shown, editor, file, keys};
use crate::cli::bench::guard::SHEET;
use crate::cli::bench::plan::not_written;
use crate::cli::bench::refused::{self, Answer};
use crate::cli::bench::seen::Watched;
use crate::cli::bench::visit::{Visit, to};
use crate::cli::{opened, say};
use axum::http::StatusCode;
use axum::response::IntoResponse;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;
use std::{fs, io};
use twinstrake::disk;
use twinstrake::job::{self, Complaint};
use twinstrake::log::Book;
use twinstrake::out::{self, Fault};

/// Which photograph shows which slices.
const PHOTOS: &str = "photos.csv";

/// What is sent to be saved.
#[derive(Deserialize, Default)]
#[serde(default)]
pub struct Sent {
    text: String,
    /// The version that whoever sends it has changed.
    digest: String,
    /// Whether it is to be saved with what is wrong in it: anything but nothing.
    force: String,
    /// How a file ends that was sent as it is: `csv`, `xlsx`, `ods` or `toml`.
    kind: String,
}

/// Why nothing was saved.
enum NotSaved {
    /// Another version is on the disk.
    Changed,
    /// This would be wrong with the job.
    Complaints(Vec<Complaint>),
    /// The disk did not take it.
    Fault(Fault),
}

/// Saves boat.toml with what was typed in the fields of its form.
pub fn save_keys(visit: &Visit, boat: &Arc<Watched>, typed: &BTreeMap<String, String>) -> Answer {
    let said = |name: &str| typed.get(name).cloned().unwrap_or_default();
    let there = OnDisk::of(&boat.dir, job::BY_HAND[0]);
    let text = match &there.bytes {
        Some(bytes) => {
            job::text(&there.name, bytes).map_err(|complaints| say::complaints(&complaints))
        }
        None => Ok(String::new()),
    };
    let text = text.and_then(|text| keys::with(&text, typed).map_err(|slip| slip.to_string()));
    let sent = Sent {
        text: text.map_err(|why| {
            let status = StatusCode::CONFLICT;
            refused::not_so(visit, &boat.now(), status, &why, "/files/0")
        })?,
        digest: said("digest"),
        force: said("force"),
        kind: String::new(),
    };
    save(visit, boat, 0, &sent)
}

/// Saves what was edited.
pub fn save(visit: &Visit, boat: &Arc<Watched>, number: usize, sent: &Sent) -> Answer {
    let name = file(number).ok_or_else(|| refused::nothing_here(visit, &boat.now()))?;
    let text = sent.text.replace("\r\n", "\n");
    let text = text.strip_prefix('\n').unwrap_or(&text);
    let (is_changed, complaints) = match put(&boat.dir, name, name, text.as_bytes(), sent) {
        Ok(()) => return Ok(to(&format!("/files/{number}?saved=yes"))),
        Err(NotSaved::Fault(fault)) => {
            let back = format!("/files/{number}");
            return Err(not_written(visit, boat, &fault, &back));
        }
        Err(NotSaved::Changed) => (true, Vec::new()),
        Err(NotSaved::Complaints(complaints)) => (false, complaints),
    };
    let status = match is_changed {
        true => StatusCode::CONFLICT,
        false => StatusCode::UNPROCESSABLE_ENTITY,
    };
    let shown = Shown {
        text: Some(text.to_owned()),
        complaints,
        is_changed,
        is_saved: false,
    };
    let page = editor(visit, &boat.now(), number, &shown)?;
    Ok((status, page).into_response())
}

/// Saves a file that was sent as it is; answers the script in words.
pub fn upload(
    visit: &Visit,
    boat: &Arc<Watched>,
    number: usize,
    sent: &Sent,
    bytes: &[u8],
) -> Answer {
    let file = file(number).ok_or_else(|| refused::nothing_here(visit, &boat.now()))?;
    let stem = file.split('.').next().unwrap_or_default();
    let name = format!("{stem}.{}", sent.kind);
    if name != file && !(file != job::BY_HAND[0] && job::is_spreadsheet(&name)) {
        let why = format!(
            "Only {file} can be put in its place, or a spreadsheet (.xlsx, .ods) for a sheet."
        );
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, why).into_response());
    }
    let (status, why) = match put(&boat.dir, file, &name, bytes, sent) {
        Ok(()) => (StatusCode::OK, "On the disk.".to_owned()),
        Err(NotSaved::Changed) => (
            StatusCode::CONFLICT,
            "Somebody else has changed the file since this page was shown. Nothing was written; look at it again."
                .to_owned(),
        ),
        Err(NotSaved::Complaints(all)) => (
            StatusCode::UNPROCESSABLE_ENTITY,
            format!("Nothing was written. This would be wrong with the job:\n{}", say::complaints(&all)),
        ),
        Err(NotSaved::Fault(fault)) => (
            StatusCode::SERVICE_UNAVAILABLE,
            say::plain(&say::unwritten(&fault)),
        ),
    };
    Ok((status, why).into_response())
}

/// Puts bytes in place of a file, where that is still the version that was changed, and the job can be read with it or
/// that does not matter.
fn put(dir: &Path, file: &str, name: &str, bytes: &[u8], sent: &Sent) -> Result<(), NotSaved> {
    if bytes.len() > SHEET {
        let wrong = "is larger than 1 MB";
        let mend = "Keep nothing in it but the rows of the job.";
        return Err(NotSaved::Complaints(vec![Complaint::of(name, wrong, mend)]));
    }
    let refused = |error: io::Error| NotSaved::Fault(Fault::refused(dir.join(name), error));
    // Held to the end: nobody logs or writes a plan meanwhile.
    let _book = Book::open_if_there(dir).map_err(NotSaved::Fault)?;
    let there = OnDisk::of(dir, file);
    if there.digest() != sent.digest {
        return Err(NotSaved::Changed);
    }
    if sent.force.is_empty() {
        let wrong = tried(dir, &there.name, file, name, bytes).map_err(refused)?;
        // What is wrong elsewhere, and was before, keeps nobody from filling a job file by file.
        let is_ours = |complaint: &Complaint| is_of(complaint, file, name);
        if wrong.iter().any(is_ours) || (!wrong.is_empty() && opened::judged(dir).is_ok()) {
            return Err(NotSaved::Complaints(wrong));
        }
    }
    keep(dir, file, &there).map_err(NotSaved::Fault)?;
    disk::write_whole(&dir.join(name), bytes).map_err(NotSaved::Fault)?;
    if there.name != name && there.bytes.is_some() {
        fs::remove_file(dir.join(&there.name)).map_err(refused)?;
    }
    Ok(())
}

/// Whether a complaint is about a file, or about the spreadsheet in its place.
pub fn is_of(complaint: &Complaint, file: &str, name: &str) -> bool {
    complaint.file == file || complaint.file.starts_with(name)
}

/// Reads the job as it would be, in a folder of its own; what would be wrong with it.
///
/// Errors: that folder could not be made.
fn tried(
    dir: &Path,
    before: &str,
    file: &str,
    name: &str,
    bytes: &[u8],
) -> io::Result<Vec<Complaint>> {
    let apart = tempfile::tempdir()?;
    for file in job::files_there(dir) {
        if file != before {
            fs::write(apart.path().join(&file), disk::read(&dir.join(&file))?)?;
        }
    }
    if let Ok(order) = disk::read(&dir.join(out::LAYING_ORDER)) {
        fs::create_dir(apart.path().join("out"))?;
        fs::write(apart.path().join(out::LAYING_ORDER), order)?;
    }
    fs::write(apart.path().join(name), bytes)?;
    let mut wrong = opened::judged(apart.path()).err().unwrap_or_default();
    // The planner asks nothing of it.
    if file == PHOTOS {
        let more = job::read_photos(apart.path()).err().unwrap_or_default();
        wrong.extend(more.into_iter().filter(|one| is_of(one, file, name)));
    }
    Ok(wrong)
}
