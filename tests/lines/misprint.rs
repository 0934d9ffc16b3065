//! Figures that stand out of a printed table, with each figure of it spoiled in turn.

use crate::lines::canoe::sections;
use crate::lines::wigley::{L, section};
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

/// A table to spoil, and which of its figures were measured: point, and half-breadth or height.
struct Table {
    x: Vec<f64>,
    sections: Sections,
    measured: Vec<(usize, usize)>,
    grain: f64,
}

fn canoe_table() -> Table {
    let (x, sections) = table();
    Table {
        x,
        sections,
        measured: PRINTED.to_vec(),
        grain: EIGHTH,
    }
}

/// A panel of the demo, at the forms that have as many points: its topside turns quickly where the bottom begins.
fn demo_panel(panel: &str) -> Table {
    let read = |file: &str| {
        let path = format!("{}/demo-stock/{file}", env!("CARGO_MANIFEST_DIR"));
        let mut reader = csv::Reader::from_path(path).unwrap();
        let rows = reader.records().map(|row| {
            let row = row.unwrap();
            row.iter().map(str::to_owned).collect::<Vec<_>>()
        });
        rows.collect::<Vec<_>>()
    };
    let offsets = read("offsets.csv");
    let mut table = Table {
        x: Vec::new(),
        sections: Vec::new(),
        measured: (0..6).flat_map(|point| [(point, 0), (point, 1)]).collect(),
        grain: 2.0,
    };
    for form in read("forms.csv") {
        let own = offsets
            .iter()
            .filter(|row| row[0] == form[0] && row[1] == panel);
        let points: Vec<[f64; 2]> = own
            .map(|row| [3, 4].map(|column| row[column].parse().unwrap()))
            .collect();
        if points.len() == 6 {
            table.x.push(form[1].parse().unwrap());
            table.sections.push(points);
        }
    }
    table
}

/// The Wigley hull to whole millimetres; its half-breadths but those on the keel, which are nothing everywhere.
fn wigley_table() -> Table {
    let x: Vec<f64> = (1..12).map(|i| L * f64::from(i) / 12.0).collect();
    let section = |x: &f64| -> Vec<[f64; 2]> {
        let points = section(*x, 5).into_iter();
        points.map(|[_, y, z]| [y.round(), z.round()]).collect()
    };
    Table {
        sections: x.iter().map(section).collect(),
        x,
        measured: (0..4).map(|point| (point, 0)).collect(),
        grain: 2.0,
    }
}

/// Of errors so large, either way and of each figure in turn, how many are found, and how many there are.
fn found(table: &Table, error: f64) -> (usize, usize) {
    let (mut hits, mut all) = (0, 0);
    for form in 0..table.x.len() {
        for &(point, k) in &table.measured {
            for error in [error, -error] {
                let mut spoiled = table.sections.clone();
                spoiled[form][point][k] += error;
                // Nobody writes a half-breadth below nothing.
                if spoiled[form][point][0] < 0.0 {
                    continue;
                }
                all += 1;
                let told = misprints(&table.x, &spoiled, table.grain);
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

fn tables() -> [(&'static str, Table); 4] {
    [
        ("canoe", canoe_table()),
        ("topside of the demo", demo_panel("topside")),
        ("bottom of the demo", demo_panel("bottom")),
        ("Wigley", wigley_table()),
    ]
}

#[test]
fn tables_without_misprints_raise_no_alarm() {
    for (name, table) in tables() {
        assert_eq!(
            misprints(&table.x, &table.sections, table.grain),
            [],
            "{name}"
        );
    }
}

#[test]
fn of_misprints_by_an_inch_nineteen_in_twenty_are_found_and_by_half_an_inch_four_in_five() {
    for (name, table) in tables() {
        for (error, percent) in [(25.4, 95), (12.7, 80)] {
            let (hits, all) = found(&table, error);
            println!("{name}, {error} mm: {hits} of {all}");
            assert!(hits * 100 >= all * percent, "{name}: {hits} of {all}");
        }
    }
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
