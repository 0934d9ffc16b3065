//! Bands of girth, and the stretches of the boat over which each is there.

use super::{Centre, PanelShape};
use crate::hull::Kind;

/// A course narrower than this everywhere is rounding, not wood. Unit: mm. Why so small: the widths of all courses at a
/// form are to add up to its girth; slivers that can be sawn but should not be are warned of, not dropped.
const NOTHING: f64 = 0.01;

/// What part of the girth a band covers. Unit: mm from the start line.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Covers {
    /// From one level to another, as far as the girth goes.
    Levels(f64, f64),
    /// From the stop line inwards: half of a course on the centreline.
    LastHalf(f64),
}

/// A course as a band of girth over a stretch of the boat.
#[derive(Clone, PartialEq, Debug)]
pub struct Band {
    /// Its number from the start line.
    pub number: u32,
    /// Mirrored or centre.
    pub kind: Kind,
    /// What it covers.
    pub covers: Covers,
    /// The stretches of the boat over which there is anything of it, from the bow aft.
    pub stretches: Vec<(f64, f64)>,
}

impl Band {
    /// The width of strip that shows at a place of a panel: both halves of a course on the centreline.
    pub fn width(&self, told: &PanelShape, x: f64) -> f64 {
        let girth = told.girth.at(x);
        let one_side = match self.covers {
            Covers::Levels(from, to) => to.min(girth - self.kept_free(told)) - from,
            Covers::LastHalf(half) => half.min(girth),
        };
        match self.kind {
            Kind::Mirrored => one_side.max(0.0),
            Kind::Centre => 2.0 * one_side.max(0.0),
        }
    }

    /// How much of the girth before the stop line is left to a course on the centreline.
    pub fn kept_free(&self, told: &PanelShape) -> f64 {
        match (told.centre, self.covers) {
            (Centre::Last, Covers::Levels(from, to)) => 0.5 * (to - from),
            _ => 0.0,
        }
    }

    /// How far from the start line it begins to be as wide as this; on a centre course both halves count. Unit of the
    /// result: mm of girth.
    pub fn girth_at_width(&self, told: &PanelShape, width: f64) -> f64 {
        let one_side = match self.kind {
            Kind::Mirrored => width,
            Kind::Centre => 0.5 * width,
        };
        match self.covers {
            Covers::Levels(from, _) => from + one_side + self.kept_free(told),
            Covers::LastHalf(_) => one_side,
        }
    }

    /// How far from the start line its edge toward the start line lies at a place where the girth is so much.
    pub fn level(&self, girth: f64) -> f64 {
        match self.covers {
            Covers::Levels(from, _) => from.min(girth),
            Covers::LastHalf(half) => (girth - half).max(0.0),
        }
    }
}

/// Every band of a panel, from the start line; at most `most`, which keeps nonsense from running on.
pub fn bands(told: &PanelShape, width: f64, most: u32) -> Vec<Band> {
    let mut bands = Vec::new();
    let mut from = 0.0;
    if told.centre == Centre::First {
        from = 0.5 * width;
        let covers = Covers::Levels(0.0, from);
        bands.extend(band(told, 1, Kind::Centre, covers, 0.0));
    }
    let before = bands.len() as u32;
    for i in 0.. {
        let level = from + f64::from(i) * width;
        let covers = Covers::Levels(level, level + width);
        let rises_to = match told.centre {
            Centre::Last => level + 0.5 * width,
            Centre::None | Centre::First => level,
        };
        match band(told, before + i + 1, Kind::Mirrored, covers, rises_to) {
            Some(band) if before + i < most => bands.push(band),
            _ => break,
        }
    }
    if told.centre == Centre::Last {
        let covers = Covers::LastHalf(0.5 * width);
        bands.extend(band(
            told,
            bands.len() as u32 + 1,
            Kind::Centre,
            covers,
            0.0,
        ));
    }
    bands
}

/// The band over the stretches where the girth rises above a level; `None` where there are none worth the name.
fn band(told: &PanelShape, number: u32, kind: Kind, covers: Covers, rises_to: f64) -> Option<Band> {
    let mut band = Band {
        number,
        kind,
        covers,
        stretches: Vec::new(),
    };
    let widest = |from: f64, to: f64| {
        let inside = told
            .girth
            .places()
            .iter()
            .filter(|x| from <= **x && **x <= to);
        let ends = [from, to];
        inside
            .chain(&ends)
            .map(|x| band.width(told, *x))
            .fold(0.0, f64::max)
    };
    band.stretches = told
        .girth
        .above(rises_to)
        .into_iter()
        .filter(|(from, to)| widest(*from, *to) > NOTHING)
        .collect();
    (!band.stretches.is_empty()).then_some(band)
}
