//! Slices on a desk, with the card on them: what colour there is at each place.

use rand::{Rng, RngExt as _};
use std::sync::OnceLock;
use twinstrake::draw;
use twinstrake::job::Page;
use twinstrake::paper;
use twinstrake::photographs::card::{GREY_CARD, PAPER, SIZE};
use twinstrake::photographs::{Shown, Stretch};
use twinstrake::units::Colour;

/// A slice. Unit: mm; frame: from the marked end.
pub struct Slice {
    pub colour: Colour,
    pub length: f64,
    /// Dark ellipses: place, half length, place across as a part, half width as a part.
    pub knots: Vec<[f64; 4]>,
    /// Pencil lines right across, by which places are held.
    pub marks: Vec<f64>,
    /// Bright streaks: from, to.
    pub glare: Vec<(f64, f64)>,
    /// How strong its figure is, in L*, and how long its waves are, in mm.
    figure: (f64, f64),
    phase: f64,
}

pub struct Desk {
    pub slices: Vec<Slice>,
    pub width: f64,
    /// Gap under each slice.
    gaps: Vec<f64>,
    /// From the marked ends to the left edge of the card.
    pub at: f64,
    /// By how much the slices are turned against the card. Unit: radians.
    turned: f64,
    /// The card's middle, across the slices from the upper edge of the first.
    pub across: f64,
    /// How much the slices bend: over a metre, by so many mm.
    bend: f64,
    pub desk: Colour,
    /// How often the card lies there.
    pub cards: usize,
    /// Parts of the card that something lies on. Frame of the card.
    pub covered: Vec<[f64; 4]>,
    /// What the printer made of paper and greys, as parts of the light that they should give back.
    pub printer: [f64; 3],
    /// How much light a bought grey card in its box gives back.
    pub grey_card: Option<f64>,
}

impl Desk {
    pub fn any(rng: &mut impl Rng) -> Desk {
        let many = rng.random_range(3..=8);
        let width = rng.random_range(15.0..26.0);
        let base = Colour::lab(
            rng.random_range(48.0..82.0),
            rng.random_range(2.0..13.0),
            rng.random_range(16.0..30.0),
        );
        let at = rng.random_range(60.0..2500.0);
        let mut light = base.l;
        let slices = (0..many)
            .map(|n| {
                // Neighbours are told apart by their lightness, up and down in turn, so that no two wrong numbers
                // look right.
                light += if n % 2 == 0 {
                    3.0 + 0.7 * f64::from(n)
                } else {
                    -4.0
                };
                let colour = Colour::lab(
                    light.clamp(40.0, 88.0),
                    base.a,
                    base.b + rng.random_range(-1.0..1.0),
                );
                let length = at + rng.random_range(700.0..2500.0);
                let place = |rng: &mut dyn Rng| at + rng.random_range(-900.0..1200.0);
                Slice {
                    colour,
                    length,
                    knots: (0..rng.random_range(0..4))
                        .map(|_| {
                            let (half, across) =
                                (rng.random_range(4.0..14.0), rng.random_range(0.1..0.9));
                            [place(rng), half, across, rng.random_range(0.1..0.5)]
                        })
                        .collect(),
                    marks: (0..16)
                        .map(|n| 90.0 + f64::from(n) * 317.0 + rng.random_range(0.0..100.0))
                        .collect(),
                    glare: (0..rng.random_range(0..2))
                        .map(|_| (place(rng), rng.random_range(10.0..60.0)))
                        .map(|(from, long)| (from, from + long))
                        .collect(),
                    figure: (rng.random_range(0.3..2.5), rng.random_range(4.0..40.0)),
                    phase: rng.random_range(0.0..6.0),
                }
            })
            .collect();
        let high = f64::from(many) * width;
        Desk {
            slices,
            width,
            gaps: (0..many).map(|_| rng.random_range(0.15..1.0)).collect(),
            at,
            turned: rng.random_range(-5.0_f64..5.0).to_radians(),
            across: rng.random_range(0.2..0.8) * high,
            bend: rng.random_range(-3.0..3.0),
            desk: match rng.random_range(0..3) {
                0 => Colour::lab(35.0, 0.0, 2.0),
                1 => Colour::lab(90.0, 0.0, 3.0),
                _ => Colour::lab(50.0, -8.0, -14.0),
            },
            cards: 1,
            covered: Vec::new(),
            printer: [1.0; 3],
            grey_card: None,
        }
    }

