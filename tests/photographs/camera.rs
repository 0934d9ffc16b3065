//! A telephone held over the desk: perspective, light, white balance, tone curve, noise and JPEG.

use super::desk::Desk;
use image::codecs::jpeg::JpegEncoder;
use rand::{Rng, RngExt as _};
use twinstrake::photographs::card::SIZE;
use twinstrake::photographs::{Picture, Plane};

pub struct Camera {
    pub wide: u32,
    pub high: u32,
    /// Pixels a millimetre at the middle of the card.
    pub per_mm: f64,
    /// How far it leans along and across. Unit: radians.
    pub lean: (f64, f64),
    /// By how much the picture is turned. Unit: radians.
    pub turned: f64,
    /// Where the middle of the card is seen, as parts of the picture.
    pub middle: (f64, f64),
    /// How bright the white of the card comes out, 0 to 1, as it is encoded.
    pub white: f64,
    /// The most that the white may come to, as light: a telephone lets no white burn out where it can help it.
    pub most: f64,
    /// How much more of red and blue than of green.
    pub balance: (f64, f64),
    /// How much the tone curve bends.
    pub tone: f64,
    /// Where the light is: along, across and how far away. Unit: mm.
    pub lamp: (f64, f64, f64),
    /// Standard deviation of the noise. Unit: values of a pixel.
    pub noise: f64,
    pub quality: u8,
    /// Samples along each side of a pixel, and how far they reach. Unit: pixels.
    pub blur: f64,
}

impl Camera {
    pub fn any(rng: &mut impl Rng, wide: u32) -> Camera {
        let lean = |rng: &mut dyn Rng| rng.random_range(-14.0_f64..14.0).to_radians();
        Camera {
            wide,
            high: wide * 9 / 16,
            per_mm: rng.random_range(1.9..2.4),
            lean: (lean(rng), lean(rng)),
            turned: rng.random_range(-8.0_f64..8.0).to_radians(),
            middle: (rng.random_range(0.4..0.6), rng.random_range(0.42..0.58)),
            white: rng.random_range(0.72..0.94),
            most: 0.95,
            balance: (rng.random_range(0.85..1.15), rng.random_range(0.8..1.2)),
            tone: rng.random_range(-0.25..0.35),
            lamp: (
                rng.random_range(-1500.0..1500.0),
                rng.random_range(-1200.0..1200.0),
                rng.random_range(2500.0..6000.0),
            ),
            noise: rng.random_range(0.5..3.0),
            quality: rng.random_range(82..96),
            blur: rng.random_range(0.7..1.5),
        }
    }

    /// Straight above, in good light.
    pub fn good() -> Camera {
        Camera {
            wide: 1400,
            high: 800,
            per_mm: 2.1,
            lean: (0.03, -0.05),
            turned: 0.02,
            middle: (0.5, 0.5),
            white: 0.85,
            most: 0.95,
            balance: (1.05, 0.9),
            tone: 0.1,
            lamp: (300.0, -400.0, 4000.0),
            noise: 1.0,
            quality: 90,
            blur: 1.0,
        }
    }

    /// From the card to the picture: a pinhole over a leaning plane.
    pub fn plane(&self) -> Plane {
        let away = 1500.0;
        let (ca, sa) = (self.lean.0.cos(), self.lean.0.sin());
        let (cb, sb) = (self.lean.1.cos(), self.lean.1.sin());
        let (cr, sr) = (self.turned.cos(), self.turned.sin());
        let seen = |(x, y): (f64, f64)| {
            let (x, y) = (x - SIZE.0 / 2.0, y - SIZE.1 / 2.0);
            let (x, z) = (x * ca, x * sa);
            let (y, z) = (y * cb - z * sb, y * sb + z * cb);
            let scale = self.per_mm * away / (away + z);
            let (u, v) = (x * scale, y * scale);
            (
                u * cr - v * sr + self.middle.0 * f64::from(self.wide),
                u * sr + v * cr + self.middle.1 * f64::from(self.high),
            )
        };
        let square = [
            (-100.0, -100.0),
            (400.0, -100.0),
            (-100.0, 200.0),
            (400.0, 200.0),
        ];
        Plane::through(&square.map(|point| (point, seen(point)))).unwrap()
    }

