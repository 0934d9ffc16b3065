//! Light and telephone taken out of a colour, by the greys of the card.

use super::card::{self, GREY_CARD, Patch, encoded, gives_back, linear};
use super::flatten::Picture;
use super::ill::Ill;
use super::plane::Plane;
use super::solve::LeastSquares;
use crate::lines::Fair;

/// From what a pixel says to the light that the wood gives back.
///
/// Two things are found, for each of the three colours: the curve from light to the value of a pixel, in which white
/// balance, exposure and tone curve are one; and how the light slopes across the card, as a plane of its logarithm.
pub(super) struct Light {
    /// Light for values from 0 to 255, in quarters.
    curves: [Vec<f64>; 3],
    /// By how much the logarithm of the light grows along x and y, a millimetre.
    slopes: [(f64, f64); 3],
    /// How much the bought grey card is off.
    gains: [f64; 3],
}

/// Where the light is called 1.
const MIDDLE: (f64, f64) = (card::SIZE.0 / 2.0, card::SIZE.1 / 2.0);
/// Steps of a curve for each value of a pixel.
const FINE: usize = 4;
/// Values from which white is burnt out, and below which it is no white. Unit: 0 to 255.
const BURNT: f64 = 252.0;
const LEAST_WHITE: f64 = 70.0;
/// Two greys of the card are told apart by at least this. Unit: 0 to 255.
const APART: f64 = 1.0;

impl Light {
    /// By the greys of the card; with the bought card, which gives back this part of the light, by that as well.
    pub(super) fn on(
        picture: &Picture,
        plane: &Plane,
        grey_card: Option<f64>,
    ) -> Result<Light, Ill> {
        let ladders = card::ladders();
        let mut seen = Vec::new();
        for patch in ladders.iter().flatten().chain(&card::ends()) {
            seen.push((
                *patch,
                median(picture, plane, patch.area, 0.6).ok_or(Ill::Bent)?,
            ));
        }
        let mut light = Light {
            curves: Default::default(),
            slopes: [(0.0, 0.0); 3],
            gains: [1.0; 3],
        };
        for n in 0..3 {
            let ladder = |grey: u8| {
                let same = seen
                    .iter()
                    .take(18)
                    .filter(move |(patch, _)| patch.grey == grey);
                same.map(|(_, value)| value[n]).sum::<f64>() / 2.0
            };
            if ladder(255) > BURNT {
                return Err(Ill::Bright);
            }
            if ladder(255) < LEAST_WHITE {
                return Err(Ill::Dark);
            }
            light.curves[n] =
                curve(card::GREYS.map(|grey| (ladder(grey), grey))).ok_or(Ill::Dark)?;
            let mut plane = LeastSquares::of(3);
            for (patch, value) in &seen {
                let off = light.by_curve(n, value[n]) / patch.gives_back();
                let (x, y) = middle(patch);
                // What is almost black says little of the light.
                if off > 0.0 && patch.grey > 100 && value[n] < BURNT {
                    plane.add(&[x / 100.0, y / 100.0, 1.0], off.ln());
                }
            }
            let slopes = plane.solved().ok_or(Ill::Dark)?;
            light.slopes[n] = (slopes[0] / 100.0, slopes[1] / 100.0);
        }
        if let Some(part) = grey_card {
            let seen = median(picture, plane, GREY_CARD, 0.4).ok_or(Ill::Bent)?;
            let [x, y, w, h] = GREY_CARD;
            let place = (x + w / 2.0, y + h / 2.0);
            light.gains = light.at(seen, place).map(|seen| part / seen.max(0.01));
        }
        Ok(light)
    }

    fn by_curve(&self, n: usize, value: f64) -> f64 {
        let curve = &self.curves[n];
        let at = value * FINE as f64;
        let below = (at as usize).min(curve.len() - 2);
        let part = at - below as f64;
        curve[below] * (1.0 - part) + curve[below + 1] * part
    }

    /// The light that is given back at a place of the card's frame, as it would be in the light at the middle of the
    /// card.
    pub(super) fn at(&self, rgb: [f64; 3], place: (f64, f64)) -> [f64; 3] {
        std::array::from_fn(|n| self.by_curve(n, rgb[n]) / self.level(n, place) * self.gains[n])
    }

    /// How much more light there is at a place than at the middle of the card.
    pub(super) fn level(&self, n: usize, (x, y): (f64, f64)) -> f64 {
        let (along, across) = self.slopes[n];
        (along * (x - MIDDLE.0) + across * (y - MIDDLE.1))
            .clamp(-2.0, 2.0)
            .exp()
    }
}

fn middle(patch: &Patch) -> (f64, f64) {
    let [x, y, w, h] = patch.area;
    (x + w / 2.0 - MIDDLE.0, y + h / 2.0 - MIDDLE.1)
}

/// The curve from a pixel's value to light, through the greys of the card: a fair one, of the values as they are
/// encoded, since those of a telephone are nearly even steps in it. Beyond white and black it goes on as it ends.
fn curve(greys: [(f64, u8); 9]) -> Option<Vec<f64>> {
    let mut knots: Vec<(f64, f64)> = Vec::new();
    for (value, grey) in greys.into_iter().rev() {
        if knots.last().is_none_or(|(last, _)| value > last + APART) {
            knots.push((value, encoded(gives_back(grey))));
        }
    }
    let [first, second, .., before, last] = knots.as_slice() else {
        return None;
    };
    let steep = |(x0, y0): (f64, f64), (x1, y1): (f64, f64)| (y1 - y0) / (x1 - x0);
    let (start, end) = (steep(*first, *second), steep(*before, *last));
    let fair = Fair::through(&knots);
    let at = |value: f64| {
        if value < first.0 {
            first.1 - start * (first.0 - value)
        } else if value > last.0 {
            last.1 + end * (value - last.0)
        } else {
            fair.at(value)
        }
    };
    let values = 0..=255 * FINE;
    Some(
        values
            .map(|n| linear(at(n as f64 / FINE as f64).clamp(0.0, 1.2)))
            .collect(),
    )
}

/// The median of each colour over the middle of an area of the card.
fn median(picture: &Picture, plane: &Plane, [x, y, w, h]: [f64; 4], part: f64) -> Option<[f64; 3]> {
    const STEPS: usize = 16;
    let mut all: [Vec<f64>; 3] = Default::default();
    for (i, j) in (0..STEPS).flat_map(|j| (0..STEPS).map(move |i| (i, j))) {
        let at = |n: usize| 0.5 + part * ((n as f64 + 0.5) / STEPS as f64 - 0.5);
        let rgb = picture.at(plane.at((x + w * at(i), y + h * at(j))))?;
        all.iter_mut()
            .zip(rgb)
            .for_each(|(all, value)| all.push(value));
    }
    Some(all.map(|mut values| {
        values.sort_by(f64::total_cmp);
        (values[values.len() / 2] + values[(values.len() - 1) / 2]) / 2.0
    }))
}
