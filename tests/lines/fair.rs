//! The curve through the girths.

use twinstrake::lines::Fair;

/// Source: F. N. Fritsch, R. E. Carlson, "Monotone Piecewise Cubic Interpolation", SIAM J. Numer. Anal. 17 (1980),
/// table of the RPN 14 radiochemical data, as commonly reprinted (from memory; only the property is tested, not the
/// values between).
const RPN14: [(f64, f64); 9] = [
    (7.99, 0.0),
    (8.09, 2.764_29e-5),
    (8.19, 4.374_98e-2),
    (8.7, 0.169_183),
    (9.2, 0.469_428),
    (10.0, 0.943_740),
    (12.0, 0.998_636),
    (15.0, 0.999_919),
    (20.0, 0.999_994),
];

#[test]
fn girths_that_only_grow_are_joined_by_a_curve_that_only_grows_and_never_passes_them() {
    let fair = Fair::through(&RPN14);
    let mut last = 0.0;
    for i in 0..=12_010 {
        let value = fair.at(7.99 + f64::from(i) / 1000.0);
        assert!(
            value >= last && value <= 0.999_994,
            "{i}: {value} after {last}"
        );
        last = value;
    }
}

#[test]
fn a_straight_line_stays_straight() {
    let fair = Fair::through(&[(0.0, 100.0), (300.0, 130.0), (1000.0, 200.0)]);
    for x in [0.0, 1.0, 299.0, 555.5, 1000.0] {
        assert!((fair.at(x) - (100.0 + 0.1 * x)).abs() < 1e-9);
    }
}

#[test]
fn a_smooth_girth_is_met_better_the_more_forms_there_are() {
    let girth = |x: f64| 300.0 * (x / 1000.0).sin();
    let worst = |forms: u32| {
        let points: Vec<_> = (0..=forms)
            .map(|i| 3000.0 * f64::from(i) / f64::from(forms))
            .map(|x| (x, girth(x)))
            .collect();
        let fair = Fair::through(&points);
        (0..=3000)
            .map(|x| (fair.at(f64::from(x)) - girth(f64::from(x))).abs())
            .fold(0.0, f64::max)
    };
    // Where the girth turns the curve may not overshoot, which costs it an order there: fourfold for twice the forms,
    // sixteenfold for four times, more or less by where the forms happen to stand about the turn.
    assert!(worst(8) / worst(32) > 8.0, "{} {}", worst(8), worst(32));
    assert!(worst(16) / worst(64) > 8.0, "{} {}", worst(16), worst(64));
    assert!(worst(64) < 0.1, "{}", worst(64));
}

#[test]
fn a_girth_that_dips_below_a_level_is_above_it_in_two_stretches() {
    let fair = Fair::through(&[
        (0.0, 50.0),
        (500.0, 110.0),
        (1000.0, 90.0),
        (1500.0, 120.0),
        (2000.0, 0.0),
    ]);
    let above = fair.above(100.0);
    assert_eq!(above.len(), 2);
    for (from, to) in above {
        for end in [from, to] {
            assert!((fair.at(end) - 100.0).abs() < 1e-9);
        }
        assert!(fair.at(0.5 * (from + to)) > 100.0);
    }
}
