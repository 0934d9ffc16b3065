//! The commands that start from the forms: `courses`, `need`, `fit`.

use crate::folder::{Folder, Ran, ran, twinstrake};
use std::collections::BTreeMap;
use std::fs;

/// Two panels' worth of girths that can be worked out on paper: five courses of 20 mm over the whole 3 m, and a sixth
/// that grows from nothing at the bow to 5 mm at the stern.
const FORMS: &str = "\
form,from_bow,side
1,0,100
2,1500,102.5
3,3000,105
";

fn forms() -> Folder {
    let folder = Folder::small();
    for file in ["courses.csv", "strips.csv"] {
        fs::remove_file(folder.path().join(file)).unwrap();
    }
    let boat = folder.read("boat.toml").replace("width = 19", "width = 20");
    folder.write("boat.toml", &boat);
    folder.write("forms.csv", FORMS);
    folder
}

#[test]
fn courses_are_told_and_written_so_that_a_person_may_edit_them() {
    let folder = forms();
    let ran = folder.run("courses", &[]).ended(0);
    assert!(
        ran.stdout
            .contains("side: 6 courses, 36.0 m of strip on both sides"),
        "{}",
        ran.stdout
    );
    let out: BTreeMap<String, String> = folder
        .out()
        .into_iter()
        .map(|(name, bytes)| (name, String::from_utf8(bytes).unwrap()))
        .collect();
    let names: Vec<&str> = out.keys().map(String::as_str).collect();
    assert_eq!(names, ["bevels.csv", "courses.csv", "ends.csv"]);
    assert_eq!(
        out["courses.csv"].lines().nth(6),
        Some("side,6,mirrored,0.000,3000.000,3000.000,fitted,fitted")
    );
    // The sixth grows by 5 mm over the whole length: a straight edge from tip to stern.
    assert_eq!(
        out["ends.csv"],
        "panel,course,end,meets,point,from_tip,width,loose\n\
         side,6,bow,fitted,1,0.0,0.0,3000.0\n\
         side,6,bow,fitted,2,3000.0,5.0,3000.0\n"
    );
    // Edited, they count: the sixth is left out.
    let edited: Vec<&str> = out["courses.csv"].lines().take(6).collect();
    folder.write("courses.csv", &(edited.join("\n") + "\n"));
    let ran = folder.run("need", &[]).ended(0);
    assert!(
        ran.stdout.contains("5, 30 m of strip on the boat"),
        "{}",
        ran.stdout
    );
}

#[test]
fn a_sliver_is_told_before_strips_are_milled_with_what_mends_it() {
    let ran = forms().run("courses", &[]).ended(0);
    // 105 mm are five courses of 21 mm, or six of 17.5; 5 mm of the sixth are there, 15 are not; and 20 + 5 mm shared
    // evenly are 12.5 each.
    for words in [
        "course 6 of panel \"side\", its last, is a sliver: 5.0 mm at its widest",
        "strips that cover 21.0 mm (one course fewer) or 17.5 mm (as many)",
        "moved by 5.0 mm toward the stop line (no sliver), or by 15.0 mm away from it",
        "courses 5 and 6 as a pair that tapers alike: each 12.5 mm at its widest",
    ] {
        assert!(ran.stdout.contains(words), "{words}\n{}", ran.stdout);
    }
}

#[test]
fn a_strip_width_that_was_advised_comes_out_even() {
    let folder = forms();
    for (width, count) in [("21", 5), ("17.5", 6)] {
        let boat = folder.read("boat.toml");
        let old = boat
            .lines()
            .find(|line| line.starts_with("width"))
            .unwrap()
            .to_owned();
        folder.write(
            "boat.toml",
            &boat.replace(&old, &format!("width = {width}")),
        );
        let ran = folder.run("courses", &[]).ended(0);
        assert!(
            ran.stdout.contains(&format!("side: {count} courses")),
            "{}",
            ran.stdout
        );
        assert!(!ran.stdout.contains("sliver"), "{}", ran.stdout);
    }
}

