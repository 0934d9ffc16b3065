//! A real boat, as printed. Figures: tests/reference/offsets_american_cruising_canoe_1883.csv and its source note.

use crate::lines::panel::{STRIP, drawn, smooth};
use twinstrake::lines::courses;

/// Half-girths of stations 1 to 13 as chains of chords, from the source note. Unit: mm.
const CHORDS: [f64; 13] = [
    401.50, 428.45, 459.94, 489.38, 525.36, 550.01, 567.37, 564.58, 539.27, 505.25, 458.10, 407.20,
    364.70,
];

/// Stations 1 to 13: points from the deck edge to the rabbet. Unit: mm.
pub fn sections() -> Vec<Vec<[f64; 3]>> {
    let path = format!(
        "{}/tests/reference/offsets_american_cruising_canoe_1883.csv",
        env!("CARGO_MANIFEST_DIR")
    );
    let mut reader = csv::Reader::from_path(path).unwrap();
    let header: Vec<String> = reader
        .headers()
        .unwrap()
        .iter()
        .map(str::to_owned)
        .collect();
    let mut sections = Vec::new();
    for row in reader.records().map(Result::unwrap) {
        let cell = |name: &str| {
            let i = header.iter().position(|column| column == name).unwrap();
            let suspect = &row[header
                .iter()
                .position(|column| column == "suspect")
                .unwrap()];
            let text = if !suspect.is_empty() && name.starts_with(suspect) {
                &row[header
                    .iter()
                    .position(|c| c == "suggested_eighths")
                    .unwrap()]
            } else {
                &row[i]
            };
            text.parse::<f64>().unwrap_or(0.0) * 25.4 / 8.0
        };
        let station: usize = row[0].parse().unwrap();
        if !(1..=13).contains(&station) {
            continue;
        }
        let x = 12.0 * 25.4 * station as f64;
        let mut points = vec![[
            x,
            cell("deck_half_breadth_eighths"),
            cell("deck_height_eighths"),
        ]];
        for (column, inches) in [
            ("half_breadth_at_6in_eighths", 6.0),
            ("half_breadth_at_4in_eighths", 4.0),
            ("half_breadth_at_2in_eighths", 2.0),
        ] {
            points.push([x, cell(column), inches * 25.4]);
        }
        points.push([x, 0.0, cell("rabbet_height_eighths")]);
        sections.push(points);
    }
    sections
}

#[test]
fn the_girths_of_a_printed_canoe_are_between_its_chords_and_one_percent_more() {
    let sections = sections();
    assert_eq!(sections.len(), 13);
    for (points, chords) in sections.iter().zip(CHORDS) {
        let girth = smooth(points).length();
        assert!(
            girth >= chords - 0.01 && girth < 1.01 * chords,
            "{girth} for {chords}"
        );
    }
}

#[test]
fn no_section_of_a_printed_canoe_sinks_below_its_rabbet_or_swells_beyond_its_points() {
    for points in sections() {
        let section = smooth(&points);
        let most = points.iter().map(|point| point[1]).fold(0.0, f64::max);
        let rabbet = points[4][2];
        for i in 0..=1000 {
            let [_, y, z] = section.at(section.length() * f64::from(i) / 1000.0);
            assert!(z > rabbet - 1e-9, "{z} under {rabbet} at {}", points[0][0]);
            // An eighth of an inch: the table is printed to that.
            assert!(y < most + 3.2, "{y} beyond {most} at {}", points[0][0]);
        }
    }
}

#[test]
fn a_printed_canoe_can_be_planked() {
    let all = courses(&drawn(&sections(), smooth), STRIP).unwrap();
    // The fullest section is between 567.4 mm and 1 % more round: 29 courses of 20 mm.
    assert_eq!(all.len(), 29);
    let first = &all[0].course;
    // The deck edge of stations 1 to 13 as a chain of chords is a lower limit, and a fair sheer is hardly longer.
    let edge: f64 = sections()
        .windows(2)
        .map(|pair| {
            let (a, b) = (pair[0][0], pair[1][0]);
            (0..3).map(|k| (a[k] - b[k]).powi(2)).sum::<f64>().sqrt()
        })
        .sum();
    let length = first.length.mm();
    assert!(
        length >= edge && length < 1.01 * edge,
        "{length} for {edge}"
    );
    for laid in &all {
        let course = &laid.course;
        assert!(
            course.length >= course.to - course.from,
            "{}",
            course.name()
        );
    }
}
