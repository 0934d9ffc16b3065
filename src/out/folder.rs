//! The folder `out/` of a job: all files of one plan together.

use super::{
    Fault, Made, bevels_csv, courses_csv, ends_csv, form_marks_csv, laying_order, offsets_csv,
    plan_json,
};
use crate::disk::{self, temporary, write_all};
use crate::job::{Job, Lines};
use crate::plan::Plan;
use std::path::Path;

pub(super) const OUT: &str = "out";

/// The laying order, as named inside the job folder.
pub const LAYING_ORDER: &str = "out/laying-order.csv";

/// The files of a plan, as named inside the job folder.
pub const FILES: [&str; 7] = [
    "out/laying-order.csv",
    "out/form-marks.csv",
    "out/plan.json",
    "out/planking.svg",
    "out/wood.svg",
    "out/seams.svg",
    "out/report.html",
];

/// Whether the plan of this job folder could be written: asked before the search, which takes its time.
///
/// Errors: why not. Nothing is left behind.
pub fn can_write(dir: &Path) -> Result<(), Fault> {
    let out = disk::no_link_to(dir, Path::new(OUT))?;
    let there = if out.exists() { &out } else { dir };
    temporary(there)
        .map(drop)
        .map_err(|error| Fault::refused(&out, error))
}

/// Ends the writing of a plan that was cut short, by a power cut or otherwise, so that whoever opens the files in
/// `out/` finds them of one plan. This program reads them so anyway.
///
/// Errors: that can't be, because the disk can't be written to.
pub fn finish(dir: &Path) -> Result<(), Fault> {
    disk::finish(&dir.join(OUT))
}

/// Writes all files of a plan into `out/` of the job folder: the laying order, the form marks, plan.json, and what
/// shows them, by name.
///
/// Errors: the first file that could not be written, or put together. The old files are then as they were.
pub fn write(
    dir: &Path,
    job: &Job,
    plan: &Plan,
    made: &Made,
    shown: Vec<(&'static str, Vec<u8>)>,
) -> Result<(), Fault> {
    let mut files = shown;
    files.push(("laying-order.csv", laying_order(job, plan)?));
    files.push(("form-marks.csv", form_marks_csv(job, plan)?));
    files.push(("plan.json", plan_json(job, plan, made)?));
    write_files(dir, &files)
}

/// The files of [`write_lines`], as named inside the job folder.
pub const LINES_FILES: [&str; 3] = ["out/courses.csv", "out/ends.csv", "out/bevels.csv"];

/// The drawing of the lines and the shape to be turned, as named inside the job folder: where there are offsets.
pub const DRAWN_LINES: [&str; 3] = ["out/lines.svg", "out/lines.pdf", "out/lines.html"];

/// The points of offsets.csv one by one, as named inside the job folder.
pub const OFFSETS_FILE: &str = "out/offsets.csv";

/// Writes what was worked out from forms and offsets into `out/` of the job folder, with what shows it, by name; with
/// `points`, the points of the sections one by one as well.
///
/// Errors: as for [`write()`].
pub fn write_lines(
    dir: &Path,
    lines: &Lines,
    points: bool,
    shown: Vec<(&'static str, Vec<u8>)>,
) -> Result<(), Fault> {
    let mut files = shown;
    files.extend([
        ("courses.csv", courses_csv(lines)?),
        ("ends.csv", ends_csv(lines)?),
        ("bevels.csv", bevels_csv(lines)?),
    ]);
    if points {
        files.push(("offsets.csv", offsets_csv(lines)?));
    }
    write_files(dir, &files)
}

/// The file of [`write_need`], as named inside the job folder.
pub const NEED_FILE: &str = "out/need.csv";

/// Writes the table to take to the yard into `out/` of the job folder.
///
/// Errors: as for [`write()`].
pub fn write_need(dir: &Path, bytes: Vec<u8>) -> Result<(), Fault> {
    write_files(dir, &[("need.csv", bytes)])
}

/// Writes the files of a fresh job into its folder, which is made where it is not there; all of them or none.
///
/// Errors: as for [`write()`].
pub fn begin(dir: &Path, files: &[(&str, Vec<u8>)]) -> Result<(), Fault> {
    std::fs::create_dir_all(dir).map_err(|error| Fault::refused(dir, error))?;
    disk::write_all(dir, files)
}

/// Writes files into `out/` of the job folder, all or none.
///
/// Errors: as for [`write()`].
pub fn write_files(dir: &Path, files: &[(&str, Vec<u8>)]) -> Result<(), Fault> {
    write_all(&disk::folder(dir, Path::new(OUT))?, files)
}
