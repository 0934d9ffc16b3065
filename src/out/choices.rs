//! Plans to choose from: a folder each in out/choices, with a picture, a laying order and a plan.json.

use super::history::earlier_plan_json;
use super::{Fault, Made, laying_order, plan_json};
use crate::disk;
use crate::job::Job;
use crate::plan::Plan;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Most plans to choose from at once.
pub const MOST: usize = 9;

/// The folder of one of the plans to choose from, inside the job folder.
pub fn choice_folder(number: usize) -> PathBuf {
    Path::new("out/choices").join(number.to_string())
}

/// Writes the plans to choose from, numbered from 1, each with how it was made and its picture. Older ones go.
///
/// Errors: the first file that could not be written, or put together.
pub fn offer(dir: &Path, job: &Job, all: &[(&Plan, Made, String)]) -> Result<(), Fault> {
    for number in 1..=MOST.max(all.len()) {
        let folder = disk::no_link_to(dir, &choice_folder(number))?;
        let Some((plan, made, drawing)) = all.get(number - 1) else {
            remove(&folder)?;
            continue;
        };
        let files = [
            ("planking.svg", drawing.as_bytes().to_vec()),
            ("laying-order.csv", laying_order(job, plan)?),
            ("plan.json", plan_json(job, plan, made)?),
        ];
        disk::write_all(&disk::folder(dir, &choice_folder(number))?, &files)?;
    }
    Ok(())
}

fn remove(folder: &Path) -> Result<(), Fault> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() != ErrorKind::NotFound => Err(Fault::refused(folder, error)),
        _ => Ok(()),
    }
}

/// Reads how a plan to choose was made.
///
/// Errors: why its plan.json could not be understood.
pub fn offered(dir: &Path, number: usize) -> Result<Made, String> {
    made_of(&dir.join(choice_folder(number)).join("plan.json"))
}

/// The same of an earlier plan that is kept under its number.
///
/// Errors: why its plan.json could not be understood.
pub fn made_earlier(dir: &Path, number: u32) -> Result<Made, String> {
    made_of(&dir.join(earlier_plan_json(number)))
}

fn made_of(file: &Path) -> Result<Made, String> {
    let bytes = disk::read(file).map_err(|error| error.to_string())?;
    serde_json::from_slice(&bytes).map_err(|error| error.to_string())
}
