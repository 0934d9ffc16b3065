//! The colour of a strip, and the step the eye sees between two.

use palette::color_difference::Ciede2000;
use palette::white_point::D65;
use palette::{FromColor, IntoColor, Lab, LinSrgb, Srgb};
use std::fmt;

/// The colour of a strip's face.
///
/// Unit: CIELAB under D65, L* 0 to 100.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Colour {
    /// Lightness, 0 black to 100 white.
    pub l: f64,
    /// Green (negative) to red.
    pub a: f64,
    /// Blue (negative) to yellow.
    pub b: f64,
}

impl Colour {
    /// From CIELAB coordinates.
    pub const fn lab(l: f64, a: f64, b: f64) -> Colour {
        Colour { l, a, b }
    }

    /// From sRGB bytes (IEC 61966-2-1).
    pub fn srgb(rgb: [u8; 3]) -> Colour {
        let lab: Lab<D65, f64> = Lab::from_color(Srgb::from(rgb).into_format::<f64>());
        Colour::lab(lab.l, lab.a, lab.b)
    }

    /// From the light of the three primaries of sRGB that a face gives back, each 0 to 1.
    pub fn light(rgb: [f64; 3]) -> Colour {
        let [red, green, blue] = rgb;
        let lab: Lab<D65, f64> = Lab::from_color(LinSrgb::new(red, green, blue));
        Colour::lab(lab.l, lab.a, lab.b)
    }

    /// From a shade of the nine-step wood scale: 1 the darkest, 9 the lightest.
    ///
    /// Frame: CIELAB, from a dark red-brown to a pale straw. Source: our own scale, chosen to span the plausible wood
    /// colours; it is good for sorting by eye, not for measuring.
    pub fn shade(step: u8) -> Colour {
        Colour::between_shades(f64::from(step))
    }

    /// The same between two steps: 4.5 lies half way from shade 4 to shade 5.
    pub fn between_shades(step: f64) -> Colour {
        let t = (step.clamp(1.0, 9.0) - 1.0) / 8.0;
        Colour::lab(34.0 + 50.0 * t, 16.0 - 12.0 * t, 20.0 + 4.0 * t)
    }

    /// The shade by eye that this colour was taken for; `None` where it was measured, and does not lie on the scale of
    /// shades.
    pub fn as_shade(self) -> Option<f64> {
        let step = 1.0 + 8.0 * (self.l - 34.0) / 50.0;
        let on_scale = Colour::between_shades(step);
        let near = |one: f64, other: f64| (one - other).abs() < 1e-6;
        let is_shade = near(self.l, on_scale.l) && near(self.a, on_scale.a);
        (is_shade && near(self.b, on_scale.b)).then_some(step)
    }

    /// Whether both were taken by eye, and are no more than a whole shade apart: then they may be one wood.
    pub fn is_a_guess_away(self, other: Colour) -> bool {
        let shades = self.as_shade().zip(other.as_shade());
        shades.is_some_and(|(one, other)| (one - other).abs() < 1.0 + 1e-6)
    }

    /// The nearest sRGB bytes, for drawing.
    pub fn to_srgb(self) -> [u8; 3] {
        let lab: Lab<D65, f64> = Lab::new(self.l, self.a, self.b);
        let rgb: Srgb<f64> = lab.into_color();
        let rgb = rgb.into_format::<u8>();
        [rgb.red, rgb.green, rgb.blue]
    }
}

/// As it is written in files: `L a b`, with as many figures as it takes to read back the same.
impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {} {}", self.l, self.a, self.b)
    }
}

/// The colour difference CIEDE2000 between two colours, kL = kC = kH = 1.
///
/// Unit: ΔE00, about 1 for a step that can just be seen side by side.
/// Source: CIE 142-2001; held against Sharma, Wu and Dalal, Color Res. Appl. 30 (2005), table 1, in the tests.
pub fn delta_e(one: Colour, other: Colour) -> f64 {
    let one: Lab<D65, f64> = Lab::new(one.l, one.a, one.b);
    let other: Lab<D65, f64> = Lab::new(other.l, other.a, other.b);
    one.difference(other)
}
