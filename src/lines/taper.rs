//! An end of a course that narrows: how it is marked and cut.

use super::{Band, CourseEdge, PanelShape, Scantling};

/// How an end narrows. Unit of all lengths: mm along the skin from the tip, and mm of width.
#[derive(Clone, PartialEq, Debug)]
pub struct Taper {
    /// From the tip to where the strip is as wide as it gets.
    pub length: f64,
    /// Its width at the tip.
    pub tip: f64,
    /// Its width where the taper starts.
    pub start: f64,
    /// Distance from the tip and width there, from the tip inwards: points to join with a straight edge.
    pub line: Vec<(f64, f64)>,
    /// How far from the tip the strip is narrower than it is thick.
    pub sliver: f64,
}

/// An end that loses less than this does not narrow. Unit: mm. Common practice, no source: a stroke of the plane.
const NARROWS: f64 = 0.5;
/// How far a straight edge from point to point may stray from the line. Unit: mm. Common practice, no source: a pencil
/// line is as wide.
const PENCIL: f64 = 0.25;
/// How often a straight stretch of the line may be halved.
const HALVINGS: u32 = 5;

/// Which end.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Tip {
    Bow,
    Stern,
}

/// A part narrower than it is thick, and longer than so many times the thickness, won't lie still in the glue. Common
/// practice, no source.
const LOOSE: f64 = 10.0;

impl Taper {
    /// Whether the part next to the tip is such a sliver that it should not be glued until the end is trimmed. Unit of
    /// the thickness: mm.
    pub fn is_loose(&self, thickness: f64) -> bool {
        self.sliver > LOOSE * thickness
    }

    /// How a band narrows toward one end of a stretch of the boat; `None` where it does not.
    pub(super) fn of(
        told: &PanelShape,
        band: &Band,
        strip: Scantling,
        (from, to): (f64, f64),
        skin: &CourseEdge,
        tip: Tip,
    ) -> Option<Taper> {
        let at_tip = match tip {
            Tip::Bow => from,
            Tip::Stern => to,
        };
        let widths = told
            .girth
            .places()
            .iter()
            .filter(|x| from <= **x && **x <= to)
            .map(|x| (*x, band.width(told, *x)));
        let (at_widest, _) = widths.fold((at_tip, band.width(told, at_tip)), |best, next| {
            if next.1 > best.1 { next } else { best }
        });
        let reaches = |width: f64| {
            let level = band.girth_at_width(told, width);
            let stretches = told.girth.above(level).into_iter();
            let mut inside = stretches.filter(|(a, b)| from <= *a && *b <= to);
            match tip {
                Tip::Bow => inside.next().map(|(a, _)| a),
                Tip::Stern => inside.next_back().map(|(_, b)| b),
            }
        };
        // A hair less than all of it: the curve may only just touch full width.
        let full = reaches(strip.width * (1.0 - 1e-9)).unwrap_or(at_widest);
        let start = band.width(told, full);
        let tip_width = band.width(told, at_tip);
        if start - tip_width < NARROWS {
            return None;
        }
        let distance = |x: f64| (skin.along_at(x) - skin.along_at(at_tip)).abs();
        let width_at = |from_tip: f64| {
            let along = match tip {
                Tip::Bow => from_tip,
                Tip::Stern => skin.length() - from_tip,
            };
            band.width(told, skin.x_at(along))
        };
        let length = distance(full);
        let mut line = vec![(0.0, tip_width)];
        straight_edge(
            &width_at,
            (0.0, tip_width),
            (length, start),
            HALVINGS,
            &mut line,
        );
        let sliver = match reaches(strip.thickness) {
            Some(x) => distance(x),
            None => length,
        };
        Some(Taper {
            length,
            tip: tip_width,
            start,
            line,
            sliver,
        })
    }
}

/// Adds the points after `from` up to `to` between which a straight edge will do.
fn straight_edge(
    width_at: &impl Fn(f64) -> f64,
    from: (f64, f64),
    to: (f64, f64),
    halvings: u32,
    line: &mut Vec<(f64, f64)>,
) {
    let strays = [0.25, 0.5, 0.75].iter().any(|part| {
        let along = from.0 + part * (to.0 - from.0);
        let straight = from.1 + part * (to.1 - from.1);
        (width_at(along) - straight).abs() > PENCIL
    });
    if strays && halvings > 0 {
        let middle = 0.5 * (from.0 + to.0);
        let middle = (middle, width_at(middle));
        straight_edge(width_at, from, middle, halvings - 1, line);
        straight_edge(width_at, middle, to, halvings - 1, line);
    } else {
        line.push(to);
    }
}
