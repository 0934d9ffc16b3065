//! A sheet as bytes.

use super::Fault;

/// The bytes of a sheet with commas, from its header and its rows.
///
/// Errors: the csv writer failed, which is a bug.
pub fn sheet(
    file: &'static str,
    header: &[&str],
    rows: impl IntoIterator<Item = Vec<String>>,
) -> Result<Vec<u8>, Fault> {
    let failed = |why: String| Fault::Format { file, why };
    let mut sheet = csv::Writer::from_writer(Vec::new());
    sheet
        .write_record(header)
        .map_err(|error| failed(error.to_string()))?;
    for row in rows {
        sheet
            .write_record(&row)
            .map_err(|error| failed(error.to_string()))?;
    }
    sheet
        .into_inner()
        .map_err(|error| failed(error.to_string()))
}