    pub fn shown(&self) -> Shown {
        Shown {
            lengths: self
                .slices
                .iter()
                .enumerate()
                .map(|(n, slice)| (n % 3 > 0).then_some(slice.length))
                .collect(),
            width: self.width,
            at: self.at,
            turned: false,
            grey_card: None,
        }
    }

    /// How much light a place gives back, by colour. Frame of the card, mm.
    pub fn light(&self, (x, y): (f64, f64)) -> [f64; 3] {
        for n in 0..self.cards {
            let y = y - 90.0 * n as f64;
            if (0.0..SIZE.0).contains(&x) && (0.0..SIZE.1).contains(&y) {
                let hit = |[left, top, w, h]: &[f64; 4]| {
                    x >= *left && y >= *top && x < left + w && y < top + h
                };
                if self.covered.iter().any(hit) {
                    return light(Colour::lab(60.0, 10.0, 20.0));
                }
                if let Some(part) = self.grey_card.filter(|_| hit(&GREY_CARD)) {
                    return [part; 3];
                }
                let printed = printed(x, y);
                return std::array::from_fn(|n| printed[n] * self.printer[n]);
            }
        }
        let (y, (sin, cos)) = (y - SIZE.1 / 2.0, self.turned.sin_cos());
        let s = x * cos + y * sin;
        let t = -x * sin + y * cos + self.across + self.bend * (s / 1000.0).powi(2);
        light(self.wood(self.at + s, t).unwrap_or(self.desk))
    }

    fn wood(&self, u: f64, mut t: f64) -> Option<Colour> {
        if t < 0.0 || u < 0.0 {
            return None;
        }
        for (slice, gap) in self.slices.iter().zip(&self.gaps) {
            if t < self.width {
                return (u < slice.length).then(|| slice.at(u, t / self.width));
            }
            t -= self.width;
            if t < *gap {
                return (u < slice.length).then_some(Colour::lab(14.0, 3.0, 5.0));
            }
            t -= gap;
        }
        None
    }
}

impl Slice {
    fn at(&self, u: f64, across: f64) -> Colour {
        let Colour { l, a, b } = self.colour;
        if self.marks.iter().any(|mark| (u - mark).abs() < 1.25) {
            return Colour::lab(l * 0.35, 0.0, 2.0);
        }
        let knot = |[place, half, at, wide]: &[f64; 4]| {
            ((u - place) / half).powi(2) + ((across - at) / wide).powi(2) < 1.0
        };
        if self.knots.iter().any(knot) {
            return Colour::lab(l * 0.45, a + 3.0, b);
        }
        if self
            .glare
            .iter()
            .any(|(from, to)| (*from..*to).contains(&u))
            && (0.3..0.6).contains(&across)
        {
            return Colour::lab(96.0, 0.0, 4.0);
        }
        let (strong, long) = self.figure;
        let waves = (across * 9.0 + self.phase).sin() * 0.6
            + (u / long + self.phase + 2.0 * across).sin() * 0.4;
        Colour::lab(l + strong * waves, a, b + 0.2 * strong * waves)
    }
}

