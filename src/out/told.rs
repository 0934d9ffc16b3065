//! What out/plan.json says of the plan beside it, read back.

use super::history::earlier_plan_json;
use super::plan_json::{Again, Total};
use crate::disk;
use crate::job::Digest;
use serde::Deserialize;
use std::io::ErrorKind;
use std::path::Path;

/// What a plan.json tells of its plan; the rest of the file is not read.
#[derive(Clone, PartialEq, Debug, Deserialize)]
pub struct PlanRecord {
    /// Where it stands among the plans of its boat.
    #[serde(flatten)]
    pub again: Again,
    /// The files that the plan was made from.
    pub inputs: Vec<Digest>,
    /// The cost it states.
    pub cost: Total,
    /// The courses it leaves out.
    pub uncovered: Vec<Left>,
}

/// A course left out, as it stands in plan.json.
#[derive(Clone, PartialEq, Eq, Debug, Deserialize)]
pub struct Left {
    /// The panel's name.
    pub panel: String,
    /// The number of the course's band in it.
    pub course: u32,
    /// The letter of its stretch, where the band is cut.
    #[serde(default)]
    pub stretch: Option<char>,
}

/// Reads what the plan.json of a job folder says; `None` where there is no such file.
///
/// Errors: why it could not be understood.
pub fn told(dir: &Path) -> Result<Option<PlanRecord>, String> {
    read(&dir.join("out/plan.json"))
}

/// The same of an earlier plan that is kept under its number.
///
/// Errors: why it could not be understood.
pub fn told_earlier(dir: &Path, number: u32) -> Result<Option<PlanRecord>, String> {
    read(&dir.join(earlier_plan_json(number)))
}

fn read(path: &Path) -> Result<Option<PlanRecord>, String> {
    match disk::read(path) {
        Ok(bytes) => serde_json::from_slice(&bytes)
            .map(Some)
            .map_err(|error| error.to_string()),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error.to_string()),
    }
}
