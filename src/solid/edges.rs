//! The edges of a panel's courses as lines in space, from the start line to the stop line.

use crate::hull::{PanelId, Toward};
use crate::lines::{Band, CourseEdge, Curve, PanelShape, Point, bands, length, sub};

/// How far fore and aft of a place the direction of an edge is taken. Unit: millimetre.
const BESIDE: f64 = 2.0;
/// Edges nearer to each other than this are one: there a course has run out. Unit: millimetre.
const TOGETHER: f64 = 0.5;

/// The edges of a panel of which offsets are known.
pub(super) struct Edges<'t> {
    told: &'t PanelShape,
    bands: Vec<Band>,
    /// The edge toward the start line of each stretch of each band.
    lines: Vec<Vec<CourseEdge>>,
    /// The stop line.
    stop: Curve,
}

impl<'t> Edges<'t> {
    /// `None` where only girths are known.
    pub(super) fn of(told: &'t PanelShape, width: f64) -> Option<Edges<'t>> {
        let sections = told.sections.as_ref()?;
        let bands = bands(told, width, crate::lines::MOST);
        let line = |band: &Band| {
            let stretches = band.stretches.iter();
            stretches
                .map(|(from, to)| CourseEdge::of(told, band, *from, *to))
                .collect()
        };
        let ends: Vec<Point> = sections.iter().map(|s| s.at(s.length())).collect();
        Some(Edges {
            told,
            lines: bands.iter().map(line).collect(),
            bands,
            stop: Curve::through(&ends),
        })
    }

    /// The panel that they are of.
    pub(super) fn panel(&self) -> PanelId {
        self.told.panel
    }

    /// The band of a number, and its place among them.
    pub(super) fn band(&self, number: u32) -> Option<(usize, &Band)> {
        let mut all = self.bands.iter().enumerate();
        all.find(|(_, band)| band.number == number)
    }

    /// The line of a stretch of a band.
    pub(super) fn line(&self, band: usize, stretch: usize) -> Option<&CourseEdge> {
        self.lines.get(band)?.get(stretch)
    }

    /// Where the skin is known best, at the forms; and where courses begin and end, as there the edge of their
    /// neighbours has a corner.
    pub(super) fn stations(&self) -> impl Iterator<Item = f64> + '_ {
        let ends = self.bands.iter().flat_map(|band| &band.stretches);
        let ends = ends.flat_map(|(from, to)| [*from, *to]);
        ends.chain(self.told.girth.places().iter().copied())
    }

    /// The edge of a number at a place along the boat: 0 is the start line, that after the last band the stop line.
    /// Where its band has run out it lies on the next edge that is there.
    pub(super) fn at(&self, edge: usize, x: f64) -> Point {
        let there = self.bands.iter().zip(&self.lines).skip(edge);
        for (band, lines) in there {
            let here = band.stretches.iter().zip(lines);
            for ((from, to), skin) in here {
                if *from <= x
                    && x <= *to
                    && let Some(point) = skin.point(skin.along_at(x))
                {
                    return point;
                }
            }
        }
        self.stop.at(self.stop.along_at(x))
    }

    /// Which way the skin looks at an edge: out of the boat, of length 1.
    pub(super) fn outward(&self, edge: usize, x: f64) -> Point {
        let (from, to) = (self.told.from(), self.told.to());
        let fore = self.at(edge, (x - BESIDE).max(from));
        let aft = self.at(edge, (x + BESIDE).min(to));
        let along = sub(aft, fore);
        let here = self.at(edge, x);
        // Across: from the nearest edge before that is another to the nearest one after.
        let apart = |point: &Point| length(sub(*point, here)) > TOGETHER;
        let before = (0..edge).rev().map(|e| self.at(e, x)).find(apart);
        let after = (edge + 1..=self.bands.len())
            .map(|e| self.at(e, x))
            .find(apart);
        let across = sub(after.unwrap_or(here), before.unwrap_or(here));
        let out = cross(along, across);
        let out = match self.told.toward {
            Toward::Keel => out,
            Toward::Deck => out.map(|part| -part),
        };
        unit(out).unwrap_or([0.0, 1.0, 0.0])
    }
}

pub(super) fn cross(a: Point, b: Point) -> Point {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// The same direction, of length 1; `None` of no length.
pub(super) fn unit(a: Point) -> Option<Point> {
    let length = length(a);
    (length > 1e-12).then(|| a.map(|part| part / length))
}
