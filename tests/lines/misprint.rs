//! Figures that stand out of a printed table, with each figure of it spoiled in turn.

use crate::lines::canoe::sections;
use twinstrake::lines::{Misprint, Ordinate, misprints};

/// An eighth of an inch: what the table is printed to.
const EIGHTH: f64 = 25.4 / 8.0;

type Sections = Vec<Vec<[f64; 2]>>;

fn table() -> (Vec<f64>, Sections) {
    let all = sections();
    let x = all.iter().map(|points| points[0][0]).collect();
    let points = |section: &Vec<[f64; 3]>| section.iter().map(|[_, y, z]| [*y, *z]).collect();
    (x, all.iter().map(points).collect())
}

/// The figures that were printed: five half-breadths less that of the rabbet, and the heights of the deck and the
/// rabbet.
const PRINTED: [(usize, usize); 6] = [(0, 0), (1, 0), (2, 0), (3, 0), (0, 1), (4, 1)];

/// Of errors so large, either way and of each figure in turn, how many are found, and how many there are.
fn found(error: f64) -> (usize, usize) {
    let (x, clean) = table();
    let (mut hits, mut all) = (0, 0);
    for form in 0..x.len() {
        for (point, k) in PRINTED {
            for error in [error, -error] {
                let mut spoiled = clean.clone();
                spoiled[form][point][k] += error;
                if spoiled[form][point][k] < 0.0 {
                    continue;
                }
                all += 1;
                let told = misprints(&x, &spoiled, EIGHTH);
                hits += usize::from(told.iter().any(|one| {
                    let other = match one.ordinate {
                        Ordinate::HalfBreadth => 0,
                        Ordinate::Height => 1,
                    };
                    (one.form, one.point, other) == (form, point, k)
                }));
            }
        }
    }
    (hits, all)
}

#[test]
fn a_printed_table_without_misprints_raises_no_alarm() {
    let (x, clean) = table();
    assert_eq!(misprints(&x, &clean, EIGHTH), []);
}

#[test]
fn of_misprints_by_an_inch_nineteen_in_twenty_are_found() {
    let (hits, all) = found(25.4);
    println!("{hits} of {all}");
    assert!(hits * 100 >= all * 95, "{hits} of {all}");
}

#[test]
fn of_misprints_by_half_an_inch_four_in_five_are_found() {
    let (hits, all) = found(12.7);
    println!("{hits} of {all}");
    assert!(hits * 100 >= all * 80, "{hits} of {all}");
}

#[test]
fn half_an_inch_for_four_and_a_half_is_found_alone_with_what_would_fit() {
    // As printed: station 3, 2 in above the base line.
    let (x, mut spoiled) = table();
    assert_eq!(spoiled[2][3][0], 4.5 * 25.4);
    spoiled[2][3][0] = 0.5 * 25.4;
    let told = misprints(&x, &spoiled, EIGHTH);
    let [
        Misprint {
            form: 2,
            point: 3,
            ordinate: Ordinate::HalfBreadth,
            fits,
        },
    ] = told[..]
    else {
        panic!("{told:?}");
    };
    assert!((fits - 4.5 * 25.4).abs() < 2.0 * EIGHTH, "{fits}");
}

#[test]
fn a_hull_in_closed_form_raises_no_alarm_wherever_its_forms_stand() {
    // The Wigley hull, 5 m long, with forms closer at the ends: its waterlines are parabolas.
    for forms in [5, 8, 21] {
        let x: Vec<f64> = (0..forms)
            .map(|i| f64::from(i) / f64::from(forms - 1))
            .map(|part| 5000.0 * part * part * (3.0 - 2.0 * part))
            .collect();
        let section = |x: &f64| -> Vec<[f64; 2]> {
            let xi = 2.0 * x / 5000.0 - 1.0;
            let point = |part: f64| [250.0 * (1.0 - xi * xi) * (1.0 - part * part), -312.5 * part];
            (0..=4).map(|i| point(f64::from(i) / 4.0)).collect()
        };
        let sections: Sections = x.iter().map(section).collect();
        assert_eq!(misprints(&x, &sections, 2.0), [], "{forms}");
    }
}
