//! Sections that turn only where their points do: flat floors, straight sides, corners.

use crate::lines::near;
use crate::lines::panel::smooth;
use proptest::prelude::*;
use std::f64::consts::PI;
use twinstrake::lines::{Bend, Curve};

/// Half of a section with a straight side 200 mm high, a bilge of 100 mm radius and a flat floor 100 mm wide: points
/// down the side, round the bilge, and in over the floor to the centreplane.
fn flat_floored(round_bilge: u32, over_floor: u32) -> Vec<[f64; 3]> {
    let mut points: Vec<[f64; 3]> = (0..=4)
        .map(|i| [0.0, 200.0, 300.0 - 50.0 * f64::from(i)])
        .collect();
    points.extend((1..=round_bilge).map(|i| {
        let turn = 0.5 * PI * f64::from(i) / f64::from(round_bilge);
        [0.0, 100.0 + 100.0 * turn.cos(), 100.0 - 100.0 * turn.sin()]
    }));
    points.extend((1..=over_floor).map(|i| {
        [
            0.0,
            100.0 * (1.0 - f64::from(i) / f64::from(over_floor)),
            0.0,
        ]
    }));
    points
}

/// Points along a curve, a thousand from end to end.
fn walked(section: &Curve) -> Vec<[f64; 3]> {
    (0..=1000)
        .map(|i| section.at(section.length() * f64::from(i) / 1000.0))
        .collect()
}

#[test]
fn a_flat_floor_stays_flat_whether_it_has_one_point_or_three() {
    // 200 down the side, a quarter turn of 100, and 100 over the floor.
    let known = 200.0 + 50.0 * PI + 100.0;
    for bilge in [2, 4, 8] {
        for floor in [1, 2, 3] {
            let section = smooth(&flat_floored(bilge, floor));
            let found = section.length();
            near(found, known, 1e-4 * known, (bilge, floor));
            for [_, y, z] in walked(&section) {
                assert!(z > -1e-9 && y < 200.0 + 1e-9, "{y} {z}");
                assert!(y > 101.0 || z < 0.2, "the floor rises to {z} at {y}");
                assert!(z < 99.0 || y > 199.8, "the side falls in to {y} at {z}");
            }
        }
    }
}

#[test]
fn a_circle_by_nine_points_to_a_quadrant_is_a_circle_wherever_its_points_begin() {
    for start in [0.0, 0.3, 0.5, 0.9] {
        let step = 0.5 * PI / 8.0;
        let points: Vec<[f64; 3]> = (0..=16)
            .map(|i| step * (f64::from(i) + start))
            .map(|turn| [0.0, 500.0 + 300.0 * turn.cos(), -300.0 * turn.sin()])
            .collect();
        let section = smooth(&points);
        // Half the circle.
        let known = 300.0 * PI;
        let found = section.length();
        near(found, known, 1e-4 * known, start);
        for [_, y, z] in walked(&section) {
            let radius = (y - 500.0).hypot(z);
            assert!((radius - 300.0).abs() < 0.03, "{start}: {radius}");
        }
    }
}

#[test]
fn a_section_meets_its_mirror_image_on_the_centreline_without_a_corner() {
    // A V with a round foot, of which only the last point lies on the centreplane.
    let section = smooth(&[[0.0, 300.0, 300.0], [0.0, 150.0, 100.0], [0.0, 0.0, 0.0]]);
    let near = section.at(section.length() - 1.0);
    assert!(near[2] < 0.01 && (near[1] - 1.0).abs() < 0.01, "{near:?}");
}

#[test]
fn a_knuckle_breaks_the_curve_and_leaves_both_sides_straight() {
    use Bend::{Knuckle, Smooth};
    // A sharpie: side, chine, bottom with a corner at the keel.
    let points: [([f64; 3], Bend); 5] = [
        ([0.0, 400.0, 300.0], Smooth),
        ([0.0, 380.0, 150.0], Smooth),
        ([0.0, 360.0, 0.0], Knuckle),
        ([0.0, 180.0, -30.0], Smooth),
        ([0.0, 0.0, -60.0], Knuckle),
    ];
    let chords: f64 = points
        .windows(2)
        .map(|pair| (pair[0].0[1] - pair[1].0[1]).hypot(pair[0].0[2] - pair[1].0[2]))
        .sum();
    assert!((Curve::section(&points).length() - chords).abs() < 1e-9);
}

#[test]
fn without_its_knuckle_a_chine_between_two_points_a_side_is_rounded() {
    let points = [[0.0, 400.0, 300.0], [0.0, 360.0, 0.0], [0.0, 180.0, -30.0]];
    let chords = 40.0_f64.hypot(300.0) + 180.0_f64.hypot(30.0);
    assert!(smooth(&points).length() > chords + 1.0);
}

/// A bulging section: chords that turn inward from each to the next, from a sheer to wherever they lead.
fn bulging() -> impl Strategy<Value = Vec<[f64; 3]>> {
    prop::collection::vec((5.0..200.0_f64, 0.0..0.45_f64), 2..10).prop_map(|steps| {
        let mut way = -1.5_f64; // Nearly straight down, leaning out a little.
        let mut all = vec![[0.0, 600.0, 500.0]];
        for (long, turn) in steps {
            let last = all[all.len() - 1];
            all.push([0.0, last[1] + long * way.cos(), last[2] + long * way.sin()]);
            way -= turn;
        }
        all
    })
}

proptest! {
    #![proptest_config(ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::with_cases(300)
    })]

    #[test]
    fn a_section_whose_points_bend_to_one_side_bends_to_one_side(points in bulging()) {
        let walked = walked(&smooth(&points));
        for three in walked.windows(3) {
            let (one, other) = ([0, 1].map(|k| three[1][k + 1] - three[0][k + 1]), [0, 1].map(|k| three[2][k + 1] - three[1][k + 1]));
            let turn = one[0] * other[1] - one[1] * other[0];
            // Toward the keel the skin turns inward, to the right.
            prop_assert!(turn < 1e-7, "{turn} at {:?}", three[1]);
        }
    }

    #[test]
    fn a_section_whose_points_only_fall_only_falls(points in bulging()) {
        // Half-breadths may swell where points stand as close as on a circle with nine to a quadrant: there a sixteenth
        // of a right angle each way over the last span, by a quarter of its tangent.
        let longest = points.windows(2).map(|pair| (pair[0][1] - pair[1][1]).hypot(pair[0][2] - pair[1][2]));
        let swells = [0.0, 0.03 * longest.fold(0.0, f64::max), 1e-9];
        let section = smooth(&points);
        let chord = |i: usize, k: usize| points[i + 1][k] - points[i][k];
        let walked = walked(&section);
        for k in [1, 2] {
            let one_way = (0..points.len() - 1).all(|i| chord(i, k) < 0.0);
            if one_way {
                let mut least = f64::INFINITY;
                for point in &walked {
                    prop_assert!(point[k] < least + swells[k]);
                    least = least.min(point[k]);
                }
            }
        }
    }
}
