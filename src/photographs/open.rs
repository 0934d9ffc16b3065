//! A photograph as it comes from a telephone.

use super::flatten::Picture;
use image::metadata::Orientation;
use image::{ColorType, DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// More pixels than this are refused.
pub const MOST_PIXELS: u64 = 60_000_000;
/// A picture that takes more memory than this while it is read is refused. Unit: bytes.
const MOST_BYTES: u64 = 280_000_000;
/// Pictures with more are halved: what is finer than this tells no more of the wood.
const HALVED: usize = 16_000_000;

/// Why a file is no photograph that can be read.
#[derive(Clone, PartialEq, Eq, Debug, serde::Serialize, serde::Deserialize)]
pub enum Unopened {
    /// HEIC or HEIF.
    Heic,
    /// Raw, of whatever make, or TIFF.
    Raw,
    /// Another picture than JPEG or PNG.
    OtherPicture,
    /// No picture at all.
    NoPicture,
    /// The end is missing.
    CutOff,
    /// Too many pixels: across and down.
    TooLarge(u32, u32),
    /// Too many pixels for a file of this kind, a progressive JPEG or a PNG with more than 8 bits or with transparency:
    /// across and down.
    TooMuch(u32, u32),
    /// The reader's own words.
    Damaged(String),
}

/// Reads a JPEG or PNG and turns it the right way up, as the telephone noted it.
///
/// Errors: why it can't be read.
pub fn open(bytes: &[u8]) -> Result<Picture, Unopened> {
    let format = format(bytes)?;
    let damaged = |error: image::ImageError| Unopened::Damaged(error.to_string());
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(Limits::default());
    let mut decoder = reader.into_decoder().map_err(damaged)?;
    let (wide, high) = decoder.dimensions();
    let pixels = u64::from(wide) * u64::from(high);
    if pixels > MOST_PIXELS || pixels == 0 {
        return Err(Unopened::TooLarge(wide, high));
    }
    // The reader's own limit on memory does not bind on this way. What is held at one time: the file, its pixels as
    // they come, and these in 8 bits or halved. A progressive JPEG is held whole once more, 2 bytes for each value.
    let mut most = bytes.len() as u64 + decoder.total_bytes();
    most += match decoder.color_type() {
        ColorType::Rgb8 => pixels,
        _ => 3 * pixels,
    };
    if format == ImageFormat::Jpeg && !is_sequential(bytes) {
        most += 6 * pixels;
    }
    if most > MOST_BYTES {
        return Err(Unopened::TooMuch(wide, high));
    }
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let image = DynamicImage::from_decoder(decoder)
        .map_err(damaged)?
        .into_rgb8();
    let (wide, high) = (image.width() as usize, image.height() as usize);
    let picture = Picture {
        wide,
        high,
        rgb: image.into_raw(),
    };
    let picture = if wide * high > HALVED {
        picture.halved()
    } else {
        picture
    };
    turned(picture, orientation)
}

/// Told by the first bytes. A JPEG without its end marker is cut off, which the reader does not mind.
fn format(bytes: &[u8]) -> Result<ImageFormat, Unopened> {
    let ftyp = bytes.get(4..8) == Some(b"ftyp");
    let brand = bytes.get(8..12).unwrap_or_default();
    let has = |starts: &[&[u8]]| starts.iter().any(|start| bytes.starts_with(start));
    if ftyp
        && [
            b"heic", b"heix", b"hevc", b"hevx", b"heim", b"heis", b"mif1", b"msf1",
        ]
        .iter()
        .any(|one| *one == brand)
    {
        return Err(Unopened::Heic);
    }
    if has(&[
        b"II*\0",
        b"MM\0*",
        b"IIRO",
        b"IIRS",
        b"IIU\0",
        b"FUJIFILMCCD-RAW",
        b"\0MRM",
        b"FOVb",
    ]) || (ftyp && brand == b"crx ")
    {
        return Err(Unopened::Raw);
    }
    if has(&[b"\xff\xd8\xff"]) {
        // Some telephones put more behind the picture.
        let ends = bytes.windows(2).rposition(|two| two == b"\xff\xd9");
        let last_scan = bytes.windows(2).rposition(|two| two == b"\xff\xda");
        return match ends > last_scan {
            true => Ok(ImageFormat::Jpeg),
            false => Err(Unopened::CutOff),
        };
    }
    if has(&[b"\x89PNG\r\n\x1a\n"]) {
        return match bytes.windows(4).any(|four| four == b"IEND") {
            true => Ok(ImageFormat::Png),
            false => Err(Unopened::CutOff),
        };
    }
    if ftyp || has(&[b"GIF8", b"BM", b"RIFF", b"\xff\x0a", b"\0\0\0\x0cJXL "]) {
        return Err(Unopened::OtherPicture);
    }
    Err(Unopened::NoPicture)
}

/// Whether a JPEG surely comes row by row, as those of telephones do, by the marker of its frame.
///
/// Source: ITU-T T.81, table B.1: C0 and C1 are sequential; C4, C8 and CC begin no frame.
fn is_sequential(bytes: &[u8]) -> bool {
    let mut at = 2;
    while let Some([0xff, marker, high, low]) = bytes.get(at..at + 4) {
        match marker {
            0xc0 | 0xc1 => return true,
            0xc2..=0xcf if ![0xc4, 0xc8, 0xcc].contains(marker) => return false,
            _ => at += 2 + usize::from(u16::from_be_bytes([*high, *low])),
        }
    }
    false
}

fn turned(picture: Picture, orientation: Orientation) -> Result<Picture, Unopened> {
    let not_so = || Unopened::Damaged("its pixels are not as many as it says".into());
    let wide = u32::try_from(picture.wide).map_err(|_| not_so())?;
    let high = u32::try_from(picture.high).map_err(|_| not_so())?;
    let image = image::RgbImage::from_raw(wide, high, picture.rgb).ok_or_else(not_so)?;
    let mut image = DynamicImage::ImageRgb8(image);
    image.apply_orientation(orientation);
    let image = image.into_rgb8();
    Ok(Picture {
        wide: image.width() as usize,
        high: image.height() as usize,
        rgb: image.into_raw(),
    })
}
