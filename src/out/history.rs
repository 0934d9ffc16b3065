//! Earlier plans, kept by number in `out/earlier/`.

use super::Fault;
use crate::disk;
use std::path::{Path, PathBuf};

/// What is kept of a plan: enough to take it up again, and to see what it was worth.
const KEPT: [&str; 2] = ["laying-order.csv", "plan.json"];

/// The laying order of an earlier plan, as named inside the job folder.
pub fn earlier_laying_order(number: u32) -> String {
    format!("{}/laying-order.csv", earlier_folder(number))
}

/// The plan.json of an earlier plan, as named inside the job folder.
pub(super) fn earlier_plan_json(number: u32) -> String {
    format!("{}/plan.json", earlier_folder(number))
}

fn earlier_folder(number: u32) -> String {
    format!("out/earlier/plan-{number}")
}

/// The number of the plan in force: what plan.json says, or a higher one where that number is taken by another plan
/// already, as it is when the power failed between two files of a new plan. `None` where there is no plan.
pub fn number_in_force(dir: &Path) -> Option<u32> {
    let now = disk::read(&dir.join("out/laying-order.csv")).ok()?;
    let told = super::told(dir).ok().flatten();
    let told = told.map_or(1, |told| told.again.number);
    (told..).find(|number| {
        let kept = disk::read(&dir.join(earlier_laying_order(*number)));
        kept.map_or(true, |kept| kept == now)
    })
}

/// Keeps the plan in force under its number, where that has not been done before.
///
/// Errors: the disk can't be written to, or the plan can't be read.
pub fn keep(dir: &Path, number: u32) -> Result<(), Fault> {
    let mut files = Vec::new();
    for name in KEPT {
        let path = dir.join("out").join(name);
        match disk::read(&path) {
            Ok(bytes) => files.push((name, bytes)),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
            Err(error) => return Err(Fault::refused(path, error)),
        }
    }
    let folder = disk::folder(dir, &PathBuf::from(earlier_folder(number)))?;
    disk::write_all(&folder, &files)
}
