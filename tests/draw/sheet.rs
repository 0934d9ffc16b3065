//! The sheet: which course lies where, marks, ruler, open courses, size.

use crate::common::Says;
use std::collections::BTreeSet;

use twinstrake::hull::Toward;
use twinstrake::job::Job;
use twinstrake::units::Unit;

use super::common::{boat, complete};
use super::reader::{Group, groups};
use super::{drawn, small_boat};

#[test]
fn courses_toward_the_keel_run_inwards_and_courses_toward_the_deck_outwards() {
    // Seen from outside with the bow to the left: the frame f × n = h·e of the model.
    let job = boat()
        .panel("hull", Toward::Keel)
        .courses(3, 0.0, 4000.0)
        .panel("deck", Toward::Deck)
        .courses(3, 0.0, 4000.0)
        .build();
    let rows = groups(&drawn(&job, &complete(&job, Vec::new())), "row");
    let order: Vec<String> = rows
        .iter()
        .map(|r| {
            format!(
                "{} {} {}",
                r.fact("side"),
                r.fact("panel"),
                r.fact("course")
            )
        })
        .collect();
    let half = |side: &str| {
        let rows = ["deck 3", "deck 2", "deck 1", "hull 1", "hull 2", "hull 3"];
        rows.map(|row| format!("{side} {row}")).to_vec()
    };
    let mut starboard = half("starboard");
    starboard.reverse();
    assert_eq!(order, [half("port"), starboard].concat());
}

#[test]
fn every_row_begins_with_its_side_in_letter_and_shape() {
    let (job, plan) = small_boat();
    let svg = drawn(&job, &plan);
    let rows = groups(&svg, "row");
    let marks = groups(&svg, "mark");
    let sides = |side| {
        let of_side = move |mark: &&Group| mark.fact("side") == side;
        marks.iter().filter(of_side).collect::<Vec<_>>()
    };
    assert_eq!(
        rows.len(),
        7,
        "three courses on both sides, and the one between"
    );
    // One more of each in the legend.
    let (port, starboard, centre) = (sides("port"), sides("starboard"), sides("centre"));
    assert_eq!((port.len(), starboard.len(), centre.len()), (4, 4, 2));
    let corners = |mark: &&Group| mark.outlines.first().map_or(0, Vec::len);
    assert!(
        port.iter()
            .all(|m| m.words[0].text == "P" && corners(m) == 4)
    );
    assert!(
        starboard
            .iter()
            .all(|m| m.words[0].text == "S" && corners(m) == 3)
    );
    assert!(
        centre
            .iter()
            .all(|m| m.words[0].text == "C" && m.circles == 1)
    );
}

#[test]
fn the_ruler_speaks_the_unit_of_the_job() {
    let (mut job, plan) = small_boat();
    let figures = |job: &Job| {
        let ruler = groups(&drawn(job, &plan), "ruler").remove(0);
        ruler.words.into_iter().map(|w| w.text).collect::<Vec<_>>()
    };
    let metric = figures(&job);
    assert_eq!(metric[..3], ["0", "200", "400"]);
    assert_eq!(metric.last().unwrap(), "mm from the bow");
    job.unit = Unit::Inch;
    let inches = figures(&job);
    assert_eq!(inches[..3], ["0", "12", "24"]);
    assert_eq!(inches.last().unwrap(), "in from the bow");
}

#[test]
fn the_sheet_is_a3_and_grows_with_three_hundred_courses() {
    let size = |svg: &str| {
        let start = svg.find("viewBox=\"0 0 ").unwrap() + 13;
        svg[start..].split('"').next().unwrap().to_owned()
    };
    let (job, plan) = small_boat();
    assert_eq!(size(&drawn(&job, &plan)), "420 297");
    let many = boat()
        .panel("hull", Toward::Keel)
        .courses(300, 0.0, 4000.0)
        .build();
    let plan = complete(&many, Vec::new());
    let svg = drawn(&many, &plan);
    assert_eq!(groups(&svg, "row").len(), 600);
    // Rows of 3.2 mm at the least.
    let height: f64 = size(&svg).split(' ').nth(1).unwrap().parse().unwrap();
    assert!(height > 600.0 * 3.2);
    let legend = &groups(&svg, "legend")[0];
    assert!(legend.words.iter().all(|w| w.at.1 < height));
}

#[test]
fn a_course_without_wood_is_an_empty_outline_marked_open_on_both_sides() {
    let (job, plan) = small_boat();
    let svg = drawn(&job, &plan);
    let open = groups(&svg, "open");
    let sides: Vec<(&str, &str)> = open
        .iter()
        .map(|o| (o.fact("course"), o.fact("side")))
        .collect();
    assert_eq!(sides, [("3", "port"), ("3", "starboard")]);
    assert!(open.iter().all(|o| o.words[0].text == "open"));
    svg.says("1 course open");
}

#[test]
fn the_picture_in_the_readme_shows_every_course_of_the_demo() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let job = twinstrake::job::read(&root.join("demo-stock")).unwrap().job;
    let svg = std::fs::read_to_string(root.join("docs/demo-planking.svg")).unwrap();
    let row = |g: &Group| ["panel", "course", "side"].map(|name| g.fact(name).to_owned());
    let shown: BTreeSet<[String; 3]> = groups(&svg, "piece").iter().map(row).collect();
    let mut asked = BTreeSet::new();
    for (_, course) in job.hull.courses() {
        for side in course.sides() {
            asked.insert([
                job.hull.panel(course.panel).name.clone(),
                course.number.to_string(),
                side.name().to_owned(),
            ]);
        }
    }
    assert_eq!(shown, asked);
}
