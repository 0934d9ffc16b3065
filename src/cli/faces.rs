//! The pictures that photographs gave of strips, put together to the faces of whole strips.

use image::codecs::jpeg::JpegEncoder;
use image::imageops::{self, FilterType};
use image::{ImageFormat, RgbImage};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Component, Path};
use twinstrake::draw;
use twinstrake::job::{Pictured, Reading};
use twinstrake::photographs;
use twinstrake::plan::{Face, Piece};
use twinstrake::solid::Faces;
use twinstrake::stock::{Stock, StripId};

/// Pictures that are larger than this are none of ours. Unit: bytes.
const LARGEST: u64 = 4_000_000;
/// A face in pixels: the strip's length across, its width down. Why so few: a boat of a hundred strips stays within
/// 25 MB.
const WIDE: u32 = 2048;
const HIGH: u32 = 32;
const QUALITY: u8 = 85;

/// The faces that are seen on a boat and were photographed, all or in part; the rest of such a face is drawn.
///
/// Photographs show high faces. The low face of a strip was one with the high face of the next lower one before the saw
/// went between them, so that one's picture shows its figure. Where there is none, its own does: figure goes through.
pub(super) fn faces(dir: &Path, reading: &Reading, pieces: &[Piece]) -> Faces {
    let mut stretches: BTreeMap<&str, Vec<&Pictured>> = BTreeMap::new();
    for picture in &reading.pictured {
        stretches.entry(&picture.strip).or_default().push(picture);
    }
    let stock = &reading.job.stock;
    let mut faces = Faces::new();
    for piece in pieces {
        let own = (piece.strip, piece.face_out);
        if faces.contains_key(&own) {
            continue;
        }
        let before = (piece.face_out == Face::Low)
            .then(|| across_the_cut(stock, piece.strip))
            .flatten();
        let shown = before.into_iter().chain([piece.strip]);
        let mut shown = shown.filter_map(|strip| stretches.get(stock.strip(strip).name.as_str()));
        if let Some(face) = shown
            .next()
            .and_then(|all| face(dir, stock, piece.strip, all))
        {
            faces.insert(own, face);
        }
    }
    faces
}

/// The slice of the same board whose high face looked at the low face of this one.
fn across_the_cut(stock: &Stock, strip: StripId) -> Option<StripId> {
    let origin = stock.strip(strip).origin?;
    let is_it = |other: &twinstrake::stock::Strip| {
        let other = other.origin;
        other.is_some_and(|other| other.board == origin.board && other.seq + 1 == origin.seq)
    };
    stock.strips.iter().position(is_it).map(StripId)
}

/// A drawn face with the photographed stretches on it; `None` where none can be read.
fn face(dir: &Path, stock: &Stock, strip: StripId, all: &[&Pictured]) -> Option<Vec<u8>> {
    let long = stock.strip(strip).length;
    let drawn = draw::strip(stock, stock.strip(strip)).ok()?;
    let drawn = image::load_from_memory_with_format(&drawn, ImageFormat::Png).ok()?;
    let mut face = imageops::resize(&drawn.to_rgb8(), WIDE, HIGH, FilterType::Triangle);
    let mut any = false;
    for picture in all {
        let at = |place: twinstrake::units::Length| {
            ((place.mm() / long.mm()).clamp(0.0, 1.0) * f64::from(WIDE)).round() as u32
        };
        let (from, to) = (at(picture.from), at(picture.to));
        if from >= to {
            continue;
        }
        let Some(bytes) = jpeg(dir, &picture.file) else {
            continue;
        };
        let Ok(seen) = image::load_from_memory_with_format(&bytes, ImageFormat::Jpeg) else {
            continue;
        };
        let seen: RgbImage =
            imageops::resize(&seen.to_rgb8(), to - from, HIGH, FilterType::Triangle);
        // In a photograph edge A is below; on a face it is above.
        let seen = imageops::flip_vertical(&seen);
        imageops::replace(&mut face, &seen, i64::from(from), 0);
        any = true;
    }
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, QUALITY);
    (any && face.write_with_encoder(encoder).is_ok()).then_some(bytes)
}

/// A picture in the folder of the job that can be read as one.
pub(super) fn jpeg(dir: &Path, file: &str) -> Option<Vec<u8>> {
    let path = dir.join(file);
    let inside = Path::new(file)
        .components()
        .all(|part| matches!(part, Component::Normal(_)));
    let small =
        fs::symlink_metadata(&path).is_ok_and(|there| there.is_file() && there.len() <= LARGEST);
    if !inside || !small {
        return None;
    }
    let bytes = fs::read(path).ok()?;
    (bytes.starts_with(b"\xff\xd8") && photographs::open(&bytes).is_ok()).then_some(bytes)
}