#[test]
fn need_counts_boards_by_hand_reckoning() {
    let folder = forms();
    // Six courses of 3 m, 25 mm at each end: six pairs of 3050 mm. A board 100 mm wide gives slices of 6 mm and a kerf
    // of 3 between: (100 + 3) / 9 = 11, that is five pairs; six pairs with 50 % more are nine, so two boards.
    let asked = ["--board", "3100x100", "--kerf", "3", "--margin", "50"];
    let ran = folder.run("need", &asked).ended(0);
    let row = ran
        .stdout
        .lines()
        .find(|line| line.contains("3100 mm x 100 mm"))
        .unwrap();
    let cells: Vec<&str> = row.split_whitespace().collect();
    assert_eq!(cells[5..], ["2", "11", "9", "0", "0"], "{row}");
    // Of boards of 1.6 m every course takes two: 2·1600 − 48 of scarf = 3152 ≥ 3050, one joint each.
    let ran = folder
        .run(
            "need",
            &["--board", "1600x100", "--kerf", "3", "--margin", "0"],
        )
        .ended(0);
    let row = ran
        .stdout
        .lines()
        .find(|line| line.contains("1600 mm x 100 mm"))
        .unwrap();
    let cells: Vec<&str> = row.split_whitespace().collect();
    assert_eq!(cells[5..], ["3", "11", "12", "0", "6"], "{row}");
    assert!(folder.out()["need.csv"].starts_with(b"what,size,count,unit\n"));
}

#[test]
fn sizes_that_are_none_are_answered_with_the_mend() {
    let folder = forms();
    for (board, words) in [
        ("4200", "has no x in it. Write its length and its width"),
        ("150x4200", "is wider than long. Write the length first"),
        ("0x0", "has no size"),
        ("4200x15o", "\"15o\""),
    ] {
        let ran = folder.run("need", &["--board", board]).ended(2);
        assert!(ran.stderr.contains(words), "{}", ran.stderr);
    }
    assert!(!folder.path().join("out").exists());
}

fn fit(typed: &[&str]) -> Ran {
    ran(twinstrake().args(typed))
}

/// Check values: common practice, no source: on one taper six passes moved a strip about 1/2 in, three passes about 1/4
/// in.
#[test]
fn six_passes_move_an_end_half_an_inch_where_three_moved_it_a_quarter() {
    let ran = fit(&["fit", "1/2in", "--moved", "1/4in", "--passes", "3"]).ended(0);
    assert!(ran.stdout.starts_with("6 more passes"), "{}", ran.stdout);
    // 19 mm over 240 mm: a shaving of 0.1 mm lets it forward by 240/190 mm; 6 mm take 4.75 of them.
    let ran = fit(&["fit", "6", "--taper", "19x240", "--shaving", "0.1"]).ended(0);
    assert!(ran.stdout.starts_with("5 more passes"), "{}", ran.stdout);
    let ran = fit(&["fit", "6"]).ended(2);
    assert!(
        ran.stderr.contains("--passes 3 --moved 6mm"),
        "{}",
        ran.stderr
    );
    let ran = fit(&["fit", "0"]).ended(2);
    assert!(ran.stderr.contains("more than 0"), "{}", ran.stderr);
}

/// The printed offsets of an American canoe of 1883, as feet, inches and eighths. Source: tests/reference.
fn canoe() -> (Folder, String) {
    let folder = forms();
    let boat = folder
        .read("boat.toml")
        .replace("units = \"mm\"", "units = \"in\"");
    let boat = boat
        .replace("width = 20", "width = \"3/4\"")
        .replace("thickness = 6", "thickness = \"1/4\"")
        .replace("clear = 300", "clear = 12")
        .replace("shortest_piece = 600", "shortest_piece = 24")
        .replace("fitted_end = 25", "fitted_end = 1")
        .replace("free_end = 50", "free_end = 2")
        .replace("saw = 3", "saw = 0.125");
    folder.write("boat.toml", &boat);
    let path = format!(
        "{}/tests/reference/offsets_american_cruising_canoe_1883.csv",
        env!("CARGO_MANIFEST_DIR")
    );
    let mut reader = csv::Reader::from_path(path).unwrap();
    let header = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let stations: Vec<usize> = (1..=13).collect();
    let row = |label: &str, column: &str| {
        let cells = stations.iter().map(|station| {
            let cell = |name: &str| {
                rows[*station]
                    .get(header.iter().position(|c| c == name).unwrap())
                    .unwrap()
            };
            let suspect = cell("suspect");
            let eighths = match !suspect.is_empty() && suspect == column {
                true => cell("suggested_eighths"),
                false => cell(&format!("{column}_eighths")),
            };
            let all: u32 = eighths.parse().unwrap_or(0);
            format!("{}-{}-{}", all / 96, all % 96 / 8, all % 8)
        });
        format!("{label},{}\n", cells.collect::<Vec<_>>().join(","))
    };
    let names: Vec<String> = stations.iter().map(usize::to_string).collect();
    let forms = names.iter().map(|name| format!("{name},{name} ft\n"));
    folder.write(
        "forms.csv",
        &("form,from_bow\n".to_owned() + &forms.collect::<String>()),
    );
    let table = format!("station,{}\nHeights\n", names.join(","))
        + &row("deck", "deck_height")
        + &row("rabbet", "rabbet_height")
        + "Half-breadths\n"
        + &row("deck", "deck_half_breadth")
        + &row("6 in", "half_breadth_at_6in")
        + &row("4 in", "half_breadth_at_4in")
        + &row("2 in", "half_breadth_at_2in");
    folder.write("offsets.csv", &table);
    (folder, table)
}

