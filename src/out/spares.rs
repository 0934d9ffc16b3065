//! out/spares.csv: what happens if a strip is lost.

use super::folder::OUT;
use super::{Fault, LAYING_ORDER, sheet};
use crate::disk;
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use std::path::Path;

const FILE: &str = "out/spares.csv";
const HEADER: [&str; 9] = [
    "strip",
    "effect",
    "worse",
    "labels",
    "replacement",
    "open",
    "proven",
    "plan",
    "search",
];
/// What stands under `effect` where a course would stay open.
const NO_SPARE: &str = "no spare";

/// Whether there is no replacement, or none was found.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Proven {
    /// There is none.
    Yes,
    /// None was found, and that proves nothing.
    No,
}

impl Proven {
    /// The word written in the file.
    pub const fn name(self) -> &'static str {
        match self {
            Proven::Yes => "yes",
            Proven::No => "no",
        }
    }
}

/// A row of it, in the names of the job.
#[derive(Clone, PartialEq, Debug)]
pub struct Spare {
    /// The strip that is lost.
    pub strip: String,
    /// `none`, `worse` or `no spare`.
    pub effect: &'static str,
    /// By how much the cost rises; `None` where a course stays open. Unit: ΔE00·metre.
    pub worse: Option<f64>,
    /// Labels that would change.
    pub labels: usize,
    /// Strips that would come into use.
    pub replacement: Vec<String>,
    /// Courses that would stay open.
    pub open: Vec<String>,
    /// Whether it is proven that they would; `None` where none would.
    pub proven: Option<Proven>,
    /// `full`, or `short` where the first way that turned up had to do.
    pub search: &'static str,
}

/// Writes out/spares.csv for the plan in force.
///
/// Errors: the disk can't be read or written to.
pub fn write_spares(dir: &Path, spares: &[Spare]) -> Result<(), Fault> {
    let plan = digest(dir).map_err(|error| Fault::refused(dir.join(LAYING_ORDER), error))?;
    let rows = spares.iter().map(|spare| {
        let worse = spare.worse.map(|worse| format!("{worse:.3}"));
        vec![
            spare.strip.clone(),
            spare.effect.to_owned(),
            worse.unwrap_or_default(),
            spare.labels.to_string(),
            spare.replacement.join("; "),
            spare.open.join("; "),
            spare.proven.map_or("", Proven::name).to_owned(),
            plan.clone(),
            spare.search.to_owned(),
        ]
    });
    let bytes = sheet(FILE, &HEADER, rows)?;
    disk::folder(dir, Path::new(OUT))?;
    disk::write_whole(&dir.join(FILE), &bytes)
}

/// The strips that out/spares.csv says have no spare; `None` where there is no such file, or it is not about the plan
/// in force.
pub fn no_spare(dir: &Path) -> Option<BTreeSet<String>> {
    let plan = digest(dir).ok()?;
    let bytes = disk::read(&dir.join(FILE)).ok()?;
    let mut sheet = csv::Reader::from_reader(bytes.as_slice());
    let header = sheet.headers().ok()?.clone();
    let at = |name: &str| header.iter().position(|column| column == name);
    let (strip, effect, of) = (at("strip")?, at("effect")?, at("plan")?);
    let mut names = BTreeSet::new();
    for row in sheet.records() {
        let row = row.ok()?;
        if row.get(of) != Some(&plan) {
            return None;
        }
        if row.get(effect) == Some(NO_SPARE) {
            names.insert(row.get(strip)?.to_owned());
        }
    }
    Some(names)
}

fn digest(dir: &Path) -> std::io::Result<String> {
    let bytes = disk::read(&dir.join(LAYING_ORDER))?;
    Ok(format!("{:x}", Sha256::digest(&bytes)))
}
