//! The card's place in the picture, brought from a pixel or so to a small part of one.

use super::card::{self, MODULES, SIDE, Side};
use super::flatten::{Picture, grey};
use super::plane::Plane;
use super::solve::LeastSquares;

/// How soft the edges of modules are taken to be, coarse first. Unit: modules, standard deviation. If they are
/// wrong, more steps are needed: what is soft on both sides moves nothing.
const SOFT: [f64; 10] = [0.5, 0.5, 0.4, 0.4, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3];
/// Samples along a module.
const FINE: usize = 3;
/// Half the length of the card, in which its coordinates are reckoned here. Unit: mm.
const UNIT: f64 = 133.0;
/// What is left over, as a part of the contrast, above which this is not the card that it should be.
const MOST_LEFT: f64 = 0.25;

/// A code as it is seen: which of its modules are dark.
struct Seen {
    corner: (f64, f64),
    dark: Vec<bool>,
}

impl Seen {
    /// Its modules, told apart by the mean of the lightest and the darkest.
    fn on(picture: &Picture, plane: &Plane, side: Side) -> Option<Seen> {
        let corner = card::corner(side);
        let module = SIDE / MODULES as f64;
        let mut greys = Vec::new();
        for row in 0..MODULES {
            for column in 0..MODULES {
                let at = |n: usize| (n as f64 + 0.5) * module;
                let place = (corner.0 + at(column), corner.1 + at(row));
                greys.push(grey(picture.at(plane.at(place))?));
            }
        }
        let least = greys.iter().copied().fold(f64::INFINITY, f64::min);
        let most = greys.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let middle = (least + most) / 2.0;
        let dark = greys.iter().map(|grey| *grey < middle).collect();
        Some(Seen { corner, dark })
    }

    fn is_dark(&self, column: isize, row: isize) -> bool {
        let inside = 0..MODULES as isize;
        inside.contains(&column)
            && inside.contains(&row)
            && self.dark[row as usize * MODULES + column as usize]
    }

    /// How dark it should be at a place, 0 to 1, and whether an edge is near. Frame: modules.
    fn soft(&self, x: f64, y: f64, soft: f64) -> (f64, bool) {
        let (column, row) = (x.floor() as isize, y.floor() as isize);
        let parts = |at: f64, first: isize| -> [f64; 3] {
            std::array::from_fn(|n| {
                let from = (first - 1 + n as isize) as f64;
                step((from + 1.0 - at) / soft) - step((from - at) / soft)
            })
        };
        let (across, down) = (parts(x, column), parts(y, row));
        let mut dark = 0.0;
        let mut many = 0;
        for (j, down) in (-1..=1).zip(down) {
            for (i, across) in (-1..=1).zip(across) {
                if self.is_dark(column + i, row + j) {
                    dark += across * down;
                    many += 1;
                }
            }
        }
        (dark, many > 0 && many < 9)
    }
}

/// The normal distribution, nearly. Source: the logistic curve with factor 1.702, which is never off by more than 0.01.
fn step(x: f64) -> f64 {
    1.0 / (1.0 + (-1.702 * x).exp())
}

/// Where the card lies, and how well that is known.
pub(super) struct Fitted {
    /// From the card to the picture.
    pub(super) plane: Plane,
    /// The same, in units of `UNIT` from the middle of the card.
    fit: Plane,
    /// The covariance of its eight factors.
    covariance: Vec<Vec<f64>>,
}

impl Fitted {
    /// How well a place is known along the card: the standard error. Unit: mm.
    ///
    /// Source: propagation of errors by the first derivatives.
    pub(super) fn off(&self, (x, y): (f64, f64)) -> f64 {
        let (x, y) = (
            (x - card::SIZE.0 / 2.0) / UNIT,
            (y - card::SIZE.1 / 2.0) / UNIT,
        );
        let h = &self.fit.0;
        let (u, v) = self.fit.at((x, y));
        let w = h[6] * x + h[7] * y + 1.0;
        // How the pixel moves with the place, and with the factors.
        let (ux, uy) = ((h[0] - h[6] * u) / w, (h[1] - h[7] * u) / w);
        let (vx, vy) = ((h[3] - h[6] * v) / w, (h[4] - h[7] * v) / w);
        let size = ux * vy - uy * vx;
        let of_u = [x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y];
        let of_v = [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y];
        let factors: [f64; 8] = std::array::from_fn(|n| (vy * of_u[n] - uy * of_v[n]) / (w * size));
        let rows = self.covariance.iter().zip(factors);
        let square: f64 = rows
            .map(|(row, one)| {
                one * row
                    .iter()
                    .zip(factors)
                    .map(|(value, other)| value * other)
                    .sum::<f64>()
            })
            .sum();
        UNIT * square.max(0.0).sqrt()
    }
}

