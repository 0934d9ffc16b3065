//! The face of a whole strip as a picture to wrap round a hull: its colour, and its figure drawn freely.

use super::grain;
use super::ink;
use super::misprint::Misprint;
use super::wood::darker;
use crate::stock::{Stock, Strip};
use resvg::tiny_skia::{Pixmap, PremultipliedColorU8};

/// Its size in pixels: the strip's length across, its width down.
const WIDE: u32 = 1024;
const HIGH: u32 = 32;
/// How much darker a streak is in its middle than the wood. Unit: L*. So much that it shows in shaded light too.
const STREAK: f64 = 7.0;

/// How much darker its edges are, where it is glued to its neighbours. Unit: L*.
const GLUE: f64 = 9.0;

/// The strip from its marked end, on the left, edge A above. The same strip gives the same bytes.
///
/// Errors: a library refused; a bug.
pub fn picture(stock: &Stock, strip: &Strip) -> Result<Vec<u8>, Misprint> {
    let mut pixels = Pixmap::new(WIDE, HIGH)
        .ok_or_else(|| Misprint::new("PNG", format!("a picture of {WIDE} x {HIGH} pixels")))?;
    let streaks = grain::streaks(stock, strip);
    for across in 0..HIGH {
        for along in 0..WIDE {
            let u = (f64::from(along) + 0.5) / f64::from(WIDE) * strip.length.mm();
            let v = (f64::from(across) + 0.5) / f64::from(HIGH);
            let deepest = streaks.iter().filter_map(|streak| streak.at(u));
            let deepest = deepest
                .map(|(middle, thick)| 1.0 - (v - middle).abs() / thick)
                .fold(0.0, f64::max);
            let glue = if across == 0 || across == HIGH - 1 {
                GLUE
            } else {
                0.0
            };
            let by = (STREAK * deepest).max(glue);
            let [r, g, b] = ink::of_wood(darker(strip.colour, by)).0;
            if let Some(pixel) = PremultipliedColorU8::from_rgba(r, g, b, 255) {
                pixels.pixels_mut()[(across * WIDE + along) as usize] = pixel;
            }
        }
    }
    pixels
        .encode_png()
        .map_err(|error| Misprint::new("PNG", error))
}
