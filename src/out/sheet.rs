//! A sheet as bytes.

use super::Fault;
use crate::units::{Length, Unit};
use std::fmt::Display;

/// The bytes of a sheet with commas, from its header and its rows.
///
/// Errors: the csv writer failed, which is a bug.
pub fn sheet(
    file: &'static str,
    header: &[&str],
    rows: impl IntoIterator<Item = Vec<String>>,
) -> Result<Vec<u8>, Fault> {
    let failed = |error: &dyn Display| Fault::Format {
        file,
        why: error.to_string(),
    };
    let mut sheet = csv::Writer::from_writer(Vec::new());
    sheet.write_record(header).map_err(|error| failed(&error))?;
    for row in rows {
        sheet.write_record(&row).map_err(|error| failed(&error))?;
    }
    sheet.into_inner().map_err(|error| failed(&error))
}

/// A header with more columns at its end in a job in inches: the same lengths as a rule shows them.
pub fn with_64ths<'h>(unit: Unit, header: &[&'h str], more: &[&'h str]) -> Vec<&'h str> {
    let more = match unit {
        Unit::Mm => &[],
        Unit::Inch => more,
    };
    [header, more].concat()
}

/// Lengths in inches and sixty-fourths; nothing in a job in millimetres.
pub fn in_64ths(unit: Unit, lengths: &[Length]) -> Vec<String> {
    let all = match unit {
        Unit::Mm => &[],
        Unit::Inch => lengths,
    };
    all.iter().map(|length| unit.bare_rule(*length)).collect()
}
