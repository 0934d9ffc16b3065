//! Plans to choose from: a folder each in out/choices, with a picture, a laying order and a plan.json.

use super::history::earlier_plan_json;
use super::plan_json::{Input, Short};
use super::{Again, Fault, Made, laying_order, plan_json};
use crate::disk;
use crate::job::{Digest, Job};
use crate::plan::{Cost, Plan};
use serde::Deserialize;
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
pub fn offer(dir: &Path, job: &Job, all: &[(&Plan, Made<'_>, String)]) -> Result<(), Fault> {
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

/// How a plan was made, as its plan.json tells.
#[derive(Clone, PartialEq, Debug, Deserialize)]
pub struct Offered {
    inputs: Vec<Input>,
    /// The seed.
    pub seed: u64,
    /// Rounds done.
    pub rounds: u64,
    /// The ceiling on the time that was asked for. Unit: seconds.
    pub seconds: Option<f64>,
    /// Why the search ended, in a word.
    pub ended: String,
    /// A proven lower bound on the total. Unit: ΔE00·metre.
    pub bound: Option<f64>,
    /// The same for plans without joints alone, where joints are allowed.
    #[serde(default)]
    pub bound_without_joints: Option<f64>,
    /// How `bound` was found, or why there is none.
    pub bound_reason: String,
    /// What is missing, where it leaves courses out.
    #[serde(default)]
    pub shortage: Option<Short>,
}

impl Offered {
    /// The same plan, written anew: from these files, at this cost, at that place among the plans of its boat.
    pub fn made<'a>(&'a self, digests: &'a [Digest], cost: Cost, again: Again) -> Made<'a> {
        Made {
            digests,
            seed: self.seed,
            rounds: self.rounds,
            seconds: self.seconds,
            ended: &self.ended,
            cost,
            bound: self.bound,
            bound_without_joints: self.bound_without_joints,
            bound_reason: &self.bound_reason,
            again,
            shortage: self.shortage.as_ref(),
        }
    }

    /// The files of the job that are not what they were when the plan was laid.
    pub fn changed<'d>(&self, now: &'d [Digest]) -> Vec<&'d str> {
        let same = |digest: &&Digest| {
            let then = self.inputs.iter().find(|input| input.file == digest.file);
            then.is_some_and(|then| then.sha256 == digest.sha256)
        };
        let changed = now.iter().filter(|digest| !same(digest));
        changed.map(|digest| digest.file.as_str()).collect()
    }
}

/// Reads how a plan to choose was made.
///
/// Errors: why its plan.json could not be understood.
pub fn offered(dir: &Path, number: usize) -> Result<Offered, String> {
    made_of(&dir.join(choice_folder(number)).join("plan.json"))
}

/// The same of an earlier plan that is kept under its number.
///
/// Errors: why its plan.json could not be understood.
pub fn made_earlier(dir: &Path, number: u32) -> Result<Offered, String> {
    made_of(&dir.join(earlier_plan_json(number)))
}

fn made_of(file: &Path) -> Result<Offered, String> {
    let bytes = disk::read(file).map_err(|error| error.to_string())?;
    serde_json::from_slice(&bytes).map_err(|error| error.to_string())
}
