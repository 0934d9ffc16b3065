//! The demo job from end to end.

use crate::folder::Folder;
use crate::says::Says;
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
    ran.stdout
        .begins("The plan keeps every rule.\nIt covers all 31 courses.\n");
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
                // Slices before a colon stay as they are.
                let (slices, stretch) = match stretch.split_once(':') {
                    Some((slices, stretch)) => (format!("{slices}: "), stretch),
                    None => (String::new(), stretch),
                };
                let ends: Vec<String> = stretch.split('-').map(|end| inches(end.trim())).collect();
                slices + &ends.join("-")
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

/// Nothing that a job in inches is told, prints or draws is in millimetres or metres, and its tables fit a narrow
/// terminal.
fn nothing_metric(folder: &Folder) {
    let metric = |text: &str| {
        let bare = |word: &str| {
            word.trim_matches(|c: char| !c.is_ascii_alphanumeric())
                .to_owned()
        };
        let words: Vec<String> = text.split_whitespace().map(bare).collect();
        let told = words.windows(2).find(|two| {
            let figure = two[0].parse::<f64>().is_ok();
            figure && ["mm", "cm", "m", "metres"].contains(&two[1].as_str())
        });
        told.map(|two| two.join(" "))
    };
    for (command, options) in [
        ("courses", vec!["--offsets"]),
        ("need", vec!["--board", "12ftx8in"]),
        ("mill", vec![]),
        ("check", vec![]),
        ("status", vec![]),
        ("labels", vec![]),
        ("sheets", vec![]),
        ("pictures", vec![]),
        ("swap", vec!["topside 3", "topside 5"]),
    ] {
        let ran = folder.run(command, &options);
        for text in [&ran.stdout, &ran.stderr] {
            assert_eq!(metric(text), None, "{command}: {text}");
        }
        if ["courses", "need", "mill"].contains(&command) {
            let rows = ran.stdout.lines().filter(|line| line.contains("  "));
            for row in rows.filter(|row| row.matches("  ").count() > 3) {
                assert!(row.len() <= 80, "{command}: {row}");
            }
        }
        if command == "need" {
            ran.says("\n 12ftx8in ");
            ran.says(" 16' to 18' ");
        }
    }
    for picture in [
        "planking.svg",
        "wood.svg",
        "seams.svg",
        "lines.svg",
        "report.html",
    ] {
        let text = folder.read(&format!("out/{picture}"));
        // Words between tags; the paper's own size and styles are in millimetres.
        let parts = text.split('>').filter_map(|part| part.split('<').next());
        let words: Vec<&str> = parts.filter(|part| !part.contains('{')).collect();
        assert_eq!(metric(&words.join(" ")), None, "{picture}");
    }
    // Places to cut as a rule shows them, beside the exact ones; they say the same to a hundred and twenty-eighth of an
    // inch.
    let order = folder.read("out/laying-order.csv");
    let mut rows = order.lines().map(|row| row.split(',').collect::<Vec<_>>());
    let header = rows.next().unwrap();
    let place = |name: &str| header.iter().position(|column| *column == name).unwrap();
    for row in rows {
        for cut in ["cut_from", "cut_to"] {
            let exact: f64 = row[place(cut)].parse().unwrap();
            let shown = row[place(&format!("{cut}_64"))];
            let shown = parse::length(shown, Unit::Inch, Decimal::Point).unwrap();
            assert!(
                (exact - shown.mm() / 25.4).abs() <= 1.0 / 128.0 + 1e-9,
                "{row:?}"
            );
        }
    }
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
    for (sheet, columns) in [
        ("boards.csv", &["length", "lengths", "defects"][..]),
        ("strips.csv", &["length"]),
    ] {
        imperial.write(sheet, &sheet_in_inches(&read(sheet), columns));
    }
    let plan = |folder: &Folder| {
        folder.lay().ended(0);
        folder.run("check", &[]).ended(0);
        let job = job::read(folder.path()).unwrap().job;
        if job.unit == Unit::Inch {
            nothing_metric(folder);
        }
        (job.unit, job::read_plan(folder.path(), &job).unwrap())
    };
    let ((mm, metric), (inch, imperial)) = (plan(&metric), plan(&imperial));
    assert_eq!((mm, inch), (Unit::Mm, Unit::Inch));
    assert!(metric == imperial, "to the nanometre");
}
