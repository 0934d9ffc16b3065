//! A line along the skin of a course: how far each station is from its bow end.

use super::curve::Point;
use super::{Band, Curve, PanelShape};
use crate::lines::Covers;

/// The edge of a course toward the start line, from its bow end to its stern end: the longer of its two edges where the
/// ends rake or run out, and the one on which its tips lie.
#[derive(Clone, PartialEq, Debug)]
pub struct CourseEdge {
    from: f64,
    to: f64,
    shape: Shape,
}

#[derive(Clone, PartialEq, Debug)]
enum Shape {
    /// From offsets: a curve in space.
    Curve(Curve),
    /// From girths alone: so many mm of skin to each mm along the boat.
    Rate(f64),
}

impl CourseEdge {
    /// The line of a band over a stretch of the boat.
    pub fn of(told: &PanelShape, band: &Band, from: f64, to: f64) -> CourseEdge {
        let shape = match &told.sections {
            Some(sections) => Shape::Curve(curve(told, sections, band, from, to)),
            None => Shape::Rate(rate(told, band)),
        };
        CourseEdge { from, to, shape }
    }

    /// Its length.
    pub fn length(&self) -> f64 {
        match &self.shape {
            Shape::Curve(curve) => curve.length(),
            Shape::Rate(rate) => rate * (self.to - self.from),
        }
    }

    /// How far along the skin a station lies from the bow end.
    pub fn along_at(&self, x: f64) -> f64 {
        match &self.shape {
            Shape::Curve(curve) => curve.along_at(x),
            Shape::Rate(rate) => rate * (x.clamp(self.from, self.to) - self.from),
        }
    }

    /// The place at a distance along the skin, as aft of the bow, out from the centreplane, up; `None` where only
    /// girths are known.
    pub fn point(&self, along: f64) -> Option<Point> {
        match &self.shape {
            Shape::Curve(curve) => Some(curve.at(along)),
            Shape::Rate(_) => None,
        }
    }

    /// The station at a distance along the skin.
    pub fn x_at(&self, along: f64) -> f64 {
        match &self.shape {
            Shape::Curve(curve) => curve.at(along)[0],
            Shape::Rate(rate) => (self.from + along / rate).clamp(self.from, self.to),
        }
    }
}

fn curve(told: &PanelShape, sections: &[Curve], band: &Band, from: f64, to: f64) -> Curve {
    let places = told.girth.places();
    let at_form = |section: &Curve| section.at(band.level(section.length()));
    let tip = |x: f64| match places.iter().position(|place| *place == x) {
        Some(i) => at_form(&sections[i]),
        None => {
            // Between forms a course ends on the stop line.
            let ends: Vec<Point> = sections
                .iter()
                .map(|section| match band.covers {
                    Covers::Levels(..) => section.at(section.length() - band.kept_free(told)),
                    Covers::LastHalf(_) => at_form(section),
                })
                .collect();
            let stop = Curve::through(&ends);
            stop.at(stop.along_at(x))
        }
    };
    let inside = places
        .iter()
        .zip(sections)
        .filter(|(x, _)| from < **x && **x < to)
        .map(|(_, section)| at_form(section));
    let mut points = vec![tip(from)];
    points.extend(inside);
    points.push(tip(to));
    Curve::through(&points)
}

fn rate(told: &PanelShape, band: &Band) -> f64 {
    let along = told.to() - told.from();
    let rate = |length: Option<f64>| length.map(|length| length / along);
    let (start, stop) = (rate(told.start_length), rate(told.stop_length));
    let (start, stop) = match (start, stop) {
        (Some(start), Some(stop)) => (start, stop),
        (Some(one), None) | (None, Some(one)) => (one, one),
        (None, None) => (1.0, 1.0),
    };
    let most = told.girth.most();
    let part = if most > 0.0 {
        band.level(most) / most
    } else {
        0.0
    };
    start + (stop - start) * part
}
