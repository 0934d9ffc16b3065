//! A panel to make courses from, in a few lines.

use twinstrake::hull::{FormId, PanelId, Toward};
use twinstrake::lines::{Bend, Centre, Curve, Fair, Fit, PanelShape, Scantling};

pub const STRIP: Scantling = Scantling {
    width: 20.0,
    thickness: 6.0,
};

/// A panel of which only girths are known: (place, girth).
pub fn taped(girths: &[(f64, f64)]) -> PanelShape {
    PanelShape {
        panel: PanelId(0),
        toward: Toward::Keel,
        forms: (0..girths.len()).map(FormId).collect(),
        girth: Fair::through(girths),
        sections: None,
        bow_end: Fit::Stem,
        stern_end: Fit::Stem,
        stop: Fit::Free,
        bow_end_to: None,
        stern_end_from: None,
        centre: Centre::None,
        start_length: None,
        stop_length: None,
    }
}

/// A section without knuckles.
pub fn smooth(points: &[[f64; 3]]) -> Curve {
    let points: Vec<_> = points.iter().map(|point| (*point, Bend::Smooth)).collect();
    Curve::section(&points)
}

/// A panel whose sections are known: a list of points for each form, with the form's place first in each point.
pub fn drawn(sections: &[Vec<[f64; 3]>], section: impl Fn(&[[f64; 3]]) -> Curve) -> PanelShape {
    let curves: Vec<Curve> = sections.iter().map(|all| section(all)).collect();
    let girths: Vec<(f64, f64)> = sections
        .iter()
        .zip(&curves)
        .map(|(points, curve)| (points[0][0], curve.length()))
        .collect();
    PanelShape {
        sections: Some(curves),
        ..taped(&girths)
    }
}

/// The length of a curve by chords, extrapolated once: good to ten digits on anything smooth.
pub fn length_by_chords(curve: impl Fn(f64) -> [f64; 3], from: f64, to: f64) -> f64 {
    let chords = |n: usize| -> f64 {
        let point = |i: usize| curve(from + (to - from) * i as f64 / n as f64);
        (0..n)
            .map(|i| {
                let (a, b) = (point(i), point(i + 1));
                (0..3).map(|k| (a[k] - b[k]).powi(2)).sum::<f64>().sqrt()
            })
            .sum()
    };
    let (coarse, fine) = (chords(2000), chords(4000));
    fine + (fine - coarse) / 3.0
}
