//! The few colours of the drawing besides the wood's own, and which of them can be read on a given wood.

use super::scene::Ink;
use crate::units::Colour;

/// The sheet: an unbleached paper, so that pale wood does not vanish in it.
pub const PAPER: Ink = Ink([247, 244, 236]);
/// Words and strong lines.
pub const PENCIL: Ink = Ink([19, 18, 16]);
/// Words and lines that should stay in the background.
pub const SOFT: Ink = Ink([105, 98, 88]);
/// Lines that only guide the eye.
pub const FAINT: Ink = Ink([196, 188, 173]);
/// Lines between strips.
pub const SEAM: Ink = Ink([74, 60, 46]);
/// Words on dark wood.
pub const CHALK: Ink = Ink([255, 255, 255]);
/// An addition to the mark of port, never the only difference.
pub const RED: Ink = Ink([156, 52, 40]);
/// An addition to the mark of starboard, never the only difference.
pub const GREEN: Ink = Ink([32, 104, 72]);

/// The wood's own colour.
pub fn of_wood(colour: Colour) -> Ink {
    Ink(colour.to_srgb())
}

/// The ink that stands out more on this colour.
pub fn readable_on(ground: Ink) -> Ink {
    if contrast(PENCIL, ground) >= contrast(CHALK, ground) {
        PENCIL
    } else {
        CHALK
    }
}

/// Ratio of contrast, 1 to 21. Source: W3C, Web Content Accessibility Guidelines 2.1, "contrast ratio" and "relative
/// luminance".
fn contrast(one: Ink, other: Ink) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

fn luminance(Ink(rgb): Ink) -> f64 {
    let [r, g, b] = rgb.map(|byte| {
        let v = f64::from(byte) / 255.0;
        if v <= 0.04045 {
            v / 12.92
        } else {
            ((v + 0.055) / 1.055).powf(2.4)
        }
    });
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_can_be_read_on_the_darkest_and_the_lightest_wood_and_all_between() {
        // 4.5 is what the same guidelines ask of small type.
        for step in 1..=9 {
            let wood = of_wood(Colour::shade(step));
            let ratio = contrast(readable_on(wood), wood);
            assert!(ratio >= 4.5, "shade {step}: {ratio:.2}");
        }
        assert!((contrast(Ink([0; 3]), Ink([255; 3])) - 21.0).abs() < 1e-9);
    }
}
