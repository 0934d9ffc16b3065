//! Answers known from outside: assignment and cutting-stock problems set in the planner's terms.
//!
//! Sources of data and optima: `reference/assignment/README.md`, `reference/cutting_stock/README.md`.

#![allow(clippy::unwrap_used)]

use crate::common;

use common::boat;
use std::fs;
use std::path::Path;
use twinstrake::check::check;
use twinstrake::hull::Toward;
use twinstrake::solve::exact::{Bars, Lengths, assign, pack};
use twinstrake::solve::problem::Problem;
use twinstrake::solve::search::lay_problem;
use twinstrake::solve::{Asked, Quiet, lay};
use twinstrake::units::{Colour, Length};

fn reference(name: &str) -> Vec<Vec<f64>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/reference")
        .join(name);
    let text = fs::read_to_string(&path).unwrap();
    let rows = text.lines().map(|line| {
        line.split(',')
            .map(str::parse)
            .collect::<Result<Vec<f64>, _>>()
    });
    // The first line of a cutting list is a header, and is no row of numbers.
    rows.filter_map(Result::ok).collect()
}

const ASSIGNMENTS: [(&str, f64); 5] = [
    ("own_5_mod97.csv", 76.0),
    ("own_8_mod97.csv", 121.0),
    ("own_8_mod11.csv", 3.0),
    ("own_20_mod997.csv", 1390.0),
    ("own_50_mod9973.csv", 13342.0),
];

#[test]
fn the_assignment_by_augmenting_paths_reaches_the_known_optimum() {
    for (file, optimum) in ASSIGNMENTS {
        let matrix = reference(&format!("assignment/{file}"));
        let flat: Vec<f64> = matrix.concat();
        let columns = assign(&flat, matrix.len());
        let cost: f64 = columns.iter().enumerate().map(|(i, &j)| matrix[i][j]).sum();
        assert_eq!(cost, optimum, "{file}");
    }
}

/// Every course a panel of its own, one metre long: no seams, no joints. Strips a… and b… are strays; facing each other
/// they differ by the matrix, and two of one letter by far too much. The cost is then the assignment of b to a.
#[test]
fn a_boat_without_seams_or_joints_is_an_assignment_and_is_solved_to_its_known_optimum() {
    for (file, optimum) in ASSIGNMENTS {
        let matrix = reference(&format!("assignment/{file}"));
        let n = matrix.len();
        let mut boat = boat();
        for i in 0..n {
            boat = boat
                .panel(&format!("panel {i}"), Toward::Keel)
                .course(0.0, 1000.0);
        }
        for i in 0..n {
            boat = boat.stray(&format!("a{i:03}"), 1100.0, Colour::shade(5));
            boat = boat.stray(&format!("b{i:03}"), 1100.0, Colour::shade(5));
        }
        let job = boat.weights(|w| (w.foster, w.cut) = (0.0, 0.0)).build();
        let problem = Problem::with_differences(&job, |i, j| match (i.min(j), i.max(j)) {
            (a, b) if a < n && b >= n => matrix[a][b - n],
            _ => 1e5,
        });
        let asked = Asked {
            seed: 1,
            rounds: Some(2),
            ..Asked::default()
        };
        let outcome = lay_problem(&job, &problem, &asked, &Quiet);
        assert!(outcome.plan.uncovered.is_empty());
        assert!(
            (outcome.cost.total() - optimum).abs() < 1e-6,
            "{file}: {} for {optimum}",
            outcome.cost.total()
        );
    }
}

/// File, length of a bar in the file's unit, kerf, optimum, and the unit in mm.
const CUTTINGS: [(&str, f64, f64, usize, f64); 4] = [
    ("csp_own_kerf_2440.csv", 2440.0, 3.0, 27, 1.0),
    ("csp_own_nokerf_2440.csv", 2440.0, 0.0, 25, 1.0),
    ("csp_woodco_17ft.csv", 17.0, 0.0, 19, 304.8),
    ("csp_paper_5600.csv", 5600.0, 0.0, 73, 1.0),
];

#[test]
fn packing_by_patterns_reaches_the_known_optimum() {
    for (file, bar, kerf, optimum, unit) in CUTTINGS {
        let lengths: Vec<Lengths> = reference(&format!("cutting_stock/{file}"))
            .iter()
            .map(|row| Lengths {
                length: Length::from_mm(row[0] * unit),
                count: row[1] as usize,
            })
            .collect();
        let bars = [Bars {
            room: Length::from_mm(bar * unit),
            count: 100,
        }];
        let fillings = pack(&bars, &lengths, Length::from_mm(kerf)).unwrap();
        assert_eq!(fillings.len(), optimum, "{file}");
    }
}

/// Every piece a centre course in a panel of its own, all strips alike, nothing but thrift in the cost: then the cost
/// counts the bars that are cut into.
#[test]
fn a_boat_of_short_courses_cuts_into_as_few_strips_as_the_known_optimum() {
    for (file, bar, kerf, optimum, unit) in CUTTINGS {
        let mut boat = boat();
        let mut panel = 0;
        for row in reference(&format!("cutting_stock/{file}")) {
            for _ in 0..row[1] as usize {
                panel += 1;
                boat = boat
                    .panel(&format!("panel {panel}"), Toward::Keel)
                    .centre(0.0, row[0] * unit);
            }
        }
        for strip in 0..optimum + 8 {
            boat = boat.stray(&format!("{strip:03}"), bar * unit, Colour::shade(5));
        }
        let mut job = boat.weights(|w| w.cut = 1.0).build();
        job.rules.joints.most = 0;
        job.rules.allow.fitted_end = Length::ZERO;
        job.rules.allow.free_end = Length::ZERO;
        job.rules.allow.saw = Length::from_mm(kerf);
        let asked = Asked {
            seed: 1,
            rounds: Some(0),
            // For the bound, which is not looked at here.
            seconds: Some(5.0),
            ..Asked::default()
        };
        let outcome = lay(&job, &asked, &Quiet);
        let verdict = check(&job, &outcome.plan);
        assert!(
            verdict.breaches.is_empty(),
            "{file}: {:?}",
            verdict.breaches
        );
        assert!(outcome.plan.uncovered.is_empty(), "{file}");
        assert_eq!(verdict.strips_cut, optimum, "{file}");
    }
}
