//! The pictures that photographs gave of strips, put together to the faces of whole strips, and these to a hull.

use image::codecs::jpeg::JpegEncoder;
use image::imageops::{self, FilterType};
use image::{ImageFormat, Rgb, RgbImage};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Component, Path};
use twinstrake::draw::{self, Photographs};
use twinstrake::job::{Pictured, Reading};
use twinstrake::photographs;
use twinstrake::plan::{Face, Piece, Plan};
use twinstrake::solid::Faces;
use twinstrake::stock::{Stock, StripId};
use twinstrake::units::{Length, U};

/// Pictures that are larger than this are none of ours. Unit: bytes.
const LARGEST: u64 = 4_000_000;
/// A face in pixels: the strip's length across, its width down. Why so few: a boat of a hundred strips stays within
/// 25 MB.
const WIDE: u32 = 4096;
const HIGH: u32 = 32;
const QUALITY: u8 = 85;
/// The hull laid flat in pixels across; at most as many down.
const HULL: u32 = 3000;
/// How well it is kept, and how many bytes it may have: whatever it shows, a report with it stays under 6 MB.
const QUALITIES: [u8; 4] = [85, 70, 50, 30];
const HEAVIEST: usize = 2_500_000;

/// A face that was photographed, all or in part; the rest of it is drawn.
struct Photographed {
    /// The strip from its marked end, on the left, edge A above.
    face: RgbImage,
    seen: Vec<(U, U)>,
}

/// The faces that are seen on a boat and were photographed, as JPEGs.
pub fn faces<'p>(
    dir: &Path,
    reading: &Reading,
    pieces: impl IntoIterator<Item = &'p Piece>,
) -> Faces {
    let all = photographed(dir, reading, pieces).into_iter();
    all.filter_map(|(own, seen)| Some((own, written(&seen.face, QUALITY)?)))
        .collect()
}

/// Photographs of the wood on the hull laid flat; `None` where there is none.
pub fn photographs(dir: &Path, reading: &Reading, plan: &Plan) -> Option<Photographs> {
    let all = photographed(dir, reading, &plan.pieces);
    if all.is_empty() {
        return None;
    }
    let (job, high) = (&reading.job, draw::pixels_high(&reading.job, HULL));
    if high > HULL {
        return None;
    }
    let mut hull = RgbImage::new(HULL, high);
    draw::painted(job, plan, HULL, |(x, y), piece, along, across| {
        let strip = job.stock.strip(piece.strip);
        let seen = all.get(&(piece.strip, piece.face_out)).and_then(|one| {
            let u = along / strip.length.mm() * f64::from(WIDE) - 0.5;
            let v = across * f64::from(HIGH) - 0.5;
            let inside = |at: f64, most: u32| at.clamp(0.0, f64::from(most - 1)) as f32;
            imageops::interpolate_bilinear(&one.face, inside(u, WIDE), inside(v, HIGH))
        });
        hull.put_pixel(x, y, seen.unwrap_or_else(|| Rgb(strip.colour.to_srgb())));
    });
    let mut tries = QUALITIES.iter();
    let mut jpeg = written(&hull, *tries.next()?)?;
    while let Some(quality) = tries.next().filter(|_| jpeg.len() > HEAVIEST) {
        jpeg = written(&hull, *quality)?;
    }
    let seen = all.into_iter().map(|(own, one)| (own, one.seen)).collect();
    Some(Photographs { seen, jpeg })
}

/// Photographs show high faces. The low face of a strip was one with the high face of the next lower one before the saw
/// went between them, so that one's picture shows its figure. Where there is none, its own does: figure goes through.
fn photographed<'p>(
    dir: &Path,
    reading: &Reading,
    pieces: impl IntoIterator<Item = &'p Piece>,
) -> BTreeMap<(StripId, Face), Photographed> {
    let stretches = by_strip(reading);
    let stock = &reading.job.stock;
    let mut faces = BTreeMap::new();
    if stretches.is_empty() {
        return faces;
    }
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

/// The pictures of each strip, by its name.
pub fn by_strip(reading: &Reading) -> BTreeMap<&str, Vec<&Pictured>> {
    let mut stretches: BTreeMap<&str, Vec<&Pictured>> = BTreeMap::new();
    for picture in &reading.pictured {
        stretches.entry(&picture.strip).or_default().push(picture);
    }
    stretches
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
fn face(dir: &Path, stock: &Stock, strip: StripId, all: &[&Pictured]) -> Option<Photographed> {
    let long = stock.strip(strip).length;
    let drawn = draw::strip(stock, stock.strip(strip)).ok()?;
    let drawn = image::load_from_memory_with_format(&drawn, ImageFormat::Png).ok()?;
    let mut face = imageops::resize(&drawn.to_rgb8(), WIDE, HIGH, FilterType::Triangle);
    let mut stretches = Vec::new();
    for picture in all {
        let at = |place: Length| (place.mm() / long.mm() * f64::from(WIDE)).round() as u32;
        // A strip may have become shorter since; what is beyond its end is left out.
        let (from, to, end) = (at(picture.from), at(picture.to), at(picture.to.min(long)));
        if from >= end {
            continue;
        }
        let Some(bytes) = jpeg(dir, &picture.file) else {
            continue;
        };
        let Ok(seen) = image::load_from_memory_with_format(&bytes, ImageFormat::Jpeg) else {
            continue;
        };
        let seen = seen.to_rgb8();
        let part = f64::from(end - from) / f64::from(to - from);
        let kept = ((f64::from(seen.width()) * part).round() as u32).max(1);
        let seen = imageops::crop_imm(&seen, 0, 0, kept, seen.height()).to_image();
        let seen: RgbImage = imageops::resize(&seen, end - from, HIGH, FilterType::Triangle);
        // In a photograph edge A is below; on a face it is above.
        let seen = imageops::flip_vertical(&seen);
        imageops::replace(&mut face, &seen, i64::from(from), 0);
        stretches.push((U::at(picture.from), U::at(picture.to.min(long))));
    }
    let seen = stretches;
    (!seen.is_empty()).then_some(Photographed { face, seen })
}

fn written(picture: &RgbImage, quality: u8) -> Option<Vec<u8>> {
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, quality);
    picture.write_with_encoder(encoder).ok()?;
    Some(bytes)
}

/// A picture in the folder of the job that can be read as one.
pub fn jpeg(dir: &Path, file: &str) -> Option<Vec<u8>> {
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
