//! The forms, and bands that the stop line cuts.

use twinstrake::hull::Toward;

use super::common::{boat, complete};
use super::drawn;
use super::reader::{groups, span};

#[test]
fn a_form_is_a_line_across_the_courses_that_cross_it_and_no_others() {
    // Course 1 crosses both forms, course 2 only the second.
    let job = boat()
        .panel("hull", Toward::Keel)
        .course(0.0, 4000.0)
        .crosses("F1", 400.0, 410.0)
        .crosses("F2", 2000.0, 2030.0)
        .course(1000.0, 4000.0)
        .crosses("F2", 2000.0, 1020.0)
        .build();
    let svg = drawn(&job, &complete(&job, Vec::new()));
    let forms = groups(&svg, "form");
    // On both sides of the boat.
    let counts: Vec<usize> = forms.iter().map(|form| form.lines.len()).collect();
    assert_eq!(counts, [2, 4]);
    assert_eq!(
        forms[0].told.as_deref(),
        Some("form F1, 400 mm from the bow")
    );
    // A form stands where the ruler says: under its own figure.
    let x = |form: usize| forms[form].lines[0][0].0;
    let rows = groups(&svg, "ruler");
    let figure = |text: &str| {
        rows[0]
            .words
            .iter()
            .find(|word| word.text == text)
            .unwrap()
            .at
            .0
    };
    assert!((x(0) - figure("400")).abs() < 0.01 && (x(1) - figure("2000")).abs() < 0.01);
    let names: Vec<String> = groups(&svg, "forms")[0]
        .words
        .iter()
        .map(|word| word.text.clone())
        .collect();
    assert_eq!(names, ["F1", "F1", "F2", "F2", "forms"]);
}

#[test]
fn a_boat_without_forms_is_drawn_without_them() {
    let job = boat()
        .panel("hull", Toward::Keel)
        .course(0.0, 4000.0)
        .build();
    let svg = drawn(&job, &complete(&job, Vec::new()));
    assert!(groups(&svg, "form").is_empty());
    assert!(!svg.contains(">forms<"));
}

#[test]
fn stretches_of_one_band_lie_in_one_row_each_with_its_letter() {
    let job = boat()
        .panel("hull", Toward::Keel)
        .course(0.0, 4000.0)
        .course(0.0, 1500.0)
        .called("2a")
        .course(2500.0, 4000.0)
        .called("2b")
        .course(0.0, 4000.0)
        .called("3")
        .build();
    let svg = drawn(&job, &complete(&job, Vec::new()));
    let open = groups(&svg, "open");
    let height = |name: &str| {
        let row = open
            .iter()
            .find(|row| row.fact("course") == name && row.fact("side") == "port")
            .unwrap();
        span(&row.outlines[0], |point| point.1)
    };
    assert_eq!(height("2a"), height("2b"));
    assert!(height("1").1 <= height("2a").0 + 0.01 && height("2a").1 <= height("3").0 + 0.01);
}