/// The map from the card to the picture that fits both codes best, from one that is right to a pixel or two; `None`
/// where nothing fits.
///
/// Source: Gauss and Newton's method on the brightness of all modules, after B. D. Lucas and T. Kanade, "An
/// Iterative Image Registration Technique", IJCAI (1981).
pub(super) fn refined(picture: &Picture, plane: &Plane) -> Option<Fitted> {
    let (middle_x, middle_y) = (card::SIZE.0 / 2.0, card::SIZE.1 / 2.0);
    let card = |(x, y): (f64, f64)| (middle_x + UNIT * x, middle_y + UNIT * y);
    let square = [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)];
    let mut fit = Plane::through(&square.map(|point| (point, plane.at(card(point)))))?;
    let codes = [
        Seen::on(picture, plane, Side::Left)?,
        Seen::on(picture, plane, Side::Right)?,
    ];
    // Light and contrast of each code.
    let mut tones = [[0.0; 2]; 2];
    let mut left = f64::INFINITY;
    let (mut inverse, mut variance) = (Vec::new(), f64::INFINITY);
    for (n, soft) in SOFT.into_iter().enumerate() {
        if n == 0 {
            tones = [
                tone(picture, plane, &codes[0])?,
                tone(picture, plane, &codes[1])?,
            ];
        }
        let mut equations = LeastSquares::of(12);
        let (mut sum, mut squares, mut many) = (0.0, 0.0, 0_usize);
        for (code, which) in codes.iter().zip(0..) {
            let samples = 0..(MODULES + 2) * FINE;
            let at = |n: usize| (n as f64 + 0.5) / FINE as f64 - 1.0;
            let module = SIDE / MODULES as f64;
            for (i, j) in samples
                .clone()
                .flat_map(|j| samples.clone().map(move |i| (i, j)))
            {
                let (column, row) = (at(i), at(j));
                let (dark, near_an_edge) = code.soft(column, row, soft);
                if !near_an_edge {
                    continue;
                }
                let x = (code.corner.0 + column * module - middle_x) / UNIT;
                let y = (code.corner.1 + row * module - middle_y) / UNIT;
                let (u, v) = fit.at((x, y));
                let seen = |du: f64, dv: f64| picture.at((u + du, v + dv)).map(grey);
                let (here, right, left, below, above) = (
                    seen(0.0, 0.0)?,
                    seen(0.7, 0.0)?,
                    seen(-0.7, 0.0)?,
                    seen(0.0, 0.7)?,
                    seen(0.0, -0.7)?,
                );
                let (gu, gv) = ((right - left) / 1.4, (below - above) / 1.4);
                let w = fit.0[6] * x + fit.0[7] * y + 1.0;
                let [light, contrast] = tones[which];
                let back = (gu * u + gv * v) / w;
                let mut factors = [
                    gu * x / w,
                    gu * y / w,
                    gu / w,
                    gv * x / w,
                    gv * y / w,
                    gv / w,
                    -back * x,
                    -back * y,
                    0.0,
                    0.0,
                    0.0,
                    0.0,
                ];
                factors[8 + 2 * which] = -1.0;
                factors[9 + 2 * which] = dark;
                let off = here - (light - contrast * dark);
                equations.add(&factors, -off);
                sum += (off / contrast).powi(2);
                squares += off.powi(2);
                many += 1;
            }
        }
        let freedom = many.saturating_sub(12).max(1) as f64;
        variance = squares / freedom;
        inverse = equations.inverse()?;
        let steps = equations.solved()?;
        fit.0
            .iter_mut()
            .zip(&steps)
            .for_each(|(value, step)| *value += step);
        for (which, tone) in tones.iter_mut().enumerate() {
            tone[0] += steps[8 + 2 * which];
            tone[1] += steps[9 + 2 * which];
            if tone[1] < 5.0 {
                return None;
            }
        }
        left = (sum / many.max(1) as f64).sqrt();
    }
    if left > MOST_LEFT {
        return None;
    }
    let covariance = inverse
        .iter()
        .map(|row| row.iter().map(|value| value * variance).collect());
    Some(Fitted {
        plane: Plane::through(&square.map(|point| (card(point), fit.at(point))))?,
        fit,
        covariance: covariance.collect(),
    })
}

/// How light a code is where it is light, and how much darker where it is dark.
fn tone(picture: &Picture, plane: &Plane, code: &Seen) -> Option<[f64; 2]> {
    let module = SIDE / MODULES as f64;
    let (mut light, mut dark) = ((0.0, 0.0), (0.0, 0.0));
    for row in 0..MODULES {
        for column in 0..MODULES {
            let at = |n: usize| (n as f64 + 0.5) * module;
            let place = (code.corner.0 + at(column), code.corner.1 + at(row));
            let seen = grey(picture.at(plane.at(place))?);
            let sum = if code.dark[row * MODULES + column] {
                &mut dark
            } else {
                &mut light
            };
            *sum = (sum.0 + seen, sum.1 + 1.0);
        }
    }
    let light = light.0 / f64::max(light.1, 1.0);
    let contrast = light - dark.0 / f64::max(dark.1, 1.0);
    (contrast > 5.0).then_some([light, contrast])
}
