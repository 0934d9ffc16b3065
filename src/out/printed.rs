//! What is printed on paper, and out/labels-printed.csv: which labels were printed last, so that later only those that have
//! changed need be.

use super::{Fault, plan_sha256};
use crate::disk::write_all;
use crate::job::Job;
use crate::plan::Plan;
use std::collections::BTreeSet;
use std::fs;
use std::io::ErrorKind;
use std::path::Path;

const OUT: &str = "out";
const FILE: &str = "out/labels-printed.csv";

/// The file's name in `out/`.
pub const LABELS_PRINTED: &str = "labels-printed.csv";

const HEADER: [&str; 3] = ["strip", "mark", "says"];

/// A label that was printed: the strip, the mark, and everything else that it says.
pub type PrintedLabel = [String; 3];

/// A short digest of a plan: the first eight figures of the SHA-256 of its laying order as it is written.
///
/// Errors: the csv writer failed, which is a bug.
pub fn plan_digest(job: &Job, plan: &Plan) -> Result<String, Fault> {
    let mut digest = plan_sha256(job, plan)?;
    digest.truncate(8);
    Ok(digest)
}

/// Writes files for the printer into `out/` of the job folder, all or none.
///
/// Errors: the first that could not be written.
pub fn write_paper(dir: &Path, files: &[(&str, Vec<u8>)]) -> Result<(), Fault> {
    let out = dir.join(OUT);
    fs::create_dir_all(&out).map_err(|error| Fault::refused(&out, error))?;
    write_all(&out, files)
}

/// The bytes of out/labels-printed.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn labels_printed(labels: &[PrintedLabel]) -> Result<Vec<u8>, Fault> {
    let wrong = |error: &dyn std::fmt::Display| Fault::Format {
        file: FILE,
        why: error.to_string(),
    };
    let mut sheet = csv::Writer::from_writer(Vec::new());
    sheet.write_record(HEADER).map_err(|error| wrong(&error))?;
    for label in labels {
        sheet.write_record(label).map_err(|error| wrong(&error))?;
    }
    sheet.into_inner().map_err(|error| wrong(&error))
}

/// The labels that were printed last; `None` where none were.
///
/// Errors: why the file could not be understood.
pub fn printed_before(dir: &Path) -> Result<Option<BTreeSet<PrintedLabel>>, String> {
    let bytes = match fs::read(dir.join(FILE)) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error.to_string()),
    };
    let mut sheet = csv::Reader::from_reader(bytes.as_slice());
    let rows = sheet.records().map(|row| {
        let row = row.map_err(|error| error.to_string())?;
        let cell = |n: usize| row.get(n).unwrap_or_default().to_owned();
        Ok([cell(0), cell(1), cell(2)])
    });
    rows.collect::<Result<BTreeSet<PrintedLabel>, String>>()
        .map(Some)
}
