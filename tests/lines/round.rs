//! Circles, cylinders and cones: girths, bevels and lengths in closed form.

use crate::lines::near;
use crate::lines::panel::{STRIP, drawn, length_by_chords, smooth, taped};
use std::f64::consts::PI;
use twinstrake::hull::Toward;
use twinstrake::lines::{Curve, PanelShape, bevel, courses, gape, radius};
use twinstrake::plan::{Edge, Edges};

/// Half a circle of radius r at a station, from the sheer straight down and in to the keel: a quarter turn.
pub fn quarter(x: f64, r: f64, points: usize) -> Vec<[f64; 3]> {
    (0..points)
        .map(|i| {
            let turn = 0.5 * PI * i as f64 / (points - 1) as f64;
            [x, r * turn.cos(), -r * turn.sin()]
        })
        .collect()
}

#[test]
fn a_quarter_circle_by_five_points_has_the_girth_of_a_quarter_circle() {
    let found = Curve::through(&quarter(0.0, 300.0, 5)).length();
    // The turn from point to point is 22.5 degrees.
    near(found, 300.0 * 0.5 * PI, 0.001, "girth");
}

#[test]
fn strips_of_width_w_on_radius_r_turn_by_twice_the_arc_sine_of_w_over_2r() {
    for (r, w) in [(300.0, 20.0), (100.0, 20.0), (40.0, 19.0), (1000.0, 12.0)] {
        let known = 2.0 * f64::asin(w / (2.0 * r)).to_degrees();
        let section = Curve::through(&quarter(0.0, r, 9));
        let seam = 0.5 * section.length();
        let down = bevel(&section, seam, w, w, Toward::Keel).unwrap();
        near(down, known, 0.01, (r, w));
        // Planked the other way, the same section from keel to sheer, it bulges as much.
        let mut points = quarter(0.0, r, 9);
        points.reverse();
        let up = bevel(&Curve::through(&points), seam, w, w, Toward::Deck).unwrap();
        near(up, known, 0.01, (r, w));
        near(radius(w, down), r, 0.002 * r, "radius");
    }
}

#[test]
fn a_hollow_has_the_bevel_of_a_bulge_with_its_sign_turned() {
    let hollow: Vec<[f64; 3]> = quarter(0.0, 100.0, 9)
        .into_iter()
        .map(|[x, y, z]| [x, 100.0 - y, -100.0 - z])
        .rev()
        .collect();
    // From (100, -0)... down: still from start line to stop line, but curving outward below.
    let section = Curve::through(&hollow);
    let found = bevel(&section, 0.5 * section.length(), 20.0, 20.0, Toward::Keel).unwrap();
    let known = 2.0 * (0.1_f64).asin().to_degrees();
    assert!((found.abs() - known).abs() < 0.01, "{found}");
    assert!(found < 0.0, "{found}");
}

#[test]
fn a_flat_skin_has_no_bevel_and_no_gape() {
    let section = Curve::through(&[
        [0.0, 500.0, 0.0],
        [0.0, 300.0, -200.0],
        [0.0, 100.0, -400.0],
    ]);
    let found = bevel(&section, 250.0, 20.0, 20.0, Toward::Keel).unwrap();
    assert!(found.abs() < 1e-9);
    assert_eq!(gape(Edges::Square, 6.0, 0.0), 0.0);
}

#[test]
fn square_edges_gape_by_the_thickness_times_the_turn() {
    // Two square edges that meet at their inner corners, 10 degrees from each other: the outer corners lie on the two
    // other sides of a triangle with two sides of 6 mm and 10 degrees between them, so by the law of cosines:
    let known = (72.0_f64 - 72.0 * 10.0_f64.to_radians().cos()).sqrt();
    assert!((gape(Edges::Square, 6.0, 10.0) - known).abs() < 1e-9);
    assert!((gape(Edges::Square, 6.0, -10.0) - known).abs() < 1e-9);
    // A bead turns in its cove and hardly opens.
    let edges = Edges::BeadAndCove { next_edge: Edge::A };
    assert!(gape(edges, 6.0, 10.0) < 0.05 * known);
}

