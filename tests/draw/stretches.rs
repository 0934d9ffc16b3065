//! Bands that the stop line cuts.

use twinstrake::hull::Toward;

use super::common::{boat, complete};
use super::drawn;
use super::reader::{groups, span};

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
