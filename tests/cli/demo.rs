//! The demo job from end to end.

use crate::folder::Folder;
use std::fs;
use std::path::Path;
use twinstrake::job;
use twinstrake::units::parse::{self, Decimal};
use twinstrake::units::{Length, Unit};

#[test]
fn the_demo_is_covered_passes_the_checker_and_comes_out_the_same_on_any_number_of_threads() {
    let folder = Folder::demo();
    folder
        .run("lay", &["--rounds", "1", "--threads", "1"])
        .ended(0);
    let first = folder.out();
    let names: Vec<&str> = first.keys().map(String::as_str).collect();
    let files = [
        "form-marks.csv",
        "laying-order.csv",
        "plan.json",
        "planking.svg",
        "report.html",
        "seams.svg",
        "wood.svg",
    ];
    assert_eq!(names, files);
    let ran = folder.run("check", &[]).ended(0);
    assert!(
        ran.stdout
            .starts_with("The plan keeps every rule.\nIt covers all 31 courses.\n")
    );
    assert_eq!(ran.stderr, "");

    folder
        .run("lay", &["--rounds", "1", "--threads", "2"])
        .ended(0);
    assert!(folder.out() == first, "the same seed gives the same bytes");
}

/// A length in mm, bare, as a bare number of inches.
fn inches(mm: &str) -> String {
    let length: Length = parse::length(mm, Unit::Mm, Decimal::Point).unwrap();
    Unit::Inch.exact(length)
}

/// The columns of a sheet that hold a length, in inches. No cell of the demo has a comma or a quote in it.
fn sheet_in_inches(sheet: &str, columns: &[&str]) -> String {
    let header: Vec<&str> = sheet.lines().next().unwrap().split(',').collect();
    let row = |line: &str| {
        let cells = line.split(',').zip(&header).map(|(cell, column)| {
            if cell.is_empty() || !columns.contains(column) {
                return cell.to_string();
            }
            let stretches = cell.split(';').map(|stretch| {
                let ends: Vec<String> = stretch.split('-').map(|end| inches(end.trim())).collect();
                ends.join("-")
            });
            stretches.collect::<Vec<_>>().join(";")
        });
        cells.collect::<Vec<_>>().join(",")
    };
    let rows = sheet.lines().skip(1).map(row);
    let mut text = format!("{}\n", header.join(","));
    rows.for_each(|row| text += &format!("{row}\n"));
    text
}

fn boat_in_inches(boat: &str) -> String {
    const LENGTHS: [&str; 11] = [
        "width",
        "thickness",
        "clear",
        "shortest_piece",
        "fitted_end",
        "free_end",
        "saw",
        "from",
        "to",
        "bow_end_to",
        "stern_end_from",
    ];
    let line = |line: &str| match line.split_once('=') {
        Some((key, value)) if LENGTHS.contains(&key.trim()) => {
            format!("{key}= {}\n", inches(value.trim()))
        }
        _ => format!("{line}\n").replace("\"mm\"", "\"in\""),
    };
    boat.lines().map(line).collect()
}

#[test]
fn a_boat_measured_in_inches_is_planked_like_the_same_boat_measured_in_millimetres() {
    let read = |file| fs::read_to_string(Path::new("demo-stock").join(file)).unwrap();
    let (metric, imperial) = (Folder::demo(), Folder::demo());
    imperial.write("boat.toml", &boat_in_inches(&read("boat.toml")));
    imperial.write(
        "forms.csv",
        &sheet_in_inches(&read("forms.csv"), &["from_bow", "topside", "bottom"]),
    );
    imperial.write(
        "offsets.csv",
        &sheet_in_inches(&read("offsets.csv"), &["half_breadth", "height"]),
    );
    imperial.write(
        "strips.csv",
        &sheet_in_inches(
            &read("strips.csv"),
            &["length", "width", "thickness", "defects"],
        ),
    );
    let plan = |folder: &Folder| {
        folder.lay().ended(0);
        folder.run("check", &[]).ended(0);
        let job = job::read(folder.path()).unwrap().job;
        (job.unit, job::read_plan(folder.path(), &job).unwrap())
    };
    let ((mm, metric), (inch, imperial)) = (plan(&metric), plan(&imperial));
    assert_eq!((mm, inch), (Unit::Mm, Unit::Inch));
    assert!(metric == imperial, "to the nanometre");
}
