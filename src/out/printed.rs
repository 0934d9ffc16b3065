//! What is printed on paper, and out/labels-printed.csv: which labels may be on the wood, so that later only those that
//! have changed need be printed, and those that have to come off are not forgotten.

use super::{Fault, plan_sha256, sheet};
use crate::disk;
use crate::job::Job;
use crate::plan::Plan;
use crate::units::parse::{Decimal, length};
use crate::units::{Length, Unit};
use std::io::ErrorKind;
use std::path::Path;

const FILE: &str = "out/labels-printed.csv";

/// The file's name in `out/`.
pub const LABELS_PRINTED: &str = "labels-printed.csv";

const HEADER: [&str; 5] = ["strip", "mark", "says", "measures", "take_off"];
/// What stands under `take_off` for a label that has to come off.
const YES: &str = "yes";

/// A measure that has changed by no more needs no new label. Unit: length; 0.5 mm. Source: model, "Moved".
const SAME: Length = Length::from_nm(500_000);

/// A label that was printed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PrintedLabel {
    /// The strip.
    pub strip: String,
    /// The mark with the end, as `[P]12.1 bow`.
    pub mark: String,
    /// What else it says that is no measure.
    pub says: String,
    /// The measures that it says.
    pub measures: Vec<Length>,
}

/// The labels that may be on the wood.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct OnWood {
    /// Those of the plan that was printed last.
    pub printed: Vec<PrintedLabel>,
    /// Those printed earlier that are not right any more, until they are told to be off.
    pub to_take_off: Vec<PrintedLabel>,
}

impl OnWood {
    /// The same once these labels are right and no others.
    pub fn after(self, now: Vec<PrintedLabel>) -> OnWood {
        let mut to_take_off: Vec<PrintedLabel> = Vec::new();
        for label in self.to_take_off.into_iter().chain(self.printed) {
            if !label.is_among(&now) && !to_take_off.contains(&label) {
                to_take_off.push(label);
            }
        }
        OnWood {
            printed: now,
            to_take_off,
        }
    }
}

impl PrintedLabel {
    /// Whether one of these is as good on the wood.
    pub fn is_among(&self, labels: &[PrintedLabel]) -> bool {
        labels.iter().any(|other| other.is_as_good_as(self))
    }

    /// Whether one is as good as the other on the wood.
    fn is_as_good_as(&self, other: &PrintedLabel) -> bool {
        let near = |(one, other): (&Length, &Length)| (*one - *other).abs() <= SAME;
        (&self.strip, &self.mark, &self.says) == (&other.strip, &other.mark, &other.says)
            && self.measures.len() == other.measures.len()
            && self.measures.iter().zip(&other.measures).all(near)
    }
}

/// A short digest of a plan: the first eight figures of the SHA-256 of its laying order as it is written.
///
/// Errors: the csv writer failed, which is a bug.
pub fn plan_digest(job: &Job, plan: &Plan) -> Result<String, Fault> {
    let mut digest = plan_sha256(job, plan)?;
    digest.truncate(8);
    Ok(digest)
}

/// The bytes of out/labels-printed.csv.
///
/// Errors: the csv writer failed, which is a bug.
pub fn labels_printed(unit: Unit, labels: &OnWood) -> Result<Vec<u8>, Fault> {
    let printed = labels.printed.iter().map(|label| (label, ""));
    let to_take_off = labels.to_take_off.iter().map(|label| (label, YES));
    let rows = printed.chain(to_take_off).map(|(label, take_off)| {
        let measures = label.measures.iter().map(|length| unit.exact(*length));
        vec![
            label.strip.clone(),
            label.mark.clone(),
            label.says.clone(),
            measures.collect::<Vec<_>>().join(" "),
            take_off.to_owned(),
        ]
    });
    sheet(FILE, &HEADER, rows)
}

/// The labels that were printed; `None` where none were. A measure that can't be read makes a label that none is as
/// good as.
///
/// Errors: why the file could not be understood.
pub fn printed_before(dir: &Path, unit: Unit) -> Result<Option<OnWood>, String> {
    let bytes = match disk::read(&dir.join(FILE)) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error.to_string()),
    };
    let mut sheet = csv::Reader::from_reader(bytes.as_slice());
    let mut on_wood = OnWood::default();
    for row in sheet.records() {
        let row = row.map_err(|error| error.to_string())?;
        let cell = |n: usize| row.get(n).unwrap_or_default().to_owned();
        let measures = cell(3);
        let measures = measures.split_whitespace();
        let label = PrintedLabel {
            strip: cell(0),
            mark: cell(1),
            says: cell(2),
            measures: measures
                .filter_map(|word| length(word, unit, Decimal::Point).ok())
                .collect(),
        };
        match row.get(4) {
            Some(YES) => on_wood.to_take_off.push(label),
            _ => on_wood.printed.push(label),
        }
    }
    Ok(Some(on_wood))
}
