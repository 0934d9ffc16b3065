//! Where the card lies in a picture.

use super::card::{self, APART, Geometry, SIDE, Side};
use super::flatten::Picture;
use super::ill::Ill;
use super::plane::Plane;
use super::refine::{Fitted, refined};

/// A code that was read in a picture.
#[derive(Clone, PartialEq, Debug)]
pub struct Code {
    /// What it says.
    pub words: String,
    /// Its corners, from the upper left one: upper left, upper right, lower left, lower right, as the code lies.
    /// Unit: pixels, the middle of the first at 0, 0.
    pub corners: [(f64, f64); 4],
}

impl Code {
    /// How many pixels a module has along the upper edge, as far as that is a number.
    pub(super) fn module(&self) -> f64 {
        let [(x0, y0), (x1, y1), ..] = self.corners;
        let long = (x1 - x0).hypot(y1 - y0);
        // What is no number, or lies outside of any picture, is nothing to go by.
        if long < 1e5 {
            long / card::MODULES as f64
        } else {
            0.0
        }
    }

    /// The same in a picture of half the pixels each way.
    pub(super) fn halved(&self) -> Code {
        Code {
            words: self.words.clone(),
            corners: self
                .corners
                .map(|(x, y)| ((x - 0.5) / 2.0, (y - 0.5) / 2.0)),
        }
    }
}

/// Pixels a millimetre, below which nothing is measured: a module has two pixels then.
const LEAST_PER_MM: f64 = 1.1;
/// How far corners may lie from where the card has them. Unit: pixels.
const MOST_OFF: f64 = 4.0;

/// The map from the card to the picture.
pub(super) fn card(picture: &Picture, codes: &[Code], turned: bool) -> Result<Fitted, Ill> {
    let read: Vec<(Side, Geometry, &Code)> = codes
        .iter()
        .filter_map(|code| {
            card::understood(&code.words).map(|(side, geometry)| (side, geometry, code))
        })
        .collect();
    let on = |side: Side| read.iter().filter(move |code| code.0 == side);
    if read.is_empty() {
        return Err(without_a_card(picture));
    }
    if read.iter().any(|code| {
        code.1
            != Geometry {
                side: SIDE,
                apart: APART,
            }
    }) {
        return Err(Ill::OtherCard);
    }
    if on(Side::Left).count() > 1 || on(Side::Right).count() > 1 {
        return Err(Ill::TwoCards);
    }
    let pairs =
        |code: &(Side, Geometry, &Code)| card::corners(code.0).into_iter().zip(code.2.corners);
    let all: Vec<_> = read.iter().flat_map(pairs).collect();
    let plane = Plane::through(&all).ok_or(Ill::Bent)?;
    let (right, down) = card::SIZE;
    let whole = [(0.0, 0.0), (right, 0.0), (0.0, down), (right, down)]
        .iter()
        .all(|corner| picture.holds(plane.at(*corner), 1.0));
    let [(only, ..)] = read.as_slice() else {
        let off = |((x, y), seen): &((f64, f64), (f64, f64))| {
            let there = plane.at((*x, *y));
            (there.0 - seen.0).hypot(there.1 - seen.1)
        };
        // What is no number is off as well.
        if all
            .iter()
            .any(|pair| off(pair).is_nan() || off(pair) > MOST_OFF)
        {
            return Err(Ill::Bent);
        }
        if !whole {
            return Err(Ill::CardCutOff(Side::Left));
        }
        return upright(picture, &plane, turned);
    };
    Err(match whole {
        true => Ill::OneCode(*only),
        false => Ill::CardCutOff(*only),
    })
}

fn upright(picture: &Picture, plane: &Plane, turned: bool) -> Result<Fitted, Ill> {
    let (left, right) = (
        plane.at((0.0, card::LEFT.1)),
        plane.at((card::SIZE.0, card::LEFT.1)),
    );
    let (x, y) = (right.0 - left.0, right.1 - left.1);
    let on_its_head = x < 0.0 && x.abs() > y.abs();
    if on_its_head && !turned {
        return Err(Ill::UpsideDown);
    }
    let per_mm = x.hypot(y) / card::SIZE.0;
    if per_mm < LEAST_PER_MM {
        return Err(Ill::Far { per_mm });
    }
    refined(picture, plane).ok_or(Ill::Bent)
}

/// How light the lightest hundredth of a picture must be. Unit: grey, 0 to 255. Common practice, no source.
const LEAST_LIGHT: usize = 60;
/// The steepest thousandth of the steps from pixel to pixel, as a part of the whole contrast, below which nothing is
/// sharp: a step blurred over 2.7 pixels (standard deviation). The codes are read down to about 2.
const LEAST_SHARP: f64 = 0.15;

/// Why there may be no card to be seen.
fn without_a_card(picture: &Picture) -> Ill {
    let luma = picture.luma();
    let mut greys = [0_usize; 256];
    let mut steps = [0_usize; 256];
    for row in luma.chunks_exact(picture.wide.max(1)) {
        for pair in row.windows(2) {
            greys[usize::from(pair[0])] += 1;
            steps[usize::from(pair[0].abs_diff(pair[1]))] += 1;
        }
    }
    let above = |counts: &[usize; 256], part: f64| {
        let wanted = (counts.iter().sum::<usize>() as f64 * part) as usize;
        let mut sum = 0;
        (0..256).rev().find(|n| {
            sum += counts[*n];
            sum > wanted
        })
    };
    let light = above(&greys, 0.01).unwrap_or(0);
    if light < LEAST_LIGHT {
        return Ill::Dark;
    }
    let contrast = light
        .saturating_sub(above(&greys, 0.99).unwrap_or(0))
        .max(1);
    let sharp = above(&steps, 0.001).unwrap_or(0) as f64 / contrast as f64;
    match sharp < LEAST_SHARP {
        true => Ill::Blurred,
        false => Ill::NoCard,
    }
}