#[test]
fn a_table_of_offsets_is_read_as_it_is_printed_and_means_what_it_means_point_by_point() {
    let (folder, table) = canoe();
    // Nine rows typed, where the long form has one for each of 65 points and a header.
    assert_eq!(table.lines().count(), 9);
    let ran = folder.run("courses", &["--offsets"]).ended(0);
    assert!(!ran.stderr.contains("off its neighbours"), "{}", ran.stderr);
    assert!(
        ran.stdout.contains("65 points on 13 forms of side, in this order round the section:\ndeck, 6 in, 4 in, 2 in, rabbet."),
        "{}",
        ran.stdout
    );
    let long = folder.read("out/offsets.csv");
    assert_eq!(long.lines().count(), 66);
    // Station 3, 2 in above the base line: 4 1/2 in.
    assert!(long.contains("\n3,side,4,4.5000,2.0000,,2 in\n"), "{long}");
    let courses = folder.read("out/courses.csv");
    folder.write("offsets.csv", &long);
    folder.run("courses", &[]).ended(0);
    assert_eq!(folder.read("out/courses.csv"), courses);
}

#[test]
fn a_misprint_is_told_with_what_would_fit_and_ringed_in_the_drawing() {
    let (folder, table) = canoe();
    folder.run("courses", &[]).ended(0);
    assert!(!folder.read("out/lines.svg").contains("class=\"doubt\""));
    folder.write(
        "offsets.csv",
        &table.replace("0-2-3,0-4-4,", "0-2-3,0-0-4,"),
    );
    let ran = folder.run("courses", &[]).ended(0);
    assert!(
        ran.stderr.contains(
            "offsets.csv, line 9, 3: \"0-0-4\" at form 3, \"2 in\", is 3 7/8\" off its neighbours. 4 3/8\" would fit"
        ),
        "{}",
        ran.stderr
    );
    assert!(folder.read("out/lines.svg").contains("class=\"doubt\""));
    folder.write("offsets.csv", &table.replace("1-2-7", "2001-02-07"));
    let ran = folder.run("courses", &[]).ended(2);
    assert!(
        ran.stderr
            .contains("is a date that a spreadsheet made of an offset"),
        "{}",
        ran.stderr
    );
}

#[test]
fn a_table_in_the_wrong_unit_is_one_complaint() {
    let (folder, table) = canoe();
    let boat = folder
        .read("boat.toml")
        .replace("units = \"in\"", "units = \"mm\"");
    folder.write(
        "boat.toml",
        &boat.replace("\"3/4\"", "19").replace("\"1/4\"", "6"),
    );
    let fractions = |cell: &str| {
        let parts: Vec<u32> = cell
            .split('-')
            .filter_map(|part| part.parse().ok())
            .collect();
        match parts[..] {
            [feet, inches, eighths] => format!("{} {eighths}/8", 12 * feet + inches),
            _ => cell.to_owned(),
        }
    };
    let rows = table
        .lines()
        .map(|row| row.split(',').map(fractions).collect::<Vec<_>>().join(","));
    folder.write("offsets.csv", &rows.collect::<Vec<_>>().join("\n"));
    let ran = folder.run("courses", &[]).ended(2);
    assert_eq!(
        ran.stderr.matches("offsets.csv").count(),
        1,
        "{}",
        ran.stderr
    );
    assert!(
        ran.stderr.contains("the table is in inches"),
        "{}",
        ran.stderr
    );
}

#[test]
fn where_courses_are_written_by_hand_there_is_nothing_to_work_out() {
    let ran = Folder::small().run("courses", &[]).ended(0);
    assert!(
        ran.stdout.contains("There is nothing to work out"),
        "{}",
        ran.stdout
    );
}
