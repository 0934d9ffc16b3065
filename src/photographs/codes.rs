//! The codes in a picture.

use super::find::Code;
use rxing::helpers::detect_multiple_in_luma_with_hints;
use rxing::{BarcodeFormat, DecodeHints};
use std::collections::HashSet;

/// What the reader calls a corner lies half a pixel from where we do: there the edge of the first pixel is 0, here
/// its middle is.
const HALF: f64 = 0.5;

/// All QR codes that can be read in the greys of a picture. This may take many seconds on a picture that was made
/// for it: whoever calls it sees to a limit.
pub fn codes(luma: Vec<u8>, wide: usize, high: usize) -> Vec<Code> {
    let mut hints = DecodeHints {
        PossibleFormats: Some(HashSet::from([BarcodeFormat::QR_CODE])),
        ..DecodeHints::default()
    };
    let (Ok(wide), Ok(high)) = (u32::try_from(wide), u32::try_from(high)) else {
        return Vec::new();
    };
    // No code at all comes as an error, like everything else.
    let read = detect_multiple_in_luma_with_hints(luma, wide, high, &mut hints).unwrap_or_default();
    let all = read.iter().filter_map(|code| {
        let corners: Vec<(f64, f64)> = code
            .getPoints()
            .iter()
            .map(|point| (f64::from(point.x) - HALF, f64::from(point.y) - HALF))
            .collect();
        let corners = corners.get(..4)?.try_into().ok()?;
        Some(Code {
            words: code.getText().to_owned(),
            corners,
        })
    });
    all.collect()
}
