//! One photograph, measured in a process of its own.

use crate::cli::apart::{NoAnswer, apart};
use crate::cli::status::Status;
use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder as _};
use serde::{Deserialize, Serialize};
use std::io::{Read as _, Write as _, stdin, stdout};
use std::path::PathBuf;
use twinstrake::disk;
use twinstrake::photographs::{Doubt, Ill, Shown, Stretch, Unopened, codes, measure, open};
use twinstrake::units::Colour;

/// The largest file that is read. Unit: bytes.
const LARGEST: u64 = 100_000_000;
/// How well the pictures that are kept are kept.
const QUALITY: u8 = 92;

/// What is asked of the process.
#[derive(Serialize, Deserialize)]
pub struct ToMeasure {
    pub path: PathBuf,
    pub shown: Shown,
}

/// A stretch of a slice as the process tells it.
#[derive(Serialize, Deserialize)]
pub struct MeasuredStretch {
    pub from: f64,
    pub to: f64,
    colour: [f64; 3],
    pub spread: f64,
    pub clear: f64,
    pub doubt: Option<Doubt>,
    /// Colours place by place: the place and L, a, b.
    places: Vec<[f64; 4]>,
    /// Bytes of its picture, which follow behind the answer.
    bytes: usize,
    #[serde(skip)]
    pub jpeg: Vec<u8>,
}

impl MeasuredStretch {
    pub fn colour(&self) -> Colour {
        let [l, a, b] = self.colour;
        Colour::lab(l, a, b)
    }

    pub fn places(&self) -> impl Iterator<Item = (f64, Colour)> {
        self.places
            .iter()
            .map(|[place, l, a, b]| (*place, Colour::lab(*l, *a, *b)))
    }
}

/// Why nothing was measured.
#[derive(Serialize, Deserialize)]
pub enum Why {
    /// It can't be read from the disk.
    Unread(String),
    /// The file is too large.
    TooLarge,
    /// It is no photograph that can be read.
    Unopened(Unopened),
    /// What it shows can't be measured.
    Ill(Ill),
    /// It took too long.
    Late,
    /// The process came to an end without an answer.
    Broken,
}

/// What the process answers: the slices from the top.
#[derive(Serialize, Deserialize)]
enum Answer {
    Measured(Vec<Vec<MeasuredStretch>>),
    Not(Why),
}

/// Has a photograph measured.
///
/// Errors: why it could not be.
pub fn measured(asked: &ToMeasure) -> Result<Vec<Vec<MeasuredStretch>>, Why> {
    let words = serde_json::to_vec(asked).map_err(|_| Why::Broken)?;
    let bytes = apart("measure-one", &words).map_err(|none| match none {
        NoAnswer::NotBegun(error) => Why::Unread(error),
        NoAnswer::Late => Why::Late,
        NoAnswer::Broken => Why::Broken,
    })?;
    understood(&bytes)
}

fn understood(bytes: &[u8]) -> Result<Vec<Vec<MeasuredStretch>>, Why> {
    let end = bytes
        .iter()
        .position(|byte| *byte == b'\n')
        .ok_or(Why::Broken)?;
    let (words, mut pictures) = (&bytes[..end], &bytes[end + 1..]);
    match serde_json::from_slice(words).map_err(|_| Why::Broken)? {
        Answer::Not(why) => Err(why),
        Answer::Measured(mut slices) => {
            for told in slices.iter_mut().flatten() {
                let (jpeg, rest) = pictures.split_at_checked(told.bytes).ok_or(Why::Broken)?;
                told.jpeg = jpeg.to_vec();
                pictures = rest;
            }
            Ok(slices)
        }
    }
}

/// The process: reads what is asked, measures, answers.
pub fn run() -> Status {
    let mut words = Vec::new();
    let read = stdin().take(1_000_000).read_to_end(&mut words);
    let (Ok(_), Ok(asked)) = (read, serde_json::from_slice::<ToMeasure>(&words)) else {
        return Status::BadInput;
    };
    let answer = match one(&asked) {
        Ok(slices) => Answer::Measured(slices),
        Err(why) => Answer::Not(why),
    };
    let Ok(mut bytes) = serde_json::to_vec(&answer) else {
        return Status::Fault;
    };
    bytes.push(b'\n');
    if let Answer::Measured(slices) = &answer {
        bytes.extend(slices.iter().flatten().flat_map(|told| &told.jpeg));
    }
    Status::good_if(stdout().write_all(&bytes).is_ok())
}

fn one(asked: &ToMeasure) -> Result<Vec<Vec<MeasuredStretch>>, Why> {
    let unread = |error: std::io::Error| Why::Unread(error.to_string());
    if std::fs::metadata(&asked.path).map_err(unread)?.len() > LARGEST {
        return Err(Why::TooLarge);
    }
    let bytes = disk::read(&asked.path).map_err(unread)?;
    let picture = open(&bytes).map_err(Why::Unopened)?;
    drop(bytes);
    let read = codes(picture.luma(), picture.wide, picture.high);
    let measured = measure(&picture, &read, &asked.shown).map_err(Why::Ill)?;
    let told = |stretch: &Stretch| -> Option<MeasuredStretch> {
        let jpeg = jpeg(stretch)?;
        Some(MeasuredStretch {
            from: stretch.from,
            to: stretch.to,
            colour: [stretch.colour.l, stretch.colour.a, stretch.colour.b],
            spread: stretch.spread,
            clear: stretch.clear,
            doubt: stretch.doubt,
            places: stretch
                .places
                .iter()
                .map(|(place, c)| [*place, c.l, c.a, c.b])
                .collect(),
            bytes: jpeg.len(),
            jpeg,
        })
    };
    let slices = measured
        .slices
        .iter()
        .map(|slice| slice.iter().map(told).collect());
    slices.collect::<Option<_>>().ok_or(Why::Broken)
}

fn jpeg(stretch: &Stretch) -> Option<Vec<u8>> {
    let picture = &stretch.picture;
    let (wide, high) = (
        u32::try_from(picture.wide).ok()?,
        u32::try_from(picture.high).ok()?,
    );
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, QUALITY);
    encoder
        .write_image(&picture.rgb, wide, high, ExtendedColorType::Rgb8)
        .ok()?;
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nonsense_is_no_answer() {
        for text in ["", "nonsense", "nonsense\n", "{\"Measured\":[[]]\n"] {
            assert!(
                matches!(understood(text.as_bytes()), Err(Why::Broken)),
                "{text}"
            );
        }
    }
}