    /// How much light falls on a place, by the law of the distance; 1 at the middle of the card.
    fn falls(&self, (x, y): (f64, f64)) -> f64 {
        let at = |x: f64, y: f64| {
            let (lx, ly, lz) = self.lamp;
            let away = (x - SIZE.0 / 2.0 - lx).powi(2) + (y - SIZE.1 / 2.0 - ly).powi(2) + lz * lz;
            lz / away.powf(1.5)
        };
        at(x, y) / at(SIZE.0 / 2.0, SIZE.1 / 2.0)
    }

    /// From light to the value of a pixel.
    fn value(&self, light: f64) -> f64 {
        let encoded = if light <= 0.003_130_8 {
            light * 12.92
        } else {
            1.055 * light.powf(1.0 / 2.4) - 0.055
        };
        // A curve that is steeper in the middle and flatter at both ends, or the other way.
        let bent = encoded + self.tone * encoded * (1.0 - encoded) * (encoded - 0.5);
        (bent.clamp(0.0, 1.0) * 255.0).clamp(0.0, 255.0)
    }

    pub fn jpeg(&self, desk: &Desk, rng: &mut impl Rng) -> Vec<u8> {
        let rgb = self.pixels(desk, rng);
        let mut jpeg = Vec::new();
        let colour = image::ExtendedColorType::Rgb8;
        JpegEncoder::new_with_quality(&mut jpeg, self.quality)
            .encode(&rgb, self.wide, self.high, colour)
            .unwrap();
        jpeg
    }

    /// As the reckoning takes it.
    pub fn picture(&self, desk: &Desk, rng: &mut impl Rng) -> Picture {
        Picture {
            wide: self.wide as usize,
            high: self.high as usize,
            rgb: self.pixels(desk, rng),
        }
    }

    pub fn pixels(&self, desk: &Desk, rng: &mut impl Rng) -> Vec<u8> {
        let back = self.plane().inverse().unwrap();
        // The brightest that paper gets comes out as the white that is asked for.
        let paper = 0.876;
        let exposure = ((self.white + 0.055) / 1.055).powf(2.4) / paper;
        let gains = [
            exposure * self.balance.0,
            exposure,
            exposure * self.balance.1,
        ];
        let white = gains.iter().copied().fold(0.0, f64::max) * paper;
        let gains = gains.map(|gain| {
            if white > self.most {
                gain * self.most / white
            } else {
                gain
            }
        });
        let taps = [
            (-0.375, -0.125),
            (0.125, -0.375),
            (0.375, 0.125),
            (-0.125, 0.375),
        ];
        let mut rgb = Vec::with_capacity(3 * (self.wide * self.high) as usize);
        for v in 0..self.high {
            for u in 0..self.wide {
                let mut sum = [0.0; 3];
                for (du, dv) in taps {
                    let place = back.at((
                        f64::from(u) + du * self.blur * 1.4,
                        f64::from(v) + dv * self.blur * 1.4,
                    ));
                    let (light, falls) = (desk.light(place), self.falls(place));
                    sum.iter_mut()
                        .zip(light)
                        .for_each(|(sum, light)| *sum += light * falls / 4.0);
                }
                for (light, gain) in sum.into_iter().zip(gains) {
                    // Nearly a normal deviation: the sum of four evenly spread ones.
                    let noise: f64 = (0..4).map(|_| rng.random_range(-0.866..0.866)).sum();
                    rgb.push(
                        (self.value(light * gain) + self.noise * noise)
                            .round()
                            .clamp(0.0, 255.0) as u8,
                    );
                }
            }
        }
        rgb
    }
}
