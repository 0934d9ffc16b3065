//! What is known while the saw runs: the boat, the boards and the strips so far. Colours play no part, and what is
//! not measured yet may be missing.

use super::complaint::Complaint;
use super::files::is_a_folder;
use super::folder::against;
use super::found::Found;
use super::rack::Against;
use super::{Lines, lines, rack, shape};
use crate::mill::{Board, Slice};
use crate::stock::natural;
use std::path::Path;

/// A job at the saw.
#[derive(Clone, PartialEq, Debug)]
pub struct Saw {
    /// The boat, with the warnings about all files.
    pub lines: Lines,
    /// The boards of boards.csv, as they are listed there.
    pub boards: Vec<Board>,
    /// All strips, in the order of their names.
    pub rack: Vec<Slice>,
}

/// Reads a job folder as far as it matters at the saw.
///
/// Errors: everything that is wrong with its files, sorted by file and line.
pub fn read_saw(dir: &Path) -> Result<Saw, Vec<Complaint>> {
    is_a_folder(dir)?;
    let mut found = Found::default();
    let shape = shape::read(dir, &mut Vec::new(), &mut found);
    // At the saw only what is sawn counts.
    let against = Against {
        promised: None,
        ..against(&shape)
    };
    let rack = rack::rows(dir, &against, &mut Vec::new(), &mut found);
    let lines = lines::of(dir, shape, &mut found);
    let ((rack, lines), warnings) = found.whole(rack.zip(lines))?;
    let slices = rack.rows.into_iter().map(|row| Slice {
        length: row.length.known(),
        cull: against.size.is_some_and(|size| row.is_cull(&size)),
        defects: row.defects,
        origin: row.origin,
        name: row.name,
    });
    let mut slices: Vec<Slice> = slices.collect();
    slices.sort_by(|one, other| natural(&one.name, &other.name));
    Ok(Saw {
        lines: Lines { warnings, ..lines },
        boards: rack.told,
        rack: slices,
    })
}
