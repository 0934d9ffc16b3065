//! A picture, and what is seen at a place between its pixels.

use std::fmt;

/// A picture in pixels, the right way up.
#[derive(Clone, PartialEq, Eq)]
pub struct Picture {
    /// Pixels across.
    pub wide: usize,
    /// Pixels down.
    pub high: usize,
    /// Red, green and blue of each, row by row.
    pub rgb: Vec<u8>,
}

/// Without its pixels, which nobody reads.
impl fmt::Debug for Picture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} x {} pixels", self.wide, self.high)
    }
}

impl Picture {
    /// Its greys, a byte each. Source of the factors: ITU-R BT.601, in parts of 256.
    pub fn luma(&self) -> Vec<u8> {
        let grey = |pixel: &[u8]| {
            let [r, g, b] = [0, 1, 2].map(|n| u32::from(pixel[n]));
            ((77 * r + 150 * g + 29 * b) >> 8) as u8
        };
        self.rgb.chunks_exact(3).map(grey).collect()
    }

    /// Each four pixels made one.
    pub(super) fn halved(&self) -> Picture {
        let (wide, high) = (self.wide / 2, self.high / 2);
        let mut rgb = Vec::with_capacity(3 * wide * high);
        for row in 0..high {
            for column in 0..wide {
                let at = |x: usize, y: usize| 3 * ((2 * row + y) * self.wide + 2 * column + x);
                for n in 0..3 {
                    let four = [at(0, 0), at(1, 0), at(0, 1), at(1, 1)];
                    let sum: u32 = four.iter().map(|at| u32::from(self.rgb[at + n])).sum();
                    rgb.push(((sum + 2) / 4) as u8);
                }
            }
        }
        Picture { wide, high, rgb }
    }

    /// Whether a place lies inside, with so many pixels to spare.
    pub(super) fn holds(&self, (x, y): (f64, f64), spare: f64) -> bool {
        x >= spare
            && y >= spare
            && x <= self.wide as f64 - 1.0 - spare
            && y <= self.high as f64 - 1.0 - spare
    }

    /// Red, green and blue at a place, 0 to 255, by the four pixels around it; `None` outside. Frame: pixels, the
    /// middle of the first at 0, 0.
    pub(super) fn at(&self, place: (f64, f64)) -> Option<[f64; 3]> {
        // This also sends away what is no number.
        if !self.holds(place, 0.0) {
            return None;
        }
        let (x, y) = (place.0 as usize, place.1 as usize);
        let (right, down) = (place.0 - x as f64, place.1 - y as f64);
        let pixel = |x: usize, y: usize| {
            let at = 3 * (y.min(self.high - 1) * self.wide + x.min(self.wide - 1));
            &self.rgb[at..at + 3]
        };
        let around = [
            pixel(x, y),
            pixel(x + 1, y),
            pixel(x, y + 1),
            pixel(x + 1, y + 1),
        ];
        let parts = [
            (1.0 - right) * (1.0 - down),
            right * (1.0 - down),
            (1.0 - right) * down,
            right * down,
        ];
        Some([0, 1, 2].map(|n| {
            around
                .iter()
                .zip(parts)
                .map(|(pixel, part)| f64::from(pixel[n]) * part)
                .sum()
        }))
    }
}

/// The grey of a colour, 0 to 255.
pub(super) fn grey(rgb: [f64; 3]) -> f64 {
    0.299 * rgb[0] + 0.587 * rgb[1] + 0.114 * rgb[2]
}
