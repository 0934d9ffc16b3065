//! A photograph as it comes from a telephone.

use super::flatten::Picture;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// More pixels than this are refused.
pub const MOST_PIXELS: u64 = 60_000_000;
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
    // The reader's own limit on memory does not bind on this way.
    let most_bytes = MOST_PIXELS * 4;
    if u64::from(wide) * u64::from(high) > MOST_PIXELS
        || decoder.total_bytes() > most_bytes
        || wide == 0
        || high == 0
    {
        return Err(Unopened::TooLarge(wide, high));
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