#[test]
fn courses_on_a_cylinder_are_as_long_as_the_cylinder_and_full_width_everywhere() {
    let tube: Vec<_> = [0.0, 700.0, 1500.0, 3000.0]
        .map(|x| quarter(x, 200.0, 9))
        .to_vec();
    let all = courses(&drawn(&tube, smooth), STRIP).unwrap();
    // A quarter of 200 mm radius is 314.16 mm round: 15 whole courses and one of 14.16 mm.
    assert_eq!(all.len(), 16);
    for laid in &all {
        assert!((laid.course.length.mm() - 3000.0).abs() < 0.002);
        let width = if laid.course.number == 16 {
            100.0 * PI - 300.0
        } else {
            20.0
        };
        for crossing in &laid.course.crossings {
            near(crossing.width.mm(), width, 0.002, laid.course.number);
        }
        assert!(laid.bow_taper.is_none() && laid.stern_taper.is_none());
    }
}

/// A cone with its apex forward of the bow, seen in development: distances from the apex are kept, and a girth g from
/// the start line at distance ρ is a turn of g/ρ. So a course's edge at girth g is the curve (ρ, g/ρ) in polar
/// coordinates, and its length ∫ √(1 + (ρ·d(g/ρ)/dρ)²) dρ = ∫ √(1 + (g/ρ)²) dρ.
#[test]
fn courses_on_a_cone_are_as_long_as_in_its_development() {
    let slope: f64 = 0.25; // radius to distance from the apex along the axis
    let cone = |forms: usize| -> PanelShape {
        let sections: Vec<_> = (0..forms)
            .map(|i| {
                let x = 800.0 + 2400.0 * i as f64 / (forms - 1) as f64;
                quarter(x, slope * x, 13)
            })
            .collect();
        drawn(&sections, smooth)
    };
    let rho = |x: f64| x * (1.0 + slope * slope).sqrt();
    let length = |g: f64, from: f64, to: f64| {
        // ∫ √(1 + (g/ρ)²) dρ = √(ρ² + g²) − g·asinh(g/ρ)
        let upto =
            |r: f64| (r * r + g * g).sqrt() - if g > 0.0 { g * (g / r).asinh() } else { 0.0 };
        upto(rho(to)) - upto(rho(from))
    };
    for laid in courses(&cone(9), STRIP).unwrap() {
        let course = &laid.course;
        let girth = f64::from(course.number - 1) * STRIP.width;
        // The girth is 0.5π·slope·x, so the course begins where that is spent.
        let begins = (girth / (0.5 * PI * slope)).max(800.0);
        near(course.from.mm(), begins, 0.01, course.number);
        let known = length(girth, begins, 3200.0);
        near(course.length.mm(), known, 1.0, course.number);
    }
}

#[test]
fn the_length_of_a_helix_comes_out_of_its_points() {
    let helix = |turn: f64| [100.0 * turn, 300.0 * turn.cos(), 300.0 * turn.sin()];
    let points: Vec<_> = (0..=16).map(|i| helix(PI * f64::from(i) / 16.0)).collect();
    let found = Curve::through(&points).length();
    let known = PI * 300.0_f64.hypot(100.0);
    near(found, known, 0.01, "helix");
    near(length_by_chords(helix, 0.0, PI), known, 1e-6, "by chords");
}

#[test]
fn measured_lengths_of_the_two_lines_count_where_there_are_no_offsets() {
    let mut told = taped(&[(0.0, 100.0), (1000.0, 100.0), (2000.0, 100.0)]);
    told.start_length = Some(2200.0);
    told.stop_length = Some(2000.0);
    let all = courses(&told, STRIP).unwrap();
    let lengths: Vec<f64> = all.iter().map(|laid| laid.course.length.mm()).collect();
    assert_eq!(lengths, [2200.0, 2160.0, 2120.0, 2080.0, 2040.0]);
}
