//! colours.csv and the pictures of strips beside it: what was measured in photographs. They lie in the folder of the
//! job, not in `out/`, since the job is read from them.

use super::Fault;
use super::sheet::sheet;
use crate::disk;
use crate::job::{COLOURS, columns};
use crate::units::{Colour, Length, Unit};
use std::path::Path;

const PHOTOGRAPHS: &str = "photographs";

/// A stretch of a strip as it was seen in a photograph.
#[derive(Clone, PartialEq, Debug)]
pub struct Seen {
    /// The photograph.
    pub photo: String,
    /// The strip.
    pub strip: String,
    /// From its marked end.
    pub from: Length,
    /// Where the stretch ends.
    pub to: Length,
    /// Of its clear wood.
    pub colour: Colour,
    /// How far half of that lies from it. Unit: ΔE00.
    pub spread: f64,
    /// From one end of the stretch to the other. Unit: ΔE00.
    pub change: f64,
    /// How much is clear wood, as a part.
    pub clear: f64,
    /// `good`, or what makes it doubtful.
    pub quality: String,
    /// The path of its picture in the folder of the job.
    pub picture: String,
}

/// Where the picture of a stretch goes, by the number of the photograph, the place of the slice from the top and the
/// part of it: two strips whose names differ only in what a disk does not tell apart have two names still.
pub fn picture_of_strip(strip: &str, photo: usize, slice: usize, part: usize) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
    let name: String = strip.chars().take(40).map(plain).collect();
    format!("{PHOTOGRAPHS}/{photo}-{slice}-{part}-{name}.jpg")
}

/// The bytes of colours.csv. Places to the tenth of a millimetre, colours to the hundredth.
///
/// Errors: the csv writer failed, which is a bug.
pub fn colours_csv(unit: Unit, seen: &[Seen]) -> Result<Vec<u8>, Fault> {
    let place = |length: Length| unit.exact(Length::from_mm((length.mm() * 10.0).round() / 10.0));
    let rows = seen.iter().map(|seen| {
        let Colour { l, a, b } = seen.colour;
        vec![
            seen.photo.clone(),
            seen.strip.clone(),
            place(seen.from),
            place(seen.to),
            format!("{l:.2} {a:.2} {b:.2}"),
            format!("{:.2}", seen.spread),
            format!("{:.2}", seen.change),
            format!("{:.0}", 100.0 * seen.clear),
            seen.quality.clone(),
            seen.picture.clone(),
        ]
    });
    sheet(COLOURS, columns(COLOURS), rows)
}

/// Writes the pictures, each whole, and then colours.csv, which names them.
///
/// Errors: the first file that could not be written. colours.csv is then as it was.
pub fn write_colours(dir: &Path, pictures: &[(String, &[u8])], sheet: &[u8]) -> Result<(), Fault> {
    disk::folder(dir, Path::new(PHOTOGRAPHS))?;
    for (name, bytes) in pictures {
        disk::write_whole(&dir.join(name), bytes)?;
    }
    disk::write_whole(&dir.join(COLOURS), sheet)
}