/// How far each pencil mark on the wood lies in the flattened picture from where it was drawn. Unit: mm.
pub fn marks_off(slice: &Slice, stretch: &Stretch) -> Vec<f64> {
    const REACH: f64 = 15.0;
    let picture = &stretch.picture;
    let inside = |mark: &&f64| **mark > stretch.from + REACH && **mark < stretch.to - REACH;
    let inside = |mark: &&f64| inside(mark) && **mark < slice.length - REACH;
    let apart = |mark: &&f64| {
        let knots = slice
            .knots
            .iter()
            .all(|knot| (knot[0] - **mark).abs() > knot[1] + REACH + 3.0);
        knots
            && slice
                .glare
                .iter()
                .all(|(from, to)| **mark < from - REACH - 3.0 || **mark > to + REACH + 3.0)
    };
    let grey = |column: usize| -> f64 {
        let rows = picture.high / 4..picture.high * 3 / 4;
        let many = rows.len() as f64;
        rows.map(|row| f64::from(picture.rgb[3 * (row * picture.wide + column) + 1]))
            .sum::<f64>()
            / many
    };
    let per_mm = picture.wide as f64 / (stretch.to - stretch.from);
    let all = slice
        .marks
        .iter()
        .filter(inside)
        .filter(apart)
        .filter_map(|mark| {
            let at = |place: f64| ((place - stretch.from) * per_mm) as usize;
            let columns: Vec<usize> = (at(mark - REACH)..at(mark + REACH)).collect();
            let darkest = columns
                .iter()
                .map(|column| grey(*column))
                .fold(f64::INFINITY, f64::min);
            let usual =
                columns.iter().map(|column| grey(*column)).sum::<f64>() / columns.len() as f64;
            let (mut sum, mut weight) = (0.0, 0.0);
            for column in columns {
                let deep = (0.5 * (usual + darkest) - grey(column)).max(0.0);
                sum += deep * (stretch.from + (column as f64 + 0.5) / per_mm);
                weight += deep;
            }
            (usual - darkest > 10.0).then(|| (sum / weight - mark).abs())
        });
    all.collect()
}

fn linear(value: f64) -> f64 {
    if value <= 0.04045 {
        value / 12.92
    } else {
        ((value + 0.055) / 1.055).powf(2.4)
    }
}

/// From CIELAB under D65 to the light of the primaries of sRGB. Source: CIE 15 and IEC 61966-2-1, written out here
/// on their own.
pub fn light(colour: Colour) -> [f64; 3] {
    let fy = (colour.l + 16.0) / 116.0;
    let cube = |f: f64| {
        if f > 6.0 / 29.0 {
            f.powi(3)
        } else {
            3.0 * (6.0_f64 / 29.0).powi(2) * (f - 4.0 / 29.0)
        }
    };
    let (x, y, z) = (
        0.95047 * cube(fy + colour.a / 500.0),
        cube(fy),
        1.08883 * cube(fy - colour.b / 200.0),
    );
    [
        3.240_454_2 * x - 1.537_138_5 * y - 0.498_531_4 * z,
        -0.969_266 * x + 1.876_010_8 * y + 0.041_556 * z,
        0.055_643_4 * x - 0.204_025_9 * y + 1.057_225_2 * z,
    ]
    .map(|value| value.max(0.0))
}

/// Dots a millimetre of the printed card.
const DOTS: f64 = 8.0;

/// The card as the program prints it, by its own page.
fn printed(x: f64, y: f64) -> [f64; 3] {
    static CARD: OnceLock<(usize, Vec<f64>)> = OnceLock::new();
    let (wide, lights) = CARD.get_or_init(|| {
        let page = paper::card(Page::A4);
        let png = draw::png(&page, (page.width * DOTS) as u32).unwrap();
        let page = image::load_from_memory(&png).unwrap().into_luma8();
        let (left, top) = ((297.0 - SIZE.0) / 2.0, 20.0);
        let (wide, high) = ((SIZE.0 * DOTS) as usize, (SIZE.1 * DOTS) as usize);
        let paper = ((PAPER + 16.0) / 116.0).powi(3);
        let at = |x: usize, y: usize| {
            let grey = page
                .get_pixel(
                    (left * DOTS) as u32 + x as u32,
                    (top * DOTS) as u32 + y as u32,
                )
                .0[0];
            paper * linear(f64::from(grey) / 255.0)
        };
        let lights = (0..high)
            .flat_map(|y| (0..wide).map(move |x| (x, y)))
            .map(|(x, y)| at(x, y))
            .collect();
        (wide, lights)
    });
    let high = lights.len() / wide;
    let (column, row) = (
        ((x * DOTS) as usize).min(wide - 1),
        ((y * DOTS) as usize).min(high - 1),
    );
    [lights[row * wide + column]; 3]
}
